"""Wrench adapters against the worked examples of military manuals and others."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sequencer.trade.adapters import Adapter, true_torque, wrench_setting

SECONDARY = ", as quoted in a secondary source"
# Torque, wrench length, adapter, printed setting, tolerance, source.
IN_LINE = [
    ("300", "10", "4", 214, 0.5, "US Army TM 1-1500-204-23-9 fig 8-16"),
    ("100", "12", "6", 66.7, 0.05, "US Navy training course 14315"),
    ("40", "12", "4", 30, 0, "US Army TM 9-2350-277-40&P"),
    ("19", "22", "3", 17, 0.5, "US Army TM 5-3805-274-13&P, rounded to whole ft·lbf"),
    ("135", "10", "1.5", 117.39, 0.005, "an aircraft maintenance manual" + SECONDARY),
    ("135", "10", "-1.5", 158.82, 0.005, "the same, pointing back"),
    ("30", "1", "0.25", 24, 0, "a light-aircraft maintenance manual" + SECONDARY),
    ("20", "14", "3", 16.5, 0.05, "a workshop manual" + SECONDARY),
]


@pytest.mark.parametrize(
    ("torque", "length", "adapter", "printed", "tolerance", "source"),
    IN_LINE,
    ids=[case[-1] for case in IN_LINE],
)
def test_setting_is_the_printed_one(
    torque: str, length: str, adapter: str, printed: float, tolerance: float, source: str
) -> None:
    assert source
    arm = (Fraction(length), Adapter(Fraction(adapter)))
    setting = wrench_setting(Fraction(torque), *arm)
    assert float(setting) == pytest.approx(printed, abs=tolerance)
    assert true_torque(setting, *arm) == Fraction(torque)


def test_true_torque_of_a_setting() -> None:
    """US Army TM 9-254, figure 4-5: 60 in·lbf, 12 in wrench, 2 in adapter, 70 in·lbf applied."""
    assert true_torque(60, 12, Adapter(2)) == 70


@pytest.mark.parametrize("adapter", ["1", "6", "11.99"])
def test_square_adapter_needs_no_correction(adapter: str) -> None:
    """US Army TM 9-2350-277-20-2; US Navy training course 14315."""
    assert wrench_setting(77, 12, Adapter(Fraction(adapter), 90)) == 77
