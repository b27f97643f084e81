"""Read figures as people type them: a number, a range or a tolerance, and one unit.

The text never reaches an expression parser: the grammar below knows plain numbers and the
spellings of `units`, and refuses the rest. Numbers are exact fractions; the text stays as typed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.numerals import PLAIN_NUMBER, AmountError, Cursor, decimal, plain_text
from sequencer.model.spellings import same_unit, unit_here, unit_named, unit_to_end

if TYPE_CHECKING:
    from sequencer.model.units import Unit

__all__ = [
    "Amount",
    "AmountError",
    "converted",
    "plain_text",
    "read_amount",
    "to_si",
    "unit_named",
]


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure: `low` to `high` in `unit` (None where that end is open), and the text as typed.

    `nominal` is the figure aimed at where one was typed (a plain number or the middle of a ±);
    `places` is how many decimals were typed, which tells the resolution meant.
    """

    text: str
    unit: Unit
    low: Fraction | None
    high: Fraction | None
    nominal: Fraction | None = None
    places: int = 0

    @property
    def quantity(self) -> str:
        """The quantity measured, such as ``"torque"``."""
        return self.unit.quantity

    @property
    def value(self) -> Fraction:
        """The one figure to use where only one serves: the nominal, else the middle or the end.

        Examples
        --------
        >>> read_amount("55 to 60 N·m", ("torque",)).value
        Fraction(115, 2)
        """
        if self.nominal is not None:
            return self.nominal
        ends = [end for end in (self.low, self.high) if end is not None]
        return sum(ends, Fraction(0)) / len(ends)

    @property
    def si(self) -> float:
        """`value` in SI base units (degrees for angles, kelvin for temperatures)."""
        return float(to_si(self.value, self.unit))


def to_si(value: Fraction, unit: Unit) -> Fraction:
    """Return the number in SI units, exactly."""
    return (value + unit.offset) * unit.factor


def converted(value: Fraction, unit: Unit, other: Unit) -> Fraction:
    """Return the number in another unit of the same quantity, exactly.

    Raises
    ------
    ValueError
        If the units measure different quantities.
    """
    if unit.quantity != other.quantity:
        raise ValueError(f"{unit.symbol} is a {unit.quantity}, {other.symbol} a {other.quantity}")
    return to_si(value, unit) / other.factor - other.offset


_LONGEST = 200

_AT_MOST = re.compile(
    r"(?:at most|up to|not more than|no more than|max\.?|maximum)\s+|(?:≤|<=)\s*", re.IGNORECASE
)
_AT_LEAST = re.compile(
    r"(?:at least|not less than|no less than|min\.?|minimum)\s+|(?:≥|>=)\s*", re.IGNORECASE
)
_MOST_AFTER = re.compile(r"\s*(?:max\.?|maximum)\s*$", re.IGNORECASE)
_LEAST_AFTER = re.compile(r"\s*(?:min\.?|minimum)\s*$", re.IGNORECASE)
_TO = re.compile(r"\s*(?:\bto\b|\.\.\.?|…|-)\s*", re.IGNORECASE)
_PLUS_MINUS = re.compile(r"\s*(?:±|\+\s?/\s?-|\+-)\s*")
_PERCENT = re.compile(r"\s*%\s*")
_STRICT = re.compile(r"[<>]")
_UNEQUAL = re.compile(
    rf"\s*(?:\+\s?(?P<up>{PLAIN_NUMBER})\s*/?\s*-\s?(?P<down>{PLAIN_NUMBER})"
    rf"|-\s?(?P<first_down>{PLAIN_NUMBER})\s*/?\s*\+\s?(?P<then_up>{PLAIN_NUMBER}))\s*"
)


def read_amount(text: str, quantities: tuple[str, ...], *, limits: bool = True) -> Amount:
    """Read a figure of one of the quantities.

    Parameters
    ----------
    text : str
        As typed: ``12.5 mm``, ``7 1/4 in``, ``55 to 60 N·m``, ``150 N·m ± 5 %``,
        ``10 mm +0.05/-0.02``, ``at most 0.05 mm``, ``1 h 30 min``.
    quantities : tuple of str
        Names in `units.UNITS`, such as ``("torque",)``; where a spelling serves several, the
        first wins.
    limits : bool
        Whether ranges and one-sided limits are allowed, or only one figure.

    Returns
    -------
    Amount
        With `low` ≤ `high` wherever both are there.

    Raises
    ------
    AmountError
        If the text is anything else; it says what, where in the text, and what to type.

    Examples
    --------
    >>> amount = read_amount("150 N·m ± 5 %", ("torque",))
    >>> float(amount.low), float(amount.high), amount.unit.symbol
    (142.5, 157.5, 'N·m')
    >>> read_amount("12 Nmm", ("torque",)).si
    0.012
    """
    if len(text) > _LONGEST:
        raise AmountError("a figure of over 200 characters", "shorten it, and put words in `note`")
    cursor = Cursor(text)
    amount = _read_one_sided(text, cursor, quantities) or _read_two_sided(text, cursor, quantities)
    if not limits and (amount.low != amount.high or amount.low is None):
        raise AmountError(
            f"`{text.strip()}` is a range where one figure belongs", "give the one figure to use"
        )
    return amount


