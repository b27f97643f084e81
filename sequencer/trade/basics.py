"""What the trade's functions share: bands, answers that nobody knows, and exact figures."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.quantities import converted
from sequencer.model.units import unit_for

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount

Number: TypeAlias = Fraction | int
"""An exact figure; lengths that decide about touching or fitting are never floats."""


class TradeError(ValueError):
    """Something typed that the trade's tables or rules cannot use.

    `what` says what is wrong, `fix` what to type instead; both are for the person at the bench.
    """

    def __init__(self, what: str, fix: str) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix


@dataclass(frozen=True, slots=True)
class Unknown:
    """No answer, and in words why not: a cross-check that is off says so."""

    words: str


@dataclass(frozen=True, slots=True)
class Band:
    """From `low` to `high`, in the unit that the function returning it states."""

    low: float
    high: float

    def scaled(self, factor: float) -> Band:
        """Return the band times a factor that is not negative."""
        return Band(self.low * factor, self.high * factor)

    def holds(self, value: float) -> bool:
        """Tell whether the value lies in the band, its ends included."""
        return self.low <= value <= self.high


def in_unit(amount: Amount, symbol: str) -> Fraction:
    """Return the one figure of an amount in the unit printed as `symbol`, exactly.

    Raises
    ------
    ValueError
        If the unit measures another quantity.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> in_unit(read_amount("0.5 in", ("length",)), "mm")
    Fraction(127, 10)
    """
    return converted(amount.value, amount.unit, unit_for(symbol))


def ends_in(amount: Amount, symbol: str) -> tuple[Fraction | None, Fraction | None]:
    """Return both ends of an amount in the unit printed as `symbol`; an open end stays None.

    Raises
    ------
    ValueError
        If the unit measures another quantity.
    """
    unit = unit_for(symbol)
    low = None if amount.low is None else converted(amount.low, amount.unit, unit)
    high = None if amount.high is None else converted(amount.high, amount.unit, unit)
    return low, high


def plain_number(value: Number) -> str:
    """Return the shortest decimal text of an exact figure, to six decimals at most.

    Examples
    --------
    >>> plain_number(Fraction(5, 4)), plain_number(12), plain_number(Fraction(1, 3))
    ('1.25', '12', '0.333333')
    """
    text = f"{float(value):.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
