"""Fasteners that bottom, hold by too little, or stick out into something."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sequencer.trade.basics import Unknown
from sequencer.trade.joint_length import (
    Engagement,
    EngagementRule,
    Stack,
    beyond_nut,
    engagement,
    in_blind_hole,
    into_space_behind,
)

ENDS = [("30", "clear"), ("36", "near the bottom"), ("40", "touches"), ("40.1", "bottoms out")]


@pytest.mark.parametrize(("length", "end"), ENDS)
def test_end_of_a_screw_in_a_blind_hole(length: str, end: str) -> None:
    hole = in_blind_hole(Stack(Fraction(length), 25), 15, keep_off_mm=5)
    assert hole.end == end
    assert hole.room_mm == 40 - Fraction(length)


def test_decimals_do_not_blur_a_touch() -> None:
    """0.1 + 0.2 is 0.3 here: lengths are exact."""
    hole = in_blind_hole(Stack(Fraction("0.3"), Fraction("0.1")), Fraction("0.2"))
    assert hole.end == "touches"


def test_engaged_length_ends_at_the_bottom_and_never_below_nothing() -> None:
    assert in_blind_hole(Stack(50, 25), 15).engaged_mm == 15
    assert in_blind_hole(Stack(20, 25), 15).engaged_mm == 0


def test_engagement_goes_by_the_tapped_material() -> None:
    for into, short in (("steel", False), ("aluminium", True)):
        found = engagement(10, 8, into)
        assert isinstance(found, Engagement)
        assert found.short == short


def test_own_rule_wins_and_keeps_its_source() -> None:
    found = engagement(Fraction("12.5"), 8, "aluminium", EngagementRule(Fraction(3, 2), "sheet 7"))
    assert isinstance(found, Engagement)
    assert not found.short
    assert found.rule.source == "sheet 7"


def test_material_without_a_rule_is_unknown() -> None:
    assert isinstance(engagement(10, 8, "cheese"), Unknown)


def test_nut_must_be_filled() -> None:
    full = beyond_nut(Stack(40, 28), Fraction("8.4"), Fraction("1.5"))
    assert full.shows_mm == Fraction("3.6")
    assert not full.short
    assert beyond_nut(Stack(36, 28), Fraction("8.4"), Fraction("1.5")).short


def test_washers_left_out_let_the_screw_in_further() -> None:
    stack = Stack(40, 25, Fraction("2.5"))
    assert stack.without_washers().past_grip_mm - stack.past_grip_mm == Fraction("2.5")


@pytest.mark.parametrize(("length", "over"), [(45, 13), (30, -2), (32, 0)])
def test_space_behind_is_reached_into_by_what_is_left(length: int, over: int) -> None:
    assert into_space_behind(Stack(length, 22), 10) == over
