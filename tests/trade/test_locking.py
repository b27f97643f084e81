"""Drag and castle nuts at the bench."""

from __future__ import annotations

import pytest

from sequencer.trade.basics import Band
from sequencer.trade.locking import (
    CASTLE_RULES,
    band_to_reach,
    castle_band,
    castle_step,
    drag_of,
)
from sequencer.trade.threads import read_thread


def test_negative_drag_is_refused() -> None:
    with pytest.raises(ValueError, match="how much"):
        band_to_reach(Band(50, 60), -1, "added")


def test_thread_outside_the_table_has_no_drag() -> None:
    assert drag_of(read_thread("M10")) is None


STEPS = [
    (45, False, "tighten on"),
    (45, True, "tighten on"),
    (52, False, "tighten on"),
    (52, True, "fit the pin"),
    (60, True, "fit the pin"),
    (60, False, "change the washer or the nut"),
    (61, True, "change the washer or the nut"),
]


@pytest.mark.parametrize(("reading", "lined_up", "step"), STEPS)
def test_castle_nut_is_tightened_on_or_changed_and_never_backed_off(
    reading: float,
    lined_up: bool,
    step: str,
) -> None:
    band = castle_band(Band(50, 60), CASTLE_RULES["FAA AC 43.13-1B"])
    assert castle_step(band, reading, lined_up=lined_up) == step
