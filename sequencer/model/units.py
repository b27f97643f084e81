"""The units that figures are written in: symbol, exact factor to SI, and what people type.

Factors are exact fractions by definition: the international inch (0.0254 m), the avoirdupois
pound (0.45359237 kg) and standard gravity (9.80665 m/s²), from NIST Special Publication 811
(2008), appendix B.8. `tests/outside` compares every one with a units library.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: SI value = `factor` × (number + `offset`); `library_name` is for checking it."""

    symbol: str
    quantity: str
    factor: Fraction
    library_name: str
    offset: Fraction = Fraction(0)


_INCH = Fraction("0.0254")
_FOOT = 12 * _INCH
_GRAVITY = Fraction("9.80665")
_POUND = Fraction("0.45359237")
_LBF = _POUND * _GRAVITY

# What may stand between the two halves of a torque unit, besides nothing at all.
_JOINS = ("·", "*", ".", "-", " ")


def _both_ways(first: str, second: str) -> Iterator[str]:
    """Spell `first` times `second` with every join, either half first (names split by spaces)."""
    for one, two in product(first.split(), second.split()):
        for join in (*_JOINS, ""):
            yield f"{one}{join}{two}"
            yield f"{two}{join}{one}"


def _one_way(first: str, second: str) -> Iterator[str]:
    for one, two in product(first.split(), second.split()):
        for join in (*_JOINS, ""):
            yield f"{one}{join}{two}"


