"""Read figures as people type them: a number, a range or a tolerance, and one unit.

The text never reaches an expression parser: the grammar below knows plain numbers and the
spellings of `units`, and refuses the rest. Numbers are exact fractions; the text stays as typed.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.units import UNITS, Unit

if TYPE_CHECKING:
    from collections.abc import Iterable


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


class AmountError(ValueError):
    """Text that is not a figure of the quantity wanted.

    `what` says what is wrong, `fix` what to type; `start` and `width` are where in the text.
    """

    def __init__(self, what: str, fix: str, start: int = 0, width: int | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix
        self.start = start
        self.width = width


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


_DIGITS = r"[0-9]{1,3}(?:[ '’][0-9]{3})+(?![0-9])|[0-9]+"
_PLAIN = rf"(?:(?:{_DIGITS})(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{{1,3}})?"
_MIXED = r"(?:[0-9]+[ -])?[0-9]+\s?/\s?[0-9]+(?![0-9])"
_NUMBER = re.compile(rf"(?P<mixed>{_MIXED})|(?P<plain>{_PLAIN})")
_DOUBTFUL = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}(?![0-9.,])")
_SEVERAL_MARKS = re.compile(r"[0-9]+(?:[.,][0-9]+){2,}")
_LONGEST = 200
_LONGEST_UNIT = 20
_LARGEST_EXPONENT = 15

_SAME = str.maketrans(
    {
        "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u200a": " ", "\u202f": " ", "\u2002": " ",
        "\u2003": " ", "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-",
        "\u2014": "-", "\u22c5": "·", "\u2219": "·", "\u2022": "·", "\u03bc": "µ", "\u2126": "Ω",
        "\u03a9": "Ω", "\u201c": '"', "\u201d": '"', "\u2033": '"', "\u2018": "'", "\u2019": "'",
        "\u2032": "'", "\u00ba": "°", "\u2044": "/",
    }
)  # fmt: skip

_AT_MOST = re.compile(
    r"(?:at most|up to|not more than|no more than|max\.?|maximum)\s+|(?:≤|<=)\s*", re.IGNORECASE
)
_AT_LEAST = re.compile(
    r"(?:at least|not less than|no less than|min\.?|minimum)\s+|(?:≥|>=)\s*", re.IGNORECASE
)
_TO = re.compile(r"\s*(?:\bto\b|\.\.\.?|…|-)\s*", re.IGNORECASE)
_PLUS_MINUS = re.compile(r"\s*(?:±|\+\s?/\s?-|\+-)\s*")
_PERCENT = re.compile(r"\s*%\s*")
_STRICT = re.compile(r"[<>]")
_UNEQUAL = re.compile(rf"\s*\+\s?(?P<up>{_PLAIN})\s*/?\s*-\s?(?P<down>{_PLAIN})\s*")

_ASKED = {
    ("torque", "nm"): ("`nm` is a nanometre", "write `N·m` for newton metres"),
    ("torque", "NM"): ("`NM` is not a torque", "write `N·m` for newton metres"),
    ("torque", "lb"): (
        "`lb` alone is not a torque: foot-pounds and inch-pounds differ twelve times",
        "write `ft-lb` or `in-lb`, whichever the source means",
    ),
}
for _name in ("lbs", "pound", "pounds", "lbf", "#"):
    _ASKED["torque", _name] = _ASKED["torque", "lb"]


def plain_text(text: str) -> str:
    """Return the text with the many dashes, spaces, quotes and twin letters made one of each.

    The length stays the same, so that a place in the result is a place in what was typed.
    """
    return text.translate(_SAME)


class _Cursor:
    """The text still to be read; positions count in the text as typed."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.skip_spaces()

    def skip_spaces(self) -> int:
        rest = self.text[self.at :]
        self.at += len(rest) - len(rest.lstrip())
        return self.at

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        found = pattern.match(self.text, self.at)
        if found:
            self.at = found.end()
        return found

    def number(self) -> tuple[Fraction, int]:
        """Read a number without a sign; return it and its typed decimals."""
        doubtful = _DOUBTFUL.match(self.text, self.at)
        if doubtful:
            typed = doubtful.group()
            fix = f"write `{typed.replace(',', '')}` or `{typed.replace(',', '.')}`, as is meant"
            what = f"`{typed}` could be thousands or a decimal comma"
            raise AmountError(what, fix, self.at, len(typed))
        several = _SEVERAL_MARKS.match(self.text, self.at)
        if several:
            what = f"`{several.group()}` has more than one decimal mark"
            fix = "write the number with one decimal point and no other mark"
            raise AmountError(what, fix, self.at, len(several.group()))
        found = self.take(_NUMBER)
        if not found:
            whole = self.text.strip()
            what = f"`{whole}` has no number where one belongs" if whole else "a figure is missing"
            fix = "write a number and a unit, such as `12.5 mm`"
            raise AmountError(what, fix, min(self.at, max(len(self.text) - 1, 0)), None)
        if found["mixed"]:
            return _fraction(found["mixed"], found.start()), 0
        return _decimal(found["plain"], found.start())

    def signed(self) -> tuple[Fraction, int]:
        sign = self.take(re.compile(r"[+-]\s?"))
        number, places = self.number()
        return (-number if sign and sign.group().startswith("-") else number), places


