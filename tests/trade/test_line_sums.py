"""Widths added up along a line as a model writes it."""

from __future__ import annotations

import pytest

from sequencer.trade.basics import Unknown
from sequencer.trade.line_sums import sum_of_widths
from sequencer.trade.stack import StackUp
from tests.reading.models import model


def summed(*places: str) -> StackUp | Unknown:
    text = """
        assembly: spindle
        parts: {shaft: Shaft, ring: Ring, gear: Gear}
        lines: {row: {shaft: shaft, ends: {left: open, right: shut}, order: [%s]}}
        steps: {fit: {do: All on., fits: [shaft, ring, gear]}}
        """
    return sum_of_widths(model(text % ", ".join(places)).lines[0])


def test_tolerances_add_up_in_the_worst_case_and_by_squares() -> None:
    """3 and 4 hundredths: 7 in the worst case, 5 by squares."""
    total = summed("{part: ring, width: 12 ± 0.03 mm}", "{part: gear, width: 28 ± 0.04 mm}")
    assert isinstance(total, StackUp)
    assert float(total.middle) == 0.040
    assert total.worst.low is not None
    assert total.likely.high is not None
    assert float(total.worst.low) * 1000 == pytest.approx(39.93)
    assert float(total.likely.high) * 1000 == pytest.approx(40.05)


def test_a_shoulder_counts_and_a_size_without_a_tolerance_is_exact() -> None:
    total = summed("{shoulder: 30 mm, width: 5 mm}", "{part: gear, width: 28 mm}")
    assert isinstance(total, StackUp)
    assert total.worst.low == total.worst.high == total.middle
    assert float(total.middle) == 0.033


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("{part: ring}", "`ring` of line `row` has no width"),
        ("{shoulder: 30 mm}", "a shoulder of line `row` has no width"),
        ("{part: ring, width: at most 3 mm}", "the width of `ring` is open at one end"),
    ],
)
def test_a_width_that_is_missing_or_open_is_named(place: str, words: str) -> None:
    assert summed(place, "{part: gear, width: 28 mm}") == Unknown(words)
