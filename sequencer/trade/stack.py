"""Sums along a line of parts: worst case and root-sum-square."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.trade.measuring import Limits

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True)
class StackUp:
    """A sum of sizes in metres: the middle, the worst case, and by root-sum-square."""

    middle: Fraction
    worst: Limits
    likely: Limits


def stack_up(sizes: Sequence[tuple[int, Amount]]) -> StackUp:
    """Return the sum of sizes along a line, each with its sign.

    The worst case has every size at its own worst end. Root-sum-square adds half the tolerance
    bands as squares about the middle of each: what is likely if the sizes are independent, each
    centred in its band.

    Parameters
    ----------
    sizes : sequence of (int, Amount)
        +1 or −1, and a length with both ends.

    Raises
    ------
    ValueError
        If a size is not a length, is open at an end, or its sign is not +1 or −1.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> housing, bearing = (read_amount(t, ("length",)) for t in ("20 mm ± 0.1", "15 mm ± 0.1"))
    >>> total = stack_up([(1, housing), (-1, bearing)])
    >>> float(total.worst.low * 1000), float(total.worst.high * 1000)
    (4.8, 5.2)
    """
    middle, half, squares = Fraction(0), Fraction(0), Fraction(0)
    for sign, amount in sizes:
        if amount.quantity != "length" or sign not in (1, -1):
            raise ValueError("a line is made of lengths, each with its sign")
        if amount.low is None or amount.high is None:
            raise ValueError(f"{amount.text!r} is open at one end")
        low, high = to_si(amount.low, amount.unit), to_si(amount.high, amount.unit)
        middle += sign * (low + high) / 2
        half += (high - low) / 2
        squares += ((high - low) / 2) ** 2
    likely = Fraction(math.sqrt(squares))
    return StackUp(
        middle, Limits(middle - half, middle + half), Limits(middle - likely, middle + likely)
    )
