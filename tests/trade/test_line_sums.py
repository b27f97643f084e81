"""Widths added up along a line as a model writes it, and what checks come to by them."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import TradeError
from sequencer.trade.findings.every import findings
from sequencer.trade.line_sums import sum_of_widths
from sequencer.trade.spelt import spread
from tests.reading.models import model

if TYPE_CHECKING:
    from sequencer.trade.stack import StackUp

# Three places of one line, invented, and a room for them that is known or read.
TEXT = """
assembly: spindle
parts: {shaft: Shaft, ring: Ring, gear: Gear}
lines: {row: {shaft: shaft, ends: {left: open, right: shut}, order: [%s]}}
checks: {play: {readings: {room: %s, row: {line: row}}, compute: room - row, limit: %s}}
steps: {fit: {do: All on., fits: [shaft, ring, gear], check: play}}
"""
RING, GEAR = "{part: ring, width: 12 ± 0.03 mm}", "{part: gear, width: 28 ± 0.04 mm}"


def told(room: str, limit: str, *places: str) -> list[Problem]:
    return list(findings(model(TEXT % (", ".join(places or (RING, GEAR)), room, limit))))


def summed(*places: str) -> StackUp:
    return sum_of_widths(model(TEXT % (", ".join(places), "{is: 40.1 mm}", "0 to 1 mm")).lines[0])


def test_tolerances_add_up_in_the_worst_case_and_by_squares() -> None:
    """3 and 4 hundredths: 7 in the worst case, 5 by squares."""
    total = summed(RING, GEAR)
    assert (total.worst.low, total.worst.high) == (Fraction("0.03993"), Fraction("0.04007"))
    assert (total.likely.low, total.likely.high) == (Fraction("0.03995"), Fraction("0.04005"))


def test_a_shoulder_counts_and_a_size_without_a_tolerance_is_exact() -> None:
    total = summed("{shoulder: 30 mm, width: 5 mm}", "{part: gear, width: 28 mm}")
    assert total.worst.low == total.worst.high == total.middle == Fraction("0.033")


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("{part: ring}", "`ring` of line `row` has no width"),
        ("{shoulder: 30 mm}", "a shoulder of line `row` has no width"),
        ("{part: ring, width: at most 3 mm}", "the width of `ring` is open at one end"),
    ],
)
def test_a_width_that_is_missing_or_open_is_named(place: str, words: str) -> None:
    with pytest.raises(TradeError, match=re.escape(words)):
        summed(place, "{part: gear, width: 28 mm}")
    (found,) = told("{is: 40.1 mm}", "0.03 to 0.17 mm", place, GEAR)
    assert found.code == "formula"
    assert found.message == f"reading `row` of check `play` cannot be added up: {words}"
    assert found.path == ("checks", "play", "readings", "row", "line")


def test_a_sum_that_keeps_its_limit_in_the_worst_case_is_no_matter() -> None:
    assert told("{is: 40.1 mm}", "0.03 to 0.17 mm") == []


def test_a_sum_that_keeps_its_limit_only_by_squares_says_both() -> None:
    limit = "0.05 to 0.15 mm"
    assert told("{is: 40.1 mm}", limit) == [
        Problem(
            "tolerance-stack",
            "warning",
            "check `play` is met by root-sum-square, 0.05 to 0.15 mm, and not in the worst case, "
            "0.03 to 0.17 mm",
            step="fit",
            path=("checks", "play", "limit"),
            facts=(
                Fact(f"the limit is `{limit}`", ("checks", "play", "limit")),
                Fact("`room` is `40.1 mm`", ("checks", "play", "readings", "room", "is")),
                Fact(
                    "`row` is the widths along `row`", ("checks", "play", "readings", "row", "line")
                ),
            ),
            why="parts that are each good may not go together, and that shows when all are on; "
            "root-sum-square takes it that each size varies by itself, about the middle of its "
            "band",
            fix="mend the limit or a length, if one is wrong; else measure one of the lengths at "
            "the bench, and choose parts or shims by that",
        )
    ]


@pytest.mark.parametrize(
    ("limit", "message"),
    [
        (
            "0.08 to 0.12 mm",
            "check `play` may not be met: its lengths come to 0.03 to 0.17 mm in the worst case, "
            "and to 0.05 to 0.15 mm by root-sum-square",
        ),
        ("0.18 to 0.30 mm", "check `play` cannot be met: its lengths come to 0.03 to 0.17 mm"),
        ("at most 0.02 mm", "check `play` cannot be met: its lengths come to 0.03 to 0.17 mm"),
    ],
)
def test_a_sum_that_does_not_keep_its_limit_is_told(limit: str, message: str) -> None:
    assert [found.message for found in told("{is: 40.1 mm}", limit)] == [message]


def test_a_sum_of_which_one_length_is_read_is_judged_at_the_bench() -> None:
    assert told("Depth of the seat", "0.05 to 0.15 mm") == []


def test_every_width_counts_by_itself_for_the_squares() -> None:
    """A room of ± 12 hundredths: √(12² + 3² + 4²) is 13, where the line as one would give 13.9."""
    (found,) = told("{is: 40.1 ± 0.12 mm}", "-0.03 to 0.23 mm")
    assert found.message == (
        "check `play` is met by root-sum-square, −0.03 to 0.23 mm, and not in the worst case, "
        "−0.09 to 0.29 mm"
    )


@given(
    st.fractions(-50, 50, max_denominator=10**5),
    st.fractions(0, 1, max_denominator=10**5),
    st.sampled_from(["mm", "in"]),
)
def test_what_may_lie_anywhere_is_rounded_outwards_and_little(
    low: Fraction, width: Fraction, unit: str
) -> None:
    text = spread(low, low + width, unit).replace("−", "-").removesuffix(f" {unit}")
    if width == 0:
        return
    ends = [Fraction(end) for end in text.split(" to ")]
    assert ends[0] <= low
    assert low + width <= ends[1]
    assert ends[1] - ends[0] <= Fraction(11, 10) * width or width < Fraction(1, 10**9)
