"""Lifting by hand at the bench."""

from __future__ import annotations

import pytest

from sequencer.trade.lifting import LOAD_CONSTANT_KG, Lift, multipliers, too_heavy


@pytest.mark.parametrize(
    ("mass", "heavy"), [(22.9, False), (23.0, False), (23.1, True), (60, True)]
)
def test_over_the_load_constant_is_too_heavy_for_one(mass: float, heavy: bool) -> None:
    answer = too_heavy(mass)
    assert (answer is not None) == heavy
    if answer is not None:
        assert answer.limit_kg == LOAD_CONSTANT_KG


def test_far_reach_and_low_height_lower_the_limit() -> None:
    answer = too_heavy(12, Lift(reach=50, height=10))
    assert answer is not None
    assert answer.limit_kg == pytest.approx(23 * 0.5 * (1 - 0.003 * 65))
    assert answer.index == pytest.approx(12 / answer.limit_kg)


def test_load_out_of_reach_is_too_heavy_whatever_it_weighs() -> None:
    answer = too_heavy(0.5, Lift(reach=80))
    assert answer is not None
    assert answer.limit_kg == 0


def test_task_in_inches_is_not_compared_with_kilograms() -> None:
    with pytest.raises(ValueError, match="centimetres"):
        too_heavy(20, Lift(system="US"))


@pytest.mark.parametrize("lift", [Lift(reach=-1), Lift(height=-1), Lift(per_minute=-1)])
def test_negative_figures_are_refused(lift: Lift) -> None:
    with pytest.raises(ValueError, match="not negative"):
        multipliers(lift)
