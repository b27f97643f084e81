"""What spreadsheets do to ids and part numbers: seen when a table comes in, kept off when it goes.

A spreadsheet takes a cell that looks like a number, a date or a formula for one, and shows and
saves it as such: `0010` comes back as `10`, `12E4` as `1.2E+05`, `1-2` as `2-Jan`. (Common
practice, no source; every spreadsheet does so on opening a table.)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_POWER = re.compile(r"[0-9](?:[.,][0-9]+)?E[+-]?[0-9]{2,3}", re.IGNORECASE)
_DAY = re.compile(
    rf"[0-9]{{1,4}}[-. /](?:{_MONTHS})[a-z]*\.?(?:[-. /][0-9]{{1,4}})?"
    rf"|(?:{_MONTHS})[a-z]*[-. /][0-9]{{1,4}}"
    r"|[0-9]{1,2}[./][0-9]{1,2}[./](?:19|20)?[0-9]{2}|(?:19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}",
    re.IGNORECASE,
)
_ROUNDED = re.compile(r"[1-9][0-9]{14}0+")
_FAULT = re.compile(r"#(?:NAME\?|REF!|VALUE!|N/A|DIV/0!|NUM!|NULL!|#+)")
_DIGITS = re.compile(r"[0-9]+")
_LEADING_ZERO = re.compile(r"0[0-9]")
_FEWEST_DIGITS = 4  # below that, numbers of different length are the usual case

_TAKEN_FOR_ANOTHER = re.compile(
    r"[=+\-@\t\r].*"  # a formula
    r"|0[0-9].*"  # leading zeros
    r"|[0-9]{12,}"  # more digits than are kept or shown
    r"|[0-9.,]+[eE][+-]?[0-9]+"  # a power of ten
    r"|[0-9]{1,2}\s*[-/.]\s*(?:[0-9]{1,2}|[0-9]{4})(?:\s*[-/.]\s*[0-9]{1,4})?"  # a day, a part
    r"|(?:19|[2-9][0-9])[0-9]{2}\s*[-/.]\s*[0-9]{1,2}(?:\s*[-/.]\s*[0-9]{1,2})?"  # the year first
    r"|[0-9]+\s*:\s*[0-9]{1,2}(?:\s*:\s*[0-9]{1,2})?"  # a time
    r"|[0-9]+[.,][0-9]*0"  # zeros at the end
    rf"|(?:[0-9]+[-. /]*)?(?:{_MONTHS})[a-z]*\.?[-. /]*[0-9]*"
    r"|true|false",
    re.IGNORECASE | re.DOTALL,
)
_GUARD = "'"


def spoiled(text: str) -> str | None:
    """Return what a spreadsheet has made of an id, in words; None if nothing can be seen.

    Examples
    --------
    >>> spoiled("1.2E+05"), spoiled("2-Jan"), spoiled("0010")
    ('a number in powers of ten', 'a date', None)
    """
    kinds = (
        (_POWER, "a number in powers of ten"),
        (_DAY, "a date"),
        (_ROUNDED, "a number rounded to 15 digits"),
        (_FAULT, "the mark of a formula that failed"),
    )
    if text.startswith("="):
        return "a formula"
    return next((what for pattern, what in kinds if pattern.fullmatch(text)), None)


def lost_zeros(texts: Sequence[str]) -> str | None:
    """Return the first of a column of ids that seems to have lost zeros at its start.

    That is a number that another is but for such zeros; or, where none begins with a zero, one
    shorter than most of the others.

    Examples
    --------
    >>> lost_zeros(["1140", "1141", "23", "1150"]), lost_zeros(["0010", "20", "10"])
    ('23', '10')
    >>> lost_zeros(["10", "20", "100"])
    """
    numbers = [text for text in texts if _DIGITS.fullmatch(text)]
    if any(_LEADING_ZERO.match(number) for number in numbers):
        padded = {text.lstrip("0") for text in numbers if _LEADING_ZERO.match(text)}
        return next((text for text in numbers if text in padded), None)
    lengths = sorted(len(number) for number in numbers)
    usual = lengths[len(lengths) // 2] if lengths else 0
    if usual < _FEWEST_DIGITS or lengths[-1] != usual:
        return None
    return next((number for number in numbers if len(number) < usual), None)


def guarded(text: str) -> str:
    """Return the text of a cell so that a spreadsheet takes it for text, and for no formula.

    A quotation mark in front of it is the spreadsheets' own sign for text.

    Examples
    --------
    >>> guarded("0010"), guarded("=1+1"), guarded("Cap screw")
    ("'0010", "'=1+1", 'Cap screw')
    """
    return f"{_GUARD}{text}" if _TAKEN_FOR_ANOTHER.fullmatch(text) or text[:1] == _GUARD else text


def unguarded(text: str) -> str:
    """Return a text without the mark that `guarded` puts in front of it.

    Examples
    --------
    >>> unguarded("'0010"), unguarded("'tis"), unguarded(guarded("'tis"))
    ('0010', "'tis", "'tis")
    """
    bare = text.removeprefix(_GUARD)
    return bare if guarded(bare) == text else text