def _fraction(typed: str, at: int) -> Fraction:
    top, _, bottom = typed.rpartition("/")
    whole, numerator = re.fullmatch(r"(?:([0-9]+)[ -])?([0-9]+)\s?", top).groups()  # type: ignore[union-attr]
    if int(bottom) == 0:
        raise AmountError(f"`{typed}` divides by nothing", "mend the fraction", at, len(typed))
    return Fraction(int(whole or 0)) + Fraction(int(numerator), int(bottom))


def _decimal(typed: str, at: int) -> tuple[Fraction, int]:
    plain = re.sub(r"[ '’]", "", typed).replace(",", ".")
    mantissa, _, exponent = plain.lower().partition("e")
    if exponent and abs(int(exponent)) > _LARGEST_EXPONENT:
        raise AmountError(
            f"`{typed}` is too large or too small", "check the exponent", at, len(typed)
        )
    places = len(mantissa.partition(".")[2]) - int(exponent or 0)
    return Fraction(plain), max(places, 0)


def _unit_here(cursor: _Cursor, quantities: tuple[str, ...]) -> Unit | None:
    """Take the longest unit that stands at the cursor, if one does."""
    start = cursor.skip_spaces()
    rest = cursor.text[start:].rstrip()
    for length in range(min(len(rest), _LONGEST_UNIT), 0, -1):
        piece, following = rest[:length], rest[length : length + 1]
        cut_short = piece[-1].isalnum() and following.isalnum()
        unit = None if cut_short or piece != piece.strip() else _lookup(piece, quantities)
        if unit is not None:
            cursor.at = start + length
            return unit
    return None


def _unit_last(cursor: _Cursor, quantities: tuple[str, ...]) -> Unit:
    """Take the unit that is all the rest of the text."""
    start = cursor.skip_spaces()
    rest = cursor.text[start:].rstrip()
    unit = _lookup(rest, quantities)
    if unit is None:
        raise _unit_error(cursor.text, rest, start, quantities)
    cursor.at = len(cursor.text)
    return unit


def _lookup(spelling: str, quantities: Iterable[str]) -> Unit | None:
    tidy = re.sub(r"\s*([·*.-])\s*", r"\1", re.sub(r"\s+", " ", spelling))
    for quantity in quantities:
        unit = UNITS[quantity].get(tidy) or UNITS[quantity].get(tidy.rstrip("."))
        if unit is not None:
            return unit
    return None


def _unit_error(text: str, rest: str, start: int, quantities: tuple[str, ...]) -> AmountError:
    kind = _a(quantities[0]) if len(quantities) == 1 else "a figure in a unit known here"
    whole = text.strip()
    spellings = {name: unit for quantity in quantities for name, unit in UNITS[quantity].items()}
    symbols = dict.fromkeys(unit.symbol for unit in spellings.values() if unit.symbol)
    some = ", ".join(f"`{symbol}`" for symbol in list(symbols)[:6])
    if not rest:
        return AmountError(f"`{whole}` has no unit, and {kind} needs one", f"add one of {some}")
    for quantity in quantities:
        if (quantity, rest) in _ASKED:
            return AmountError(*_ASKED[quantity, rest], start, len(rest))
    other = next((q for q in UNITS if q not in quantities and _lookup(rest, (q,))), None)
    if other is not None:
        what = f"`{whole}` is {_a(other)}, where {kind} belongs"
    else:
        what = f"`{whole}` is not {kind}: `{rest}` is no unit known here"
    near = difflib.get_close_matches(rest, spellings, n=1, cutoff=0.6)
    fix = f"did you mean `{spellings[near[0]].symbol}`?" if near else f"use one of {some}"
    return AmountError(what, fix, start, len(rest))


