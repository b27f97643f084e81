"""Sums along a line of parts: worst case and root-sum-square."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.trade.measuring import Limits

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.quantities import Amount
    from sequencer.trade.basics import Number

ASSUMED = "each size varies by itself, about the middle of its band"
"""What the root-sum-square takes for granted, and what the worst case does not."""


@dataclass(frozen=True, slots=True)
class StackUp:
    """A sum of sizes in metres: the middle, the worst case, and by root-sum-square."""

    middle: Fraction
    worst: Limits
    likely: Limits


def stack_up(sizes: Iterable[tuple[Number, Amount]]) -> StackUp:
    """Return the sum of sizes along a line, each with its share.

    The worst case has every size at its own worst end. Root-sum-square adds half the tolerance
    bands as squares about the middle of each: what is likely if the sizes are independent, each
    centred in its band.

    Parameters
    ----------
    sizes : iterable of (Fraction or int, Amount)
        How far the sum moves for a move of one, such as +1 or −1, and a length with both ends.

    Raises
    ------
    ValueError
        If a size is not a length, or is open at an end.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> housing, bearing = (read_amount(t, ("length",)) for t in ("20 mm ± 0.1", "15 mm ± 0.1"))
    >>> total = stack_up([(1, housing), (-1, bearing)])
    >>> float(total.worst.low * 1000), float(total.worst.high * 1000)
    (4.8, 5.2)
    """
    middle, half, squares = Fraction(0), Fraction(0), Fraction(0)
    for share, amount in sizes:
        if amount.quantity != "length":
            raise ValueError("a line is made of lengths, each with its share")
        if amount.low is None or amount.high is None:
            raise ValueError(f"{amount.text!r} is open at one end")
        low, high = to_si(amount.low, amount.unit), to_si(amount.high, amount.unit)
        by = Fraction(share)
        middle += by * (low + high) / 2
        off = abs(by) * (high - low) / 2
        half += off
        squares += off**2
    likely = min(half, _root(squares))
    return StackUp(
        middle, Limits(middle - half, middle + half), Limits(middle - likely, middle + likely)
    )


def _root(square: Fraction) -> Fraction:
    """Return the square root, exactly where it is a fraction."""
    over, under = math.isqrt(square.numerator), math.isqrt(square.denominator)
    exact = Fraction(over, under)
    return exact if exact**2 == square else Fraction(math.sqrt(square))
