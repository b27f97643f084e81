"""Every entry of the two published torque tables."""

from __future__ import annotations

import pytest

from sequencer.trade.threads import read_thread
from sequencer.trade.torque_tables import BOLT_TORQUES, NUT_TORQUES, over_published
from tests.outside.tables import INCH_POUND_NM, Row, each_row, published


def _in_lbf(newton_metres: float) -> float:
    return round(newton_metres / INCH_POUND_NM, 9)


@each_row("nut_torques", "thread")
def test_nut_torques_are_as_printed(row: Row) -> None:
    thread = read_thread(row["thread"])
    entry = NUT_TORQUES[thread.short]
    assert (_in_lbf(entry.tension_nm.low), _in_lbf(entry.tension_nm.high)) == (
        float(row["tension_low"]),
        float(row["tension_high"]),
    )
    assert (_in_lbf(entry.shear_nm.low), _in_lbf(entry.shear_nm.high)) == (
        float(row["shear_low"]),
        float(row["shear_high"]),
    )
    assert _in_lbf(entry.most_tension_nm) == float(row["most_tension"])
    assert _in_lbf(entry.most_shear_nm) == float(row["most_shear"])
    over = over_published(thread, 2 * entry.most_tension_nm)
    assert over == pytest.approx(2)


@each_row("bolt_torques", "strength", "size")
def test_bolt_torques_are_as_printed(row: Row) -> None:
    """The table allows 15 % less and no more."""
    entry = BOLT_TORQUES[row["size"], row["strength"]]
    dry, lubricated = float(row["dry"]), float(row["lubricated"])
    assert _in_lbf(entry.dry_nm.high) == dry
    assert _in_lbf(entry.lubricated_nm.high) == lubricated
    assert _in_lbf(entry.dry_nm.low) == pytest.approx(0.85 * dry)
    assert _in_lbf(entry.lubricated_nm.low) == pytest.approx(0.85 * lubricated)


def test_no_entry_of_ours_is_missing_from_print() -> None:
    assert len(NUT_TORQUES) == len(published("nut_torques"))
    assert len(BOLT_TORQUES) == len(published("bolt_torques"))
