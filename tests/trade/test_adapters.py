"""Adapters on torque wrenches."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.adapters import Adapter, correction_share, true_torque, wrench_setting
from sequencer.trade.basics import TradeError

LENGTHS = st.fractions(1, 50, max_denominator=100)
ANGLES = st.floats(0, 180, allow_nan=False)


@given(st.fractions(1, 1000, max_denominator=10), LENGTHS, LENGTHS, ANGLES)
def test_setting_and_true_torque_round_trip(
    torque: Fraction, wrench: Fraction, extra: Fraction, angle: float
) -> None:
    arm = (wrench + extra, Adapter(extra, angle))  # always longer than it reaches back
    assert true_torque(wrench_setting(torque, *arm), *arm) == torque


@given(LENGTHS, ANGLES)
def test_setting_rises_from_in_line_to_pointing_back(extra: Fraction, angle: float) -> None:
    wrench = 2 * extra
    setting = wrench_setting(100, wrench, Adapter(extra, angle))
    assert wrench_setting(100, wrench, Adapter(extra)) <= setting
    assert setting <= wrench_setting(100, wrench, Adapter(extra, 180))


def test_negative_length_is_the_same_as_pointing_back() -> None:
    assert wrench_setting(90, 18, Adapter(-6)) == wrench_setting(90, 18, Adapter(6, 180))


@pytest.mark.parametrize("angle", [90, -90, 270, 450])
def test_square_adapter_changes_nothing_whichever_side(angle: float) -> None:
    assert wrench_setting(77, 10, Adapter(5, angle)) == 77
    assert correction_share(10, Adapter(5, angle)) == 0


@pytest.mark.parametrize(("wrench", "extra"), [(10, -10), (10, -11), (0, 5), (-3, 5)])
def test_adapter_that_reaches_back_to_the_grip_is_refused(wrench: int, extra: int) -> None:
    with pytest.raises(TradeError, match="reaches back"):
        wrench_setting(100, wrench, Adapter(extra))
