"""Readings judged against limits."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.measuring import (
    Limits,
    against_wear,
    coarseness,
    judge,
    judge_go_no_go,
    judge_typed,
    likely_slip,
    limits_of,
    resolution,
)
from tests.trade.figures_typed import angle, figure, length, torque

TYPED = [
    ("25.03 mm", "25.02 to 25.06 mm", "accept"),
    ("25.02 mm", "25.02 to 25.06 mm", "accept"),
    ("25.06 mm", "25.02 to 25.06 mm", "accept"),
    ("25.019 mm", "25.02 to 25.06 mm", "out low"),
    ("25.061 mm", "25.02 to 25.06 mm", "out high"),
    ("0.05 mm", "at most 0.05 mm", "accept"),
    ("0.06 mm", "at most 0.05 mm", "out high"),
    ("3 mm", "at least 3 mm", "accept"),
    ("2.9 mm", "at least 3 mm", "out low"),
    ("0.9848 in", "25.00 to 25.02 mm", "accept"),
    ("25.03 mm ± 0.005 mm", "25.02 to 25.06 mm", "accept"),
    ("25.03 mm ± 0.02 mm", "25.02 to 25.06 mm", "cannot be told"),
    ("25.10 mm ± 0.02 mm", "25.02 to 25.06 mm", "out high"),
    ("25 mm", "25.02 to 25.06 mm", "cannot be told"),
    ("27 mm", "25.02 to 25.06 mm", "out high"),
    ("0.4 N·m", "0.2 to 0.6 N·m", "accept"),
    ("9°", "8 to 12°", "accept"),
]


@pytest.mark.parametrize(("reading", "limit", "verdict"), TYPED)
def test_verdict_on_a_reading_as_typed(reading: str, limit: str, verdict: str) -> None:
    assert judge_typed(figure(reading), figure(limit)) == verdict


def test_division_wider_than_the_band_cannot_tell() -> None:
    limits = Limits(Fraction("0.100"), Fraction("0.120"))
    reading, division = Fraction("0.110"), Fraction("0.05")
    assert judge(reading, limits, division=Fraction("0.01")) == "accept"
    assert judge(reading, limits, division=division) == "cannot be told"
    assert judge(Fraction("0.200"), limits, division=division) == "out high"


@pytest.mark.parametrize(("reading", "limit"), [("5 N·m", "5 mm"), ("at most 5 mm", "4 to 6 mm")])
def test_reading_must_be_one_figure_of_the_same_quantity(reading: str, limit: str) -> None:
    with pytest.raises(ValueError, match=r"is not (compared|one figure)"):
        judge_typed(figure(reading), figure(limit))


FRACTIONS = st.fractions(-10, 10, max_denominator=1000)


@given(FRACTIONS, FRACTIONS, FRACTIONS, st.fractions(0, 2, max_denominator=100))
def test_verdict_holds_for_every_true_value_it_allows(
    reading: Fraction, one: Fraction, other: Fraction, spread: Fraction
) -> None:
    limits = Limits(min(one, other), max(one, other))
    verdict = judge(reading, limits, spread)
    could_be = [reading - spread, reading, reading + spread]
    inside = [limits.holds(value) for value in could_be]
    if verdict == "accept":
        assert all(inside)
    elif verdict == "cannot be told":
        assert any(inside) or min(could_be) < min(one, other) <= max(one, other) < max(could_be)
        assert not all(inside)
    else:
        assert not any(inside)


@given(FRACTIONS, FRACTIONS, FRACTIONS, st.fractions(0, 2, max_denominator=100))
def test_more_doubt_never_makes_a_verdict_surer(
    reading: Fraction, one: Fraction, other: Fraction, spread: Fraction
) -> None:
    limits = Limits(min(one, other), max(one, other))
    doubtful = judge(reading, limits, spread)
    if doubtful != "cannot be told":
        assert judge(reading, limits, spread / 2) == doubtful


COARSE = [
    ("0.01 mm", "19.95 to 20.05 mm", "fine"),
    ("0.02 mm", "19.95 to 20.05 mm", "coarse"),
    ("0.025 mm", "19.95 to 20.05 mm", "coarse"),
    ("0.05 mm", "19.95 to 20.05 mm", "too coarse"),
    ("0.01 mm", "at most 0.05 mm", "coarse"),
    ("0.01 mm", "at least 3 mm", None),
]


@pytest.mark.parametrize(("division", "limit", "verdict"), COARSE)
def test_gauge_is_fine_to_a_tenth_and_too_coarse_from_a_quarter(
    division: str, limit: str, verdict: str | None
) -> None:
    """Rule of ten, as quoted in secondary sources: 20 ± 0.05 mm asks for 0.01 mm."""
    step = length(division)
    assert coarseness(step.unit.factor * step.value, limits_of(length(limit))) == verdict


def test_rule_of_ten_on_a_narrow_tolerance() -> None:
    """0.35 mm ± 0.01 mm, a band of 0.02, asks for 0.002 mm: as quoted in a secondary source."""
    limits = limits_of(length("0.35 mm ± 0.01 mm"))
    assert coarseness(Fraction("0.000002"), limits) == "fine"
    assert coarseness(Fraction("0.0000021"), limits) == "coarse"


def test_typed_decimals_tell_the_resolution() -> None:
    assert resolution(length("0.050 mm")) == Fraction("0.000001")
    assert resolution(length("0.05 mm")) == Fraction("0.00001")
    assert resolution(torque("12 N·m")) == 1
    assert resolution(angle("0.5°")) == Fraction(1, 10)


@pytest.mark.parametrize(
    ("go", "no_go", "verdict"),
    [(True, False, "accept"), (False, False, "out low"), (True, True, "out high")],
)
def test_go_and_no_go_gauges(go: bool, no_go: bool, verdict: str) -> None:
    assert judge_go_no_go(go_enters=go, no_go_enters=no_go) == verdict


def test_one_turn_of_the_thimble_explains_a_wild_reading() -> None:
    expected = limits_of(length("24.95 to 25.00 mm"))
    slip = likely_slip(Fraction("0.02548"), expected)
    assert slip is not None
    assert slip.meant_m == Fraction("0.02498")
    assert "0.5 mm" in slip.words
    assert likely_slip(Fraction("0.02497"), expected) is None
    assert likely_slip(Fraction("0.02570"), expected) is None


def test_worn_parts_do_not_grow() -> None:
    new = Limits(Fraction(25), Fraction("25.01"))
    assert against_wear(Fraction("25.02"), new, "smaller")
    assert not against_wear(Fraction("24.9"), new, "smaller")
    assert not against_wear(Fraction("25.02"), new, "smaller", Fraction("0.02"))
    assert against_wear(Fraction("24.99"), new, "larger")
