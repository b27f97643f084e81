"""Heating and chilling against worked examples."""

from __future__ import annotations

import pytest

from sequencer.trade.fits import fit
from sequencer.trade.heating import (
    BEARING_LIMIT_C,
    bolt_heating_temperature,
    rise_needed,
)


def test_bolt_heating_of_the_handbook() -> None:
    """MIL-HDBK-60, 6.3.2: 40 000 psi, 30e6 psi, 6.2e-6 per °F from 70 °F: 285 °F."""
    assert bolt_heating_temperature(40_000, 30e6, 6.2e-6, 70) == pytest.approx(285, abs=0.5)


def test_hub_on_an_inch_shaft() -> None:
    """1.000 in, 0.0010 + 0.0020 in, 12.8e-6 per °F: 234 °F rise, from a secondary source."""
    rise_f = rise_needed(0.0010, 0.0020, 12.8e-6, 1.000)
    assert rise_f == pytest.approx(234, abs=0.5)
    assert 70 + rise_f == pytest.approx(304, abs=0.5)


def test_ring_over_a_tube() -> None:
    """A textbook exercise: 438 on 440 mm, 0.5 mm extra, 23e-6 per K; its answer is computed."""
    assert rise_needed(2, 0.5, 23e-6, 438) == pytest.approx(248.2, abs=0.1)


def test_rod_cooled_into_a_hole() -> None:
    """A physics exercise: 2.0046 into 2.0000 cm, 12e-6 per K: 191.67 K on the hole's diameter."""
    assert rise_needed(0.0046, 0, 12e-6, 2.0000) == pytest.approx(191.67, abs=0.5)


# H7/s6, worst case and a thousandth of the diameter to slip, 11.5e-6 per K; computed.
@pytest.mark.parametrize(("size", "rise"), [(25, 254), (40, 215), (60, 191)])
def test_rise_for_a_drive_fit(size: int, rise: float) -> None:
    tight_mm = -float(fit("H7/s6", size).least_clearance_um) / 1000
    assert rise_needed(tight_mm, size / 1000, 11.5e-6, size) == pytest.approx(rise, abs=0.5)


def test_bearing_limit_is_the_published_one() -> None:
    """120 °C (250 °F) unless its maker says otherwise, as quoted in secondary sources."""
    assert BEARING_LIMIT_C == 120
    assert pytest.approx(250, abs=2) == BEARING_LIMIT_C * 1.8 + 32