def _read_one_sided(text: str, cursor: Cursor, quantities: tuple[str, ...]) -> Amount | None:
    for pattern, is_upper in ((_AT_MOST, True), (_AT_LEAST, False)):
        if cursor.take(pattern):
            number, places = cursor.signed()
            unit = unit_to_end(cursor, quantities)
            low, high = (None, number) if is_upper else (number, None)
            return Amount(text, unit, low, high, None, places)
    return None


@dataclass(frozen=True, slots=True)
class _First:
    """The number that a figure begins with, its typed decimals, and the unit behind it, if any."""

    value: Fraction
    places: int
    unit: Unit | None


def _read_two_sided(text: str, cursor: Cursor, quantities: tuple[str, ...]) -> Amount:
    """Read a plain figure, a range or a tolerance; the cursor stands before its first number."""
    _refuse_unclear(text, cursor, quantities)
    for read in (_tolerance, _deviation):  # from nothing: ``±0.05 mm``
        amount = read(text, cursor, quantities, _First(Fraction(0), 0, None))
        if amount is not None:
            return amount
    value, places = cursor.signed()
    first = _First(value, places, unit_here(cursor, quantities))
    for read_on in (_tolerance, _deviation, _limit_after, _range):
        amount = read_on(text, cursor, quantities, first)
        if amount is not None:
            return amount
    if first.unit is not None and first.unit.quantity == "time":
        value = _longer_time(cursor, value, first.unit)
    unit = same_unit(cursor, quantities, first.unit)
    return Amount(text, unit, value, value, value, places)


def _refuse_unclear(text: str, cursor: Cursor, quantities: tuple[str, ...]) -> None:
    if cursor.take(_STRICT):
        what = "`<` and `>` leave open whether the figure itself is good"
        raise AmountError(what, "write `at most` or `at least`", cursor.at - 1, 1)
    if "time" in quantities and ":" in text:
        raise AmountError(
            f"`{text.strip()}` could be a time of day or a length of time",
            "write a length of time with its unit, such as `12 min 30 s`",
        )


def _tolerance(
    text: str, cursor: Cursor, quantities: tuple[str, ...], first: _First
) -> Amount | None:
    """Read ``± 5 N·m`` or ``± 5 %`` behind a figure."""
    if not cursor.take(_PLUS_MINUS):
        return None
    tolerance, places = cursor.number()
    if first.value and cursor.take(_PERCENT):
        tolerance, places = abs(first.value) * tolerance / 100, first.places
    unit = same_unit(cursor, quantities, first.unit)
    low, high = first.value - tolerance, first.value + tolerance
    return Amount(text, unit, low, high, first.value, max(first.places, places))


def _deviation(
    text: str, cursor: Cursor, quantities: tuple[str, ...], first: _First
) -> Amount | None:
    """Read ``+0.05/-0.02`` behind a figure, whichever of the two comes first."""
    found = cursor.take(_UNEQUAL)
    if not found:
        return None
    up, down = ("up", "down") if found["up"] else ("then_up", "first_down")
    above, more_places = decimal(found[up], found.start(up))
    below, most_places = decimal(found[down], found.start(down))
    unit = same_unit(cursor, quantities, first.unit)
    places = max(first.places, more_places, most_places)
    return Amount(text, unit, first.value - below, first.value + above, first.value, places)


def _limit_after(
    text: str, cursor: Cursor, _quantities: tuple[str, ...], first: _First
) -> Amount | None:
    """Read ``max`` or ``min`` behind a figure with its unit."""
    if first.unit is None:
        return None
    if cursor.take(_MOST_AFTER):
        return Amount(text, first.unit, None, first.value, None, first.places)
    if cursor.take(_LEAST_AFTER):
        return Amount(text, first.unit, first.value, None, None, first.places)
    return None


def _range(text: str, cursor: Cursor, quantities: tuple[str, ...], first: _First) -> Amount | None:
    """Read ``to 60 N·m`` behind a figure."""
    if not cursor.take(_TO):
        return None
    second, places = cursor.signed()
    unit = same_unit(cursor, quantities, first.unit)
    if second < first.value:
        what = f"`{text.strip()}` runs from the larger figure to the smaller"
        raise AmountError(what, "write the smaller figure first")
    return Amount(text, unit, first.value, second, None, max(first.places, places))


def _longer_time(cursor: Cursor, first: Fraction, unit: Unit) -> Fraction:
    """Add the smaller pieces of a time such as `1 h 30 min`, in the unit of the first piece."""
    last = unit
    while cursor.text[cursor.at :].strip():
        start = cursor.skip_spaces()
        more, _ = cursor.number()
        smaller = unit_here(cursor, ("time",))
        if smaller is None or smaller.factor >= last.factor:
            raise AmountError(
                f"`{cursor.text.strip()}` is not a length of time",
                "write it like `1 h 30 min`",
                start,
                len(cursor.text) - start,
            )
        first += converted(more, smaller, unit)
        last = smaller
    return first
