"""Drag of self-locking nuts and castle nuts against published rules."""

from __future__ import annotations

import pytest

from sequencer.trade.basics import Band
from sequencer.trade.joint_length import STAND_OUT_PITCHES, Stack, beyond_nut
from sequencer.trade.locking import band_to_reach, drag_of, torque_making_preload
from sequencer.trade.threads import read_thread
from tests.outside.tables import INCH_MM, INCH_POUND_NM, Row, each_row


@each_row("locking_torque", "thread")
def test_drag_is_as_printed(row: Row) -> None:
    drag = drag_of(read_thread(row["thread"]))
    assert drag is not None
    assert drag.most_nm == pytest.approx(float(row["most_locking"]) * INCH_POUND_NM)
    if row["least_breakaway"]:
        least = float(row["least_breakaway"]) * INCH_POUND_NM
        assert drag.least_breakaway_nm == pytest.approx(least)
    else:
        assert drag.least_breakaway_nm is None


def test_torque_above_running_torque() -> None:
    """NASA-STD-5020B, A.2, equations 27 and 28: 60 ± 3 in·lbf above running makes 63 and 57."""
    reading = band_to_reach(Band(57, 63), 8, "added")
    assert (reading.low - 8, reading.high - 8) == (57, 63)
    assert torque_making_preload(reading, 8, 8) == Band(57, 63)


def test_torque_that_includes_the_running_torque_makes_less_preload() -> None:
    """NASA-STD-5020B, equations 29 and 30."""
    assert torque_making_preload(Band(57, 63), 10, 4) == Band(47, 59)


@each_row("thread_stand_out", "threads_per_inch")
def test_two_pitches_stand_out_is_the_printed_figure(row: Row) -> None:
    """The table rounds two pitches to a thousandth of an inch."""
    pitch_mm = INCH_MM / float(row["threads_per_inch"])
    assert STAND_OUT_PITCHES["MSFC-STD-486B"] * pitch_mm / INCH_MM == pytest.approx(
        float(row["least_in"]), abs=0.00075
    )


def test_stand_out_rules_differ_by_document() -> None:
    """FAA AC 43.13-1B, 7-37: one thread; MSFC-STD-486B and NASA-STD-5020B, 4.7.4: two pitches."""
    stack, nut, pitch = Stack(40, 30), 8, 2
    assert not beyond_nut(stack, nut, pitch, "FAA AC 43.13-1B").short
    assert beyond_nut(stack, nut, pitch, "MSFC-STD-486B").short
    assert beyond_nut(stack, nut, pitch, "NASA-STD-5020B").least_mm == 4
