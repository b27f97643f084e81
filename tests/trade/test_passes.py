"""Tightening in rounds, and angles after a torque."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.units import unit_for
from sequencer.trade.passes import Pass, angle_total, passes_for
from sequencer.trade.wrench import Setting, Wrench, setting_for
from tests.trade.figures_typed import angle, torque


def _setting(text: str, division: str) -> Setting:
    wrench = Wrench(unit_for("N·m"), Fraction(0), Fraction(400), Fraction(division))
    return setting_for(torque(text), wrench)


def _values(passes: tuple[Pass, ...]) -> list[float | None]:
    return [None if step.value is None else float(step.value) for step in passes]


def test_passes_are_printed_in_what_the_wrench_shows() -> None:
    passes = passes_for(_setting("150 N·m ± 5 %", "2"))
    assert _values(passes) == [44, 90, 150, 150]
    assert [step.way for step in passes] == ["pattern", "pattern", "pattern", "round"]
    assert all(step.exact for step in passes)


def test_early_pass_without_a_mark_takes_the_next_lower_one() -> None:
    passes = passes_for(_setting("150 N·m ± 5 %", "25"))
    assert _values(passes) == [25, 75, 150, 150]
    assert [step.exact for step in passes] == [False, False, True, True]


def test_early_pass_that_would_repeat_has_no_setting() -> None:
    passes = passes_for(_setting("20 N·m", "10"))
    assert _values(passes) == [None, 10, 20, 20]


def test_unreadable_target_has_no_final_setting() -> None:
    passes = passes_for(_setting("55 to 59 N·m", "10"))
    assert passes[-1].value is None
    assert not passes[-1].exact


def test_low_pass_tells_that_it_is_low_on_the_scale() -> None:
    wrench = Wrench(unit_for("N·m"), Fraction(40), Fraction(200), Fraction(2))
    reaches = [step.reach for step in passes_for(setting_for(torque("100 N·m"), wrench))]
    assert reaches == ["below the scale", "in range", "in range", "in range"]


def test_full_pass_is_added_where_it_is_missing() -> None:
    half = (Fraction(1, 2),)
    assert [step.share for step in passes_for(_setting("50 N·m", "1"), half)] == [*half, 1, 1]


@pytest.mark.parametrize("shares", [("0.6", "0.3"), ("0", "1"), ("0.5", "1.1"), ("0.5", "0.5")])
def test_shares_must_rise_to_the_whole(shares: tuple[str, ...]) -> None:
    with pytest.raises(ValueError, match="rise"):
        passes_for(_setting("50 N·m", "1"), [Fraction(share) for share in shares])


@given(
    st.integers(1, 4000),
    st.integers(0, 20),
    st.fractions("1/10", 25, max_denominator=20),
    st.lists(st.integers(1, 99), max_size=4, unique=True).map(sorted),
)
def test_passes_rise_and_never_leave_the_band(
    tenths: int, per_cent: int, division: Fraction, shares: list[int]
) -> None:
    wrench = Wrench(unit_for("ft·lbf"), Fraction(0), Fraction(1000), division)
    setting = setting_for(torque(f"{tenths / 10} N·m ± {per_cent} %"), wrench)
    passes = passes_for(setting, [Fraction(share, 100) for share in shares])
    *early, last, around = passes
    values = [step.value for step in early if step.value is not None]
    assert values == sorted(set(values))
    assert all(value % division == 0 and value > 0 for value in values)
    for step in early:
        assert step.value is None or step.value <= setting.target.high * step.share
        assert not step.exact or (
            step.value is not None and step.value >= setting.target.low * step.share
        )
    assert last.value == around.value == setting.value
    if setting.value is not None:
        assert setting.target.low <= setting.value <= setting.target.high
        assert all(value < setting.value for value in values)


def test_angles_are_summed_by_the_names_of_their_passes() -> None:
    angles = {"first": angle("80 to 90°"), "second": angle("40 to 45°"), "third": angle("45°")}
    total = angle_total(angles, ["second", "third"], angle("at most 90°"))
    assert total.least_deg == 85
    assert total.most_deg == 90
    assert not total.may_exceed
    with pytest.raises(KeyError):
        angle_total(angles, ["fourth"], angle("90°"))


def test_open_angles_are_refused() -> None:
    with pytest.raises(ValueError, match="both ends"):
        angle_total({"turn": angle("at least 40°")}, ["turn"], angle("90°"))