def _a(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


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
    cursor = _Cursor(plain_text(text))
    for pattern, is_upper in ((_AT_MOST, True), (_AT_LEAST, False)):
        if cursor.take(pattern):
            number, places = cursor.signed()
            unit = _unit_last(cursor, quantities)
            amount = Amount(
                text, unit, None if is_upper else number, number if is_upper else None, None, places
            )
            break
    else:
        amount = _read_two_sided(text, cursor, quantities)
    if not limits and (amount.low != amount.high or amount.low is None):
        raise AmountError(
            f"`{text.strip()}` is a range where one figure belongs", "give the one figure to use"
        )
    return amount


def _read_two_sided(text: str, cursor: _Cursor, quantities: tuple[str, ...]) -> Amount:
    """Read a plain figure, a range or a tolerance; the cursor stands before its first number."""
    if cursor.take(_STRICT):
        raise AmountError(
            "`<` and `>` leave open whether the figure itself is good",
            "write `at most` or `at least`",
            0,
            1,
        )
    if "time" in quantities and cursor.text.count(":"):
        raise AmountError(
            f"`{text.strip()}` could be a time of day or a length of time",
            "write a length of time with its unit, such as `12 min 30 s`",
        )
    first, places = cursor.signed()
    unit = _unit_here(cursor, quantities)
    if cursor.take(_PLUS_MINUS):
        return _read_tolerance(text, cursor, quantities, (first, places, unit))
    unequal = cursor.take(_UNEQUAL)
    if unequal:
        up, up_places = _decimal(unequal["up"], unequal.start("up"))
        down, down_places = _decimal(unequal["down"], unequal.start("down"))
        unit = _same_unit(cursor, quantities, unit)
        places = max(places, up_places, down_places)
        return Amount(text, unit, first - down, first + up, first, places)
    if cursor.take(_TO):
        second, more_places = cursor.signed()
        unit = _same_unit(cursor, quantities, unit)
        if second < first:
            raise AmountError(
                f"`{text.strip()}` runs from the larger figure to the smaller",
                "write the smaller figure first",
            )
        return Amount(text, unit, first, second, None, max(places, more_places))
    if unit is not None and unit.quantity == "time":
        first = _longer_time(cursor, first, unit)
    unit = _same_unit(cursor, quantities, unit)
    return Amount(text, unit, first, first, first, places)


def _longer_time(cursor: _Cursor, first: Fraction, unit: Unit) -> Fraction:
    """Add the smaller pieces of a time such as `1 h 30 min`, in the unit of the first piece."""
    last = unit
    while cursor.text[cursor.at :].strip():
        start = cursor.skip_spaces()
        more, _ = cursor.number()
        smaller = _unit_here(cursor, ("time",))
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


def _same_unit(cursor: _Cursor, quantities: tuple[str, ...], unit: Unit | None) -> Unit:
    """Take the unit at the end, which must not gainsay one that stood before."""
    start = cursor.skip_spaces()
    rest = cursor.text[start:].rstrip()
    if unit is not None and not (rest and unit.symbol == ""):
        if not rest:
            return unit
        if _lookup(rest, (unit.quantity,)) is unit:
            return unit
        raise AmountError(
            f"`{rest}` is not understood after `{cursor.text[:start].strip()}`",
            "give one figure or one range, with one unit; put words in `note`",
            start,
            len(rest),
        )
    return _unit_last(cursor, quantities)


def _read_tolerance(
    text: str,
    cursor: _Cursor,
    quantities: tuple[str, ...],
    start: tuple[Fraction, int, Unit | None],
) -> Amount:
    middle, places, unit = start
    tolerance, more_places = cursor.number()
    if cursor.take(_PERCENT):
        tolerance = abs(middle) * tolerance / 100
        more_places = places
    unit = _same_unit(cursor, quantities, unit)
    return Amount(
        text, unit, middle - tolerance, middle + tolerance, middle, max(places, more_places)
    )
