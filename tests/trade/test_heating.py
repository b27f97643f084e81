"""Heating within what a part can bear."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.heating import (
    BEARING_LIMIT_C,
    STEEL_PER_K,
    ShrinkFit,
    growth,
    kelvin_rise,
    plan_heating,
    rise_needed,
)


def _fit(limit_c: float | None, chill_c: float | None = None) -> ShrinkFit:
    return ShrinkFit(
        bore_mm=60,
        shaft_mm=60.05,
        slip_mm=0.03,
        expansion_per_k=STEEL_PER_K,
        limit_c=limit_c,
        chill_c=chill_c,
    )


def test_heat_alone_gives_the_slip_where_nothing_limits_it() -> None:
    plan = plan_heating(_fit(None))
    assert plan.within_limit
    assert plan.reached
    assert plan.heat_to_c == plan.wanted_c
    assert plan.clearance_mm == pytest.approx(0.03)


def test_limit_is_never_passed() -> None:
    plan = plan_heating(_fit(BEARING_LIMIT_C))
    assert plan.wanted_c > BEARING_LIMIT_C
    assert plan.heat_to_c == BEARING_LIMIT_C
    assert not plan.within_limit
    assert not plan.reached
    assert plan.clearance_mm < 0.03


def test_chilling_the_shaft_makes_up_for_the_limit() -> None:
    plan = plan_heating(_fit(BEARING_LIMIT_C, chill_c=-60))
    assert plan.chill_to_c == -60
    assert plan.reached
    assert plan.clearance_mm > plan.clearance_hot_mm


def test_chilling_is_not_asked_for_where_heat_will_do() -> None:
    assert plan_heating(_fit(None, chill_c=-60)).chill_to_c is None


def test_loose_parts_need_no_heat() -> None:
    loose = ShrinkFit(bore_mm=60, shaft_mm=59.9, slip_mm=0.03, expansion_per_k=STEEL_PER_K)
    plan = plan_heating(loose)
    assert plan.rise_k == 0
    assert plan.reached


@given(st.floats(0.001, 1), st.floats(0, 0.5), st.floats(1e-6, 3e-5), st.floats(1, 500))
def test_rise_opens_the_bore_by_interference_and_slip(
    tight: float, slip: float, expansion: float, diameter: float
) -> None:
    rise = rise_needed(tight, slip, expansion, diameter)
    assert growth(expansion, diameter, rise) == pytest.approx(tight + slip)


def test_difference_of_temperature_is_no_temperature() -> None:
    assert kelvin_rise(180) == 100
    assert kelvin_rise(0) == 0
