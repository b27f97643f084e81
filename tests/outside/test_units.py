"""Every unit factor against a units library, and against the exact factors of the standards.

NIST Special Publication 811 (2008), appendix B.8 and B.9; the international inch and pound are
exact by the agreement of 1959, standard gravity by the third CGPM (1901).
"""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from sequencer.model.quantities import converted, unit_named
from sequencer.model.units import UNITS, Unit, unit_for

# What a figure of each quantity is in when it is converted to SI here.
BASES = {
    "torque": "newton * meter",
    "length": "meter",
    "mass": "kilogram",
    "force": "newton",
    "pressure": "pascal",
    "time": "second",
    "angle": "degree",
    "temperature": "kelvin",
    "rotation": "revolutions_per_minute",
    "volume": "meter ** 3",
    "voltage": "volt",
    "current": "ampere",
    "resistance": "ohm",
    "ratio": "dimensionless",
    "number": "dimensionless",
}

# Unit, SI unit, factor; exact (NIST SP 811, appendix B.8).
EXACT = [
    ("in", "m", "0.0254"),
    ("ft", "m", "0.3048"),
    ("lb", "kg", "0.45359237"),
    ("lbf", "N", "4.4482216152605"),
    ("kgf", "N", "9.80665"),
    ("ozf", "N", "0.27801385095378125"),
    ("in·lbf", "N·m", "0.1129848290276167"),
    ("ft·lbf", "N·m", "1.3558179483314004"),
    ("in·ozf", "N·m", "0.00706155181422604375"),
    ("kgf·cm", "N·m", "0.0980665"),
    ("kgf·m", "N·m", "9.80665"),
    ("ft·lbf", "kgf·m", "0.138254954376"),
    ("in·lbf", "kgf·cm", "1.1521246198"),
]

# Unit, other unit, factor to sixteen digits (the same source).
ROUNDED = [
    ("psi", "Pa", 6894.757293168361),
    ("ksi", "MPa", 6.894757293168361),
    ("N·m", "in·lbf", 8.850745791327184),
    ("N·m", "ft·lbf", 0.7375621492772654),
    ("N·m", "kgf·cm", 10.19716212977928),
]

ALL_UNITS = sorted(
    {unit for spellings in UNITS.values() for unit in spellings.values()},
    key=lambda unit: (unit.quantity, unit.symbol),
)


@pytest.fixture(scope="module")
def library() -> pint.UnitRegistry[Fraction]:
    return pint.UnitRegistry(non_int_type=Fraction)


def test_every_quantity_has_a_base() -> None:
    assert set(BASES) == set(UNITS)


@pytest.mark.parametrize("unit", ALL_UNITS, ids=lambda unit: f"{unit.quantity}-{unit.symbol}")
@pytest.mark.parametrize("number", [Fraction(1), Fraction(-40), Fraction("98.6")])
def test_the_library_converts_alike(
    library: pint.UnitRegistry[Fraction], unit: Unit, number: Fraction
) -> None:
    ours = (number + unit.offset) * unit.factor
    theirs = library.Quantity(number, unit.library_name).to(BASES[unit.quantity]).magnitude
    assert ours == theirs


@pytest.mark.parametrize(("symbol", "base", "factor"), EXACT)
def test_the_factor_is_the_exact_one(symbol: str, base: str, factor: str) -> None:
    assert converted(Fraction(1), unit_for(symbol), unit_for(base)) == Fraction(factor)


@pytest.mark.parametrize(("symbol", "other", "factor"), ROUNDED)
def test_the_factor_rounds_to_the_published_one(symbol: str, other: str, factor: float) -> None:
    ours = converted(Fraction(1), unit_for(symbol), unit_for(other))
    assert float(ours) == pytest.approx(factor, rel=1e-15)


# What people type for a torque, and the unit meant.
SPELLINGS = {
    "N·m": ["N·m", "N*m", "N.m", "Nm", "N-m", "N m", "N⋅m", "N∙m", "newton metres"],
    "N·mm": ["Nmm", "N·mm"],
    "N·cm": ["Ncm", "N-cm"],
    "kN·m": ["kNm", "kN·m"],
    "daN·m": ["daNm", "daN·m"],
    "ft·lbf": ["ft·lbf", "ft-lb", "ft-lbs", "lb-ft", "lb ft", "lbf-ft", "ft.lbs", "foot-pounds"],
    "in·lbf": ["in-lb", "in·lbf", "lb-in", "lb·in", "in lbs", "inch pounds"],
    "kgf·m": ["kgf·m", "mkg", "m-kg", "kg·m", "kp·m"],
    "kgf·cm": ["kgf·cm", "kgf-cm", "kgfcm", "cmkg", "kg-cm"],
    "in·ozf": ["oz-in", "in-oz", "ozf·in"],
}


@pytest.mark.parametrize(
    ("spelling", "symbol"),
    [(spelling, symbol) for symbol, spellings in SPELLINGS.items() for spelling in spellings],
)
def test_a_spelling_stands_for_its_unit(spelling: str, symbol: str) -> None:
    unit = unit_named(spelling, ("torque",))
    assert unit is not None
    assert unit.symbol == symbol


@pytest.mark.parametrize("spelling", ["nm", "NM", "mN", "lb", "lbs", "lbf", "Nmn", "m", "", "#"])
def test_what_is_no_torque_is_not_taken_for_one(spelling: str) -> None:
    assert unit_named(spelling, ("torque",)) is None


@pytest.mark.parametrize(
    ("one", "twin"),
    [("\u00b5m", "\u03bcm"), ("\u2126", "\u03a9"), ("\u00b0C", "\u00baC"), ("mm", "\u339c")],
)
def test_twin_letters_are_the_same_unit(one: str, twin: str) -> None:
    assert unit_named(one, UNITS) is unit_named(twin, UNITS) is not None


def test_a_symbol_stands_for_one_unit_only() -> None:
    symbols = [unit.symbol for unit in ALL_UNITS]
    assert len(symbols) == len(set(symbols))
    assert all(unit_for(unit.symbol) is unit for unit in ALL_UNITS)


def test_an_unknown_symbol_is_refused() -> None:
    with pytest.raises(KeyError):
        unit_for("furlong")
