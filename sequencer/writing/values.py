"""The cells of a table as a model writes them: numbers with points, words, lists of ids."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.fields import (
    Choices,
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Number,
    TorqueText,
    Whole,
    Word,
)
from sequencer.model.numerals import AmountError, Cursor
from sequencer.reading.figures import read_figure, read_torque
from sequencer.writing.pieces import Piece, read_pieces

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.fields import Kind
    from sequencer.writing.columns import Column

_IN_LIST = re.compile(r"\s*\n\s*")
_WHOLE = re.compile(r"([0-9]{1,6})(?:[.,]0+)?")
_SPACE = "['’ \u00a0\u202f]"
_NUMBER = re.compile(rf"[0-9]{{1,3}}(?:{_SPACE}[0-9]{{3}})+(?:[.,][0-9]+)?|[0-9](?:[0-9.,]*[0-9])?")
_THOUSANDS = re.compile(_SPACE)
_HAS_UNIT = re.compile(r"[^\W\d_]|[°%'\"″′]")
_SIGN_OF_MONEY = r"(?:[A-Z]{3}|[$¢-¥\u20a0-\u20cf]|kr\.?|zł|Fr\.?)"
_MONEY = re.compile(rf"^{_SIGN_OF_MONEY}\s*(?=[\d.,])|(?<=\d)\s*{_SIGN_OF_MONEY}$")
_MARKED = re.compile(r"x|y|yes|true|1|✓|✔|☑", re.IGNORECASE)
_UNMARKED = re.compile(r"-|n|no|false|0|☐", re.IGNORECASE)


Held: TypeAlias = str | list[Piece]
"""What a field holds: one value as a model writes it, or a list."""


class CellError(ValueError):
    """A cell that is not what its column wants: what is wrong, and what to do."""

    def __init__(self, what: str, fix: str) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix


def decimal_mark_of(texts: Iterable[str]) -> str | None:
    """Return the decimal mark of the numbers in some cells; None where it cannot be told.

    It is the last mark of a number that has both, and the only one where it cannot be between
    thousands.

    Examples
    --------
    >>> decimal_mark_of(["1.234,50"]), decimal_mark_of(["2,5", "1,234"]), decimal_mark_of(["1,234"])
    (',', ',', None)
    """
    for text in texts:
        for found in _NUMBER.finditer(text):
            number = _THOUSANDS.sub("", found.group())
            last = max(number.rfind("."), number.rfind(","))
            if last < 0:
                continue
            both = "." in number and "," in number
            if both or (number.count(number[last]) == 1 and not _may_be_thousands(number, last)):
                return number[last]
    return None


def _may_be_thousands(number: str, at: int) -> bool:
    return len(number) - at - 1 == len("000") and 1 <= at <= len("000") and number[0] != "0"


def is_doubtful(text: str) -> bool:
    """Tell whether a number in a cell can be read in two ways while the decimal mark is unknown."""
    for found in _NUMBER.finditer(text):
        number = _THOUSANDS.sub("", found.group())
        at = number.find(",")
        if at >= 0 and "." not in number and _may_be_thousands(number, at):
            return True
    return False


def with_points(text: str, mark: str | None) -> str:
    """Return a text with the numbers in it written with a decimal point and nothing else.

    Raises
    ------
    CellError
        If a number has its marks where this decimal mark would not leave them.

    Examples
    --------
    >>> with_points("1.234,5 mm", ","), with_points("1,234.5 mm", "."), with_points("M8", None)
    ('1234.5 mm', '1234.5 mm', 'M8')
    """
    if mark is None:
        return text
    other = "." if mark == "," else ","

    def plain(found: re.Match[str]) -> str:
        number = _THOUSANDS.sub("", found.group())
        whole, point, rest = number.partition(mark)
        if other in rest or mark in rest or (other in whole and not _in_threes(whole, other)):
            what = f"`{found.group()}` does not fit in with `{mark}` as the decimal mark"
            raise CellError(what, "write all numbers of the table with the same decimal mark")
        return f"{whole.replace(other, '')}{'.' if point else ''}{rest}"

    return _NUMBER.sub(plain, text)


def _in_threes(whole: str, mark: str) -> bool:
    first, *others = whole.split(mark)
    return 1 <= len(first) <= len("000") and all(len(one) == len("000") for one in others)


def holds_numbers(kind: Kind) -> bool:
    """Tell whether the cells of a kind hold numbers that a decimal mark may stand in."""
    return isinstance(kind, Number | Figure | TorqueText)


def read_cell(column: Column, text: str, mark: str | None) -> Held:
    """Return the value of a cell as the model writes it; nothing if it means none.

    Raises
    ------
    CellError
        If the cell is not what the column wants.
    """
    kind = column.kind
    if isinstance(kind, Whole):
        return _whole(kind, text)
    if isinstance(kind, Number | Figure | TorqueText):
        return _figure(column, with_points(text, mark))
    if isinstance(kind, Flag | Word):
        return _word(kind, text)
    if isinstance(kind, Links | Choices | Fitted):
        return read_pieces(kind, text)
    if isinstance(kind, Many):
        return [piece for piece in _IN_LIST.split(text) if piece]
    return text


def _whole(kind: Whole, text: str) -> str:
    found = _WHOLE.fullmatch(text)
    if not found or int(found.group(1)) < kind.least:
        what = f"`{text}` is not a whole number from {kind.least} to 999999"
        raise CellError(what, "write it in digits, without a unit or separators")
    return str(int(found.group(1)))


def _figure(column: Column, text: str) -> str:
    kind = column.kind
    is_bare = not _HAS_UNIT.search(text)
    typed = f"{text} {column.unit}" if column.unit and is_bare else text
    try:
        if isinstance(kind, Figure):
            read_figure(kind, typed)
        elif isinstance(kind, TorqueText):
            read_torque(typed)
        else:
            return _number(text)
    except AmountError as error:
        raise CellError(error.what, _advice(error, column)) from error
    return typed


def _advice(error: AmountError, column: Column) -> str:
    if "has no unit" in error.what and not column.unit:
        return f"{error.fix}, or write the unit in the head of the column: `{column.field} (…)`"
    return error.fix


def _number(text: str) -> str:
    """Return a plain number; a sign of money before or behind it is left out."""
    bare = _MONEY.sub("", text)
    cursor = Cursor(bare)
    cursor.number()
    if cursor.rest:
        raise CellError(f"`{text}` is not a plain number", "write it in digits, without a unit")
    return bare


def _word(kind: Flag | Word, text: str) -> str:
    words = ("true",) if isinstance(kind, Flag) else kind.words
    if text.lower() in words:
        return text.lower()
    if len(words) == 1 and _MARKED.fullmatch(text):
        return words[0]
    if _UNMARKED.fullmatch(text):
        return ""
    if isinstance(kind, Word) and kind.or_a:
        return text
    listed = ", ".join(f"`{word}`" for word in words)
    raise CellError(f"`{text}` is not one of {listed}", f"write {listed}, or leave the cell empty")
