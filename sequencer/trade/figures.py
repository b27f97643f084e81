"""Whether a figure in several units, or figures of several sources, can say the same."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.quantities import Amount

# A whole number that ends in 0 or 5 may have been rounded to fives, but hardly by more than 2.5 %.
# Common practice, no source.
_ROUND_NUMBER = 5
_ROUND_SHARE = Fraction(25, 1000)
_HALF = Fraction(1, 2)


def half_step(value: Fraction, places: int) -> Fraction:
    """Return how far the true figure may be from the printed one, by the digits printed.

    Half a step of the last decimal; for a fraction, half of its denominator's step; for a whole
    number that ends in 0 or 5, two and a half, but at most 2.5 %.

    Examples
    --------
    >>> half_step(Fraction("12.5"), 1), half_step(Fraction(73), 0), half_step(Fraction(90), 0)
    (Fraction(1, 20), Fraction(1, 2), Fraction(9, 4))
    """
    if places:
        return Fraction(1, 2 * 10**places)
    if value.denominator != 1:
        return _HALF / value.denominator
    if value % _ROUND_NUMBER:
        return _HALF
    return max(_HALF, min(_HALF * _ROUND_NUMBER, abs(value) * _ROUND_SHARE))


_Reach = tuple[Fraction, Fraction]


def _reach(amount: Amount, end: Fraction | None) -> _Reach | None:
    """Return where one end may truly lie, in SI units; None for an open end."""
    if end is None:
        return None
    half = half_step(end, amount.places)
    return to_si(end - half, amount.unit), to_si(end + half, amount.unit)


def odd_ones_out(amounts: Sequence[Amount]) -> tuple[int, ...]:
    """Return which of several spellings of one figure do not say the same as the rest.

    Rounding is quiet: figures agree if their printed digits allow one true value, end by end. The
    odd ones are those outside the largest group that agrees; where two groups are equally large
    nobody can say which is wrong, and every figure outside what they share is returned.

    Parameters
    ----------
    amounts : sequence of Amount
        Figures of one quantity, such as ``12 N·m`` and ``106 in·lbf``.

    Returns
    -------
    tuple of int
        Indexes into `amounts`; none if all agree.

    Raises
    ------
    ValueError
        If the amounts measure different quantities.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> typed = ("12 N·m", "106 in-lb", "88 ft-lb")
    >>> odd_ones_out([read_amount(text, ("torque",)) for text in typed])
    (2,)
    """
    if len({amount.quantity for amount in amounts}) > 1:
        raise ValueError("figures of different quantities cannot be compared")
    lows = [_reach(amount, amount.low) for amount in amounts]
    highs = [_reach(amount, amount.high) for amount in amounts]
    groups = {
        _allowing(low, lows) & _allowing(high, highs)
        for low, high in product(dict.fromkeys(lows), dict.fromkeys(highs))
    }
    largest = max(map(len, groups), default=0)
    best = [group for group in groups if len(group) == largest]
    shared = frozenset.intersection(*best) if best else frozenset()
    return tuple(index for index in range(len(amounts)) if index not in shared)


def _allowing(anchor: _Reach | None, reaches: list[_Reach | None]) -> frozenset[int]:
    """Return which figures allow the least true value that `anchor` does."""
    if anchor is None:
        return frozenset(index for index, reach in enumerate(reaches) if reach is None)
    return frozenset(
        index
        for index, reach in enumerate(reaches)
        if reach is not None and reach[0] <= anchor[0] <= reach[1]
    )


def allow_one_value(amounts: Sequence[Amount]) -> bool:
    """Tell whether figures of one quantity allow a common value, by their printed digits.

    Unlike several spellings of one figure, they need not have the same ends: 81 N·m lies within
    55 to 60 ft·lbf.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> typed = ("55 to 60 ft-lb", "81 N·m", "65 ft-lb")
    >>> sheet, card, old = (read_amount(text, ("torque",)) for text in typed)
    >>> allow_one_value([sheet, card]), allow_one_value([sheet, old])
    (True, False)
    """
    lows = [reach[0] for a in amounts if (reach := _reach(a, a.low)) is not None]
    highs = [reach[1] for a in amounts if (reach := _reach(a, a.high)) is not None]
    return not lows or not highs or max(lows) <= min(highs)
