"""Sums along a line."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.stack import stack_up
from tests.trade.figures_typed import length, torque


def test_worst_case_adds_and_root_sum_square_adds_squares() -> None:
    total = stack_up([(1, length("60 mm ± 0.4 mm")), (-1, length("40 mm ± 0.3 mm"))])
    assert total.middle == Fraction("0.020")
    assert (total.worst.low, total.worst.high) == (Fraction("0.0193"), Fraction("0.0207"))
    assert total.likely.width == pytest.approx(0.001)


def test_unequal_tolerance_moves_the_middle() -> None:
    total = stack_up([(1, length("10 mm +0.2/-0.0")), (-1, length("4 mm"))])
    assert total.middle == Fraction("0.0061")
    assert total.worst.low == Fraction("0.006")


@given(
    st.lists(st.tuples(st.sampled_from([1, -1]), st.integers(0, 90), st.integers(0, 9)), max_size=8)
)
def test_likely_band_lies_inside_the_worst_case(sizes: list[tuple[int, int, int]]) -> None:
    line = [
        (sign, length(f"{size} mm ± {half} µm".replace(" mm", "000 µm")))
        for sign, size, half in sizes
    ]
    total = stack_up(line)
    assert total.worst.low is not None
    assert total.likely.low is not None
    assert float(total.worst.low) <= float(total.likely.low) + 1e-12
    assert total.middle == total.worst.middle


@pytest.mark.parametrize("size", [(1, torque("4 N·m")), (1, length("at most 4 mm"))])
def test_line_is_made_of_lengths_with_both_ends(size: tuple[int, object]) -> None:
    with pytest.raises(ValueError, match=r"line|open"):
        stack_up([size])  # type: ignore[list-item]  # the second of the pair is an Amount
