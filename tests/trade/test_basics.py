"""Bands, exact figures and conversions."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.quantities import converted
from sequencer.model.units import UNITS, Unit
from sequencer.trade.basics import Band, ends_in, in_unit, plain_number
from tests.trade.figures_typed import length, torque

TORQUES = st.sampled_from(sorted(set(UNITS["torque"].values()), key=lambda unit: unit.symbol))


@given(st.fractions(), TORQUES, TORQUES)
def test_conversion_there_and_back_is_exact(value: Fraction, one: Unit, other: Unit) -> None:
    there = converted(value, one, other)
    assert converted(there, other, one) == value


def test_open_end_stays_open() -> None:
    assert ends_in(length("at most 1 in"), "mm") == (None, Fraction("25.4"))
    assert in_unit(torque("1 N·m"), "N·cm") == 100


def test_other_quantity_is_not_converted() -> None:
    with pytest.raises(ValueError, match="torque"):
        in_unit(length("1 mm"), "N·m")


def test_band_holds_its_ends() -> None:
    band = Band(1, 2).scaled(3)
    assert band.holds(3)
    assert band.holds(6)
    assert not band.holds(6.1)


@given(st.integers(-(10**6), 10**6), st.integers(0, 4))
def test_plain_number_reads_back(whole: int, places: int) -> None:
    value = Fraction(whole, 10**places)
    assert Fraction(plain_number(value)) == value
