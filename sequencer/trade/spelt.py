"""Exact figures in words that never say another side of a limit than the figure itself is on."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.trade.measuring import Limits

if TYPE_CHECKING:
    from sequencer.model.units import Unit
    from sequencer.trade.basics import Number

_FEWEST, _MOST = 3, 12
_OPEN = Limits(None, None)
_WIDER = Fraction(11, 10)  # how much wider a spread may become by rounding its ends outwards


def spelt(value: Number, unit: Unit | str, limits: Limits = _OPEN) -> str:
    """Return a figure with its unit: exactly where few decimals do, else rounded to the nearest.

    A rounded figure lies within the limits if, and only if, the figure itself does, and out of
    them on its own side.

    Parameters
    ----------
    value : Fraction or int
        The figure, in the unit.
    unit : Unit or str
        The unit, or its symbol.
    limits : Limits
        In the same unit.

    Examples
    --------
    >>> spelt(Fraction("-0.125"), "mm"), spelt(Fraction(1, 3), "in"), spelt(90, "°")
    ('−0.125 mm', '0.333 in', '90°')
    >>> spelt(Fraction("0.20004"), "mm"), spelt(Fraction("0.2000041"), "mm", Limits(None, 1))
    ('0.20004 mm', '0.200 mm')
    >>> spelt(Fraction("0.20000041"), "mm", Limits(Fraction("0.1"), Fraction("0.2")))
    '0.2000004 mm'
    """
    symbol = unit if isinstance(unit, str) else unit.symbol
    return f"{number(Fraction(value), limits)}{'' if symbol in {'', '°', '%'} else ' '}{symbol}"


def spread(low: Fraction, high: Fraction, unit: Unit | str) -> str:
    """Return what may lie anywhere from one figure to another, its ends rounded outwards.

    That is for what is uncertain, of which nothing may be left out.

    Examples
    --------
    >>> spread(Fraction("20.32"), Fraction("20.5"), "mm"), spread(Fraction(1, 3), Fraction(1), "in")
    ('20.32 to 20.50 mm', '0.3 to 1.0 in')
    """
    symbol = unit if isinstance(unit, str) else unit.symbol
    if low == high:
        return spelt(low, unit)
    places = _outward_places(low, high)
    scale = 10**places
    ends = (Fraction(floor(low * scale), scale), Fraction(ceil(high * scale), scale))
    return f"{' to '.join(decimal(end, places) for end in ends)} {symbol}".rstrip()


def _outward_places(low: Fraction, high: Fraction) -> int:
    for places in range(2 * _FEWEST):
        if _is_whole(low * 10**places) and _is_whole(high * 10**places):
            return places
    for places in range(_MOST):
        scale = 10**places
        if ceil(high * scale) - floor(low * scale) <= _WIDER * (high - low) * scale:
            return places
    return _MOST


def number(value: Fraction, limits: Limits = _OPEN) -> str:
    """Return the same without a unit."""
    exact = (places for places in range(2 * _FEWEST) if _is_whole(value * 10**places))
    places = next(exact, None)
    if places is not None:
        return decimal(value, places)
    for places in range(_places(value), _MOST):
        rounded = Fraction(floor(value * 10**places + Fraction(1, 2)), 10**places)
        if _side(rounded, limits) == _side(value, limits):
            return decimal(rounded, places)
    return decimal(value, _MOST)


def decimal(value: Fraction, places: int) -> str:
    """Return a number with so many decimals, rounded to the nearest, with a real minus sign."""
    digits = str(floor(abs(value) * 10**places + Fraction(1, 2))).rjust(places + 1, "0")
    whole, rest = digits[: len(digits) - places], digits[len(digits) - places :]
    sign = "−" if value < 0 and digits.strip("0") else ""
    return f"{sign}{whole}{'.' if rest else ''}{rest}"


def _is_whole(value: Fraction) -> bool:
    return value.denominator == 1


def _places(value: Fraction) -> int:
    """Return the decimals that show a value to three digits."""
    places = 0
    while abs(value) * 10**places < 10 ** (_FEWEST - 1) and places < 2 * _FEWEST:
        places += 1
    return places


def _side(value: Fraction, limits: Limits) -> int:
    if limits.low is not None and value < limits.low:
        return -1
    return 1 if limits.high is not None and value > limits.high else 0
