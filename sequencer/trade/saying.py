"""Exact figures in words: about three digits, and never outside the band that they belong to."""

from __future__ import annotations

from fractions import Fraction
from itertools import count
from math import ceil, floor
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.model.units import Unit
    from sequencer.trade.basics import Number

_DIGITS = 3
_MOST_DECIMALS = 4
_KEPT = Fraction(9, 10)  # how much of a band must be left
_HALF = Fraction(1, 2)


def in_words(value: Number | float, unit: Unit | str) -> str:
    """Return a figure with its unit, to about three digits.

    Examples
    --------
    >>> in_words(Fraction("8.8333"), "ft·lbf"), in_words(1760, "N"), in_words(90, "°")
    ('8.83 ft·lbf', '1760 N', '90°')
    """
    exact = Fraction(value)
    decimals = _decimals(exact)
    return _with_unit(Fraction(floor(exact * 10**decimals + _HALF), 10**decimals), unit)


def inside(value: Number, low: Number, high: Number, unit: Unit | str) -> str:
    """Return a figure with its unit, with as many digits as keep it from `low` to `high`.

    Without room between the ends, or outside them, it is written as `in_words` does.

    Examples
    --------
    >>> inside(Fraction(1500, 7), Fraction(214), Fraction("214.29"), "in·lbf")
    '214 in·lbf'
    >>> inside(Fraction("33.339"), Fraction("33.335"), Fraction("33.349"), "ft·lbf")
    '33.34 ft·lbf'
    """
    if not low <= value <= high or low == high:
        return in_words(value, unit)
    return _with_unit(rounded_inside(Fraction(value), Fraction(low), Fraction(high)), unit)


def as_marked(value: Fraction, low: Fraction, high: Fraction, unit: Unit | str) -> str:
    """Return a mark of a scale with its unit: exactly, or `inside` where its decimals go on.

    Examples
    --------
    >>> as_marked(Fraction("112.5"), Fraction(110), Fraction(115), "N·m")
    '112.5 N·m'
    """
    if (value * 10**_MOST_DECIMALS).denominator == 1:
        return _with_unit(value, unit)
    return inside(value, low, high, unit)


def rounded_inside(value: Fraction, low: Fraction, high: Fraction) -> Fraction:
    """Return the value with the fewest digits, from three on, that lies from low to high.

    `low` lies below `high`, and the value between them.
    """
    decimals = _decimals(value)
    while True:
        scale = 10**decimals
        at = value * scale
        for whole in (floor(at + _HALF), ceil(at), floor(at)):
            if low * scale <= whole <= high * scale:
                return Fraction(whole, scale)
        decimals += 1


def ends_inside(low: Number, high: Number, unit: Unit | str) -> tuple[str, str]:
    """Return both ends of a band, rounded towards each other with nine tenths of it left.

    Examples
    --------
    >>> ends_inside(Fraction("40.566"), Fraction("44.254"), "ft·lbf")
    ('40.6 ft·lbf', '44.2 ft·lbf')
    """
    least, most = Fraction(low), Fraction(high)
    decimals = _decimals(max(abs(least), abs(most)))
    while True:
        scale = 10**decimals
        up, down = Fraction(ceil(least * scale), scale), Fraction(floor(most * scale), scale)
        if least >= most or down - up >= _KEPT * (most - least):
            return _with_unit(up, unit), _with_unit(max(up, down), unit)
        decimals += 1


def _decimals(value: Fraction) -> int:
    """Return the decimals that show a value to three digits; none above a hundred."""
    size = abs(value)
    decimals = 0
    while size and size * 10**decimals < 10 ** (_DIGITS - 1) and decimals < 2 * _DIGITS:
        decimals += 1
    return decimals


def _with_unit(value: Fraction, unit: Unit | str) -> str:
    symbol = unit if isinstance(unit, str) else unit.symbol
    return f"{_decimal(value)}{'' if symbol in {'', '°', '%'} else ' '}{symbol}"


def _decimal(value: Fraction) -> str:
    """Return a number whose decimals end, with all of them."""
    decimals = next(places for places in count() if (value * 10**places).denominator == 1)
    digits = str(abs(int(value * 10**decimals))).rjust(decimals + 1, "0")
    whole, rest = digits[: len(digits) - decimals], digits[len(digits) - decimals :]
    return f"{'−' if value < 0 else ''}{whole}{'.' if rest else ''}{rest}"
