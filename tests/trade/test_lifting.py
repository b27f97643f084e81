"""Lifting by hand at the bench."""

from __future__ import annotations

import pytest

from sequencer.trade.lifting import Lift, multipliers, one_may_lift, recommended_limit


@pytest.mark.parametrize(
    ("mass", "heavy"), [(22.9, False), (23.0, False), (23.1, True), (60, True)]
)
def test_over_the_load_constant_is_too_heavy_for_one(mass: float, heavy: bool) -> None:
    assert one_may_lift(mass) == (not heavy)


def test_far_reach_and_low_height_lower_the_limit() -> None:
    limit = recommended_limit(Lift(reach=50, height=10))
    assert limit == pytest.approx(23 * 0.5 * (1 - 0.003 * 65))


def test_of_what_is_out_of_reach_nothing_should_be_lifted() -> None:
    assert recommended_limit(Lift(reach=80)) == 0


@pytest.mark.parametrize("lift", [Lift(reach=-1), Lift(height=-1), Lift(per_minute=-1)])
def test_negative_figures_are_refused(lift: Lift) -> None:
    with pytest.raises(ValueError, match="not negative"):
        multipliers(lift)