# Each row: symbol, quantity, factor, name in the units library, accepted spellings.
_Row = tuple[str, str, Fraction, str, "Iterable[str]"]
_POUNDS_FORCE = "lbf lb lbs"
_ROWS: tuple[_Row, ...] = (
    # Torque. `mN` would be a millinewton, so the metric ones have one order only.
    (
        "N·m",
        "torque",
        Fraction(1),
        "newton * meter",
        (*_one_way("N", "m"), *_one_way("newton Newton", "metre metres meter meters")),
    ),
    ("N·mm", "torque", Fraction(1, 1000), "newton * millimeter", _one_way("N", "mm")),
    ("N·cm", "torque", Fraction(1, 100), "newton * centimeter", _one_way("N", "cm")),
    ("daN·m", "torque", Fraction(10), "decanewton * meter", _one_way("daN", "m")),
    ("kN·m", "torque", Fraction(1000), "kilonewton * meter", _one_way("kN", "m")),
    (
        "ft·lbf",
        "torque",
        _FOOT * _LBF,
        "foot * force_pound",
        (
            *_both_ways("ft", _POUNDS_FORCE),
            *_both_ways("foot feet", "pound pounds"),
        ),
    ),
    (
        "in·lbf",
        "torque",
        _INCH * _LBF,
        "inch * force_pound",
        (
            *_both_ways("in", _POUNDS_FORCE),
            *_both_ways("inch inches", "pound pounds"),
        ),
    ),
    (
        "in·ozf",
        "torque",
        _INCH * _LBF / 16,
        "inch * force_ounce",
        _both_ways("in", "ozf oz"),
    ),
    ("kgf·m", "torque", _GRAVITY, "kilogram_force * meter", _both_ways("m", "kgf kg kp")),
    (
        "kgf·cm",
        "torque",
        _GRAVITY / 100,
        "kilogram_force * centimeter",
        _both_ways("cm", "kgf kg kp"),
    ),
    # Length.
    ("m", "length", Fraction(1), "meter", ("metre", "metres", "meter", "meters")),
    ("cm", "length", Fraction(1, 100), "centimeter", ()),
    ("mm", "length", Fraction(1, 1000), "millimeter", ("㎜", "millimetre", "millimetres")),
    ("µm", "length", Fraction(1, 1_000_000), "micrometer", ("um", "micron", "microns")),
    ("in", "length", _INCH, "inch", ('"', "inch", "inches", "''")),
    ("ft", "length", _FOOT, "foot", ("'", "foot", "feet")),
    ("thou", "length", _INCH / 1000, "thou", ("mil", "mils")),
    # Mass.
    ("kg", "mass", Fraction(1), "kilogram", ("kilogram", "kilograms")),
    ("g", "mass", Fraction(1, 1000), "gram", ("gram", "grams")),
    ("t", "mass", Fraction(1000), "metric_ton", ("tonne", "tonnes")),
    ("lb", "mass", _POUND, "pound", ("lbs", "pound", "pounds")),
    ("oz", "mass", _POUND / 16, "ounce", ("ounce", "ounces")),
    # Force.
    ("N", "force", Fraction(1), "newton", ("newton", "newtons")),
    ("kN", "force", Fraction(1000), "kilonewton", ()),
    ("lbf", "force", _LBF, "force_pound", ()),
    ("kgf", "force", _GRAVITY, "kilogram_force", ("kp",)),
    ("ozf", "force", _LBF / 16, "force_ounce", ()),
    # Pressure.
    ("Pa", "pressure", Fraction(1), "pascal", ()),
    ("kPa", "pressure", Fraction(1000), "kilopascal", ()),
    ("MPa", "pressure", Fraction(1_000_000), "megapascal", ()),
    ("bar", "pressure", Fraction(100_000), "bar", ()),
    ("mbar", "pressure", Fraction(100), "millibar", ()),
    ("psi", "pressure", _LBF / _INCH**2, "psi", ()),
    ("ksi", "pressure", 1000 * _LBF / _INCH**2, "ksi", ()),
    # Time.
    ("s", "time", Fraction(1), "second", ("sec", "secs", "second", "seconds")),
    ("min", "time", Fraction(60), "minute", ("mins", "minute", "minutes")),
    ("h", "time", Fraction(3600), "hour", ("hr", "hrs", "hour", "hours")),
    ("d", "time", Fraction(86_400), "day", ("day", "days")),
    ("week", "time", Fraction(604_800), "week", ("weeks", "wk", "wks")),
    # Angle, in degrees inside: SI's radian is not an exact fraction of a turn.
    ("°", "angle", Fraction(1), "degree", ("deg", "degs", "degree", "degrees")),
    ("turn", "angle", Fraction(360), "turn", ("turns", "rev", "revs")),
    # Temperature, absolute.
    (
        "°C",
        "temperature",
        Fraction(1),
        "degree_Celsius",
        ("C", "degC", "deg C", "degrees C", "℃"),
    ),
    (
        "°F",
        "temperature",
        Fraction(5, 9),
        "degree_Fahrenheit",
        ("F", "degF", "deg F", "degrees F", "℉"),
    ),
    ("K", "temperature", Fraction(1), "kelvin", ()),
    # The rest of what is measured at a bench.
    ("rpm", "rotation", Fraction(1), "revolutions_per_minute", ("r/min", "1/min")),
    ("ml", "volume", Fraction(1, 1_000_000), "milliliter", ("mL", "cc", "cm³", "cm3")),
    ("l", "volume", Fraction(1, 1000), "liter", ("L", "litre", "litres", "liter", "liters")),
    ("V", "voltage", Fraction(1), "volt", ()),
    ("mV", "voltage", Fraction(1, 1000), "millivolt", ()),
    ("A", "current", Fraction(1), "ampere", ()),
    ("mA", "current", Fraction(1, 1000), "milliampere", ()),
    ("Ω", "resistance", Fraction(1), "ohm", ("ohm", "ohms")),
    ("kΩ", "resistance", Fraction(1000), "kiloohm", ("kohm", "kohms")),
    ("MΩ", "resistance", Fraction(1_000_000), "megaohm", ("Mohm", "Mohms")),
    ("%", "ratio", Fraction(1, 100), "percent", ("percent",)),
    ("", "number", Fraction(1), "dimensionless", ()),
)
_OFFSETS = {"°C": Fraction("273.15"), "°F": Fraction("459.67")}


def _table() -> dict[str, dict[str, Unit]]:
    table: dict[str, dict[str, Unit]] = {}
    for symbol, quantity, factor, library_name, spellings in _ROWS:
        unit = Unit(symbol, quantity, factor, library_name, _OFFSETS.get(symbol, Fraction(0)))
        of_quantity = table.setdefault(quantity, {})
        for spelling in (symbol, *spellings):
            known = of_quantity.setdefault(spelling, unit)
            if known is not unit:
                raise ValueError(f"{spelling!r} stands for {known.symbol} and for {symbol}")
    return table


UNITS: dict[str, dict[str, Unit]] = _table()
"""For each quantity, every accepted spelling and the unit it stands for."""


def unit_for(symbol: str) -> Unit:
    """Return the unit printed as `symbol`.

    Raises
    ------
    KeyError
        If no unit is printed so.
    """
    for spellings in UNITS.values():
        if symbol in spellings and spellings[symbol].symbol == symbol:
            return spellings[symbol]
    raise KeyError(symbol)
