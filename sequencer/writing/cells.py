"""Tables as spreadsheets save them: encoding, separator, and cells with their places.

Text fields follow RFC 4180 (2005): cells in double quotation marks may hold separators and line
ends, and a mark in them is written twice. A cell that goes on behind its closing mark, such as
`"O" ring`, is taken as it was typed.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from io import StringIO
from typing import TYPE_CHECKING

from sequencer.problem import Place, Problem
from sequencer.writing.spoiled import guarded

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from fractions import Fraction

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}
"""What may stand between two cells, by its name."""

_LINE_END = re.compile(r"\r\n|\n|\r")
_DECLARED = re.compile(r"sep=(.)\s*(?:\r\n|\n|\r|$)", re.IGNORECASE)
_LINES_LOOKED_AT = 50
_MARK = '"'


@dataclass(frozen=True, slots=True)
class Cell:
    """The text of a cell without the space around it, and where it begins, counted from 1.

    `is_open` tells that it begins with a quotation mark that is never closed.
    """

    text: str
    line: int
    column: int
    is_open: bool = False

    def place(self, file: str) -> Place:
        """Return where the cell stands, or its first line if it has several."""
        return Place(file, self.line, self.column, max(len(self.text.partition("\n")[0]), 1))


def decoded(data: bytes, encoding: str | None) -> tuple[str, str]:
    """Return the text of a table, and the encoding that it was read in.

    Without one given it is that of a byte order mark, else UTF-8, else Windows-1252, in which
    spreadsheets save what is not UTF-8 and every byte but five means something.

    Raises
    ------
    UnicodeDecodeError
        If a byte means nothing in that encoding.
    """
    if encoding is None:
        encoding = _encoding_of(data)
    return data.decode(encoding).removeprefix("\ufeff"), encoding


def _encoding_of(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def separator_of(text: str) -> str | None:
    r"""Return what stands between the cells of a table; None where it cannot be told.

    A first line such as ``sep=;`` says so. Otherwise it is the sign that cuts the lines into the
    same number of cells, at least two: if several do, that with the most cells.

    Examples
    --------
    >>> separator_of("id;name\\na;Arm, left\\nb;Arm, right")
    ';'
    """
    declared = _DECLARED.match(text)
    if declared:
        return declared.group(1)
    best: tuple[float, int] = (0.0, 1)
    found = None
    for sign in SEPARATORS.values():
        rows = [row for row in rows_of(text, sign) if any(cell.text for cell in row)]
        widths = [len(row) for row in rows[:_LINES_LOOKED_AT]]
        if not widths or widths[0] == 1:
            continue
        alike = sum(width == widths[0] for width in widths) / len(widths)
        if (alike, widths[0]) > best:
            best, found = (alike, widths[0]), sign
    return found


def rows_of(text: str, separator: str) -> list[list[Cell]]:
    """Return the cells of a table, row by row; a row of one empty cell is an empty line."""
    start = 0
    declared = _DECLARED.match(text)
    line = 1
    if declared:
        start, line = declared.end(), 2
    return list(_Cells(text, separator).rows(start, line))


class _Cells:
    """Reads a table from its start to its end."""

    def __init__(self, text: str, separator: str) -> None:
        self._text = text
        self._separator = separator
        plain = rf"[^{re.escape(separator)}\r\n]*"
        self._plain = re.compile(plain)
        self._quoted = re.compile(r'[ ]*"((?:[^"]|"")*)"')

    def rows(self, at: int, line: int) -> Iterator[list[Cell]]:
        """Yield the rows from a place on."""
        row: list[Cell] = []
        line_start = at
        text = self._text
        while at <= len(text):
            cell, end = self._cell(at, line, at - line_start + 1)
            row.append(cell)
            inside = list(_LINE_END.finditer(text, at, end))
            if inside:
                line += len(inside)
                line_start = inside[-1].end()
            at = end
            if text.startswith(self._separator, at):
                at += len(self._separator)
                continue
            yield row
            row = []
            ended = _LINE_END.match(text, at)
            if ended is None:
                break
            at = line_start = ended.end()
            line += 1
            if at == len(text):
                break

    def _cell(self, at: int, line: int, column: int) -> tuple[Cell, int]:
        """Return the cell that begins at a place, and where it ends."""
        quoted = self._quoted.match(self._text, at)
        behind = self._plain.match(self._text, quoted.end()) if quoted else None
        if quoted is None or (behind and behind.group().strip()):
            start = quoted.end() if quoted else at
            found = self._plain.match(self._text, start)
            end = found.end() if found else start
            typed = self._text[at:end]
            blank = len(typed) - len(typed.lstrip())
            is_open = quoted is None and typed.lstrip().startswith(_MARK)
            return Cell(typed.strip(), line, column + blank, is_open), end
        held = quoted.group(1).replace(_MARK * 2, _MARK)
        lines = _LINE_END.sub("\n", held).strip()
        start = column + quoted.start(1) - at
        return Cell(lines, line, start), behind.end() if behind else quoted.end()


def table_text(
    heads: Sequence[str], rows: Iterable[Sequence[str | Fraction]], separator: str, decimal: str
) -> str:
    r"""Return a table as text; texts that a spreadsheet would change are guarded.

    Examples
    --------
    >>> from fractions import Fraction
    >>> table_text(["id", "mass (kg)"], [["0010", Fraction(5, 2)]], ";", ",")
    "id;mass (kg)\n'0010;2,5\n"
    """
    text = StringIO()
    writer = csv.writer(text, delimiter=separator, lineterminator="\n")
    writer.writerow(heads)
    for row in rows:
        writer.writerow([_written(held, decimal) for held in row])
    return text.getvalue()


def _written(held: str | Fraction, decimal: str) -> str:
    return guarded(held) if isinstance(held, str) else f"{float(held):.10g}".replace(".", decimal)


def unreadable(file: str, error: UnicodeDecodeError) -> Problem:
    """Return the problem of a byte that means nothing in the encoding."""
    byte = f"byte {error.start + 1} of `{file}`, 0x{error.object[error.start]:02X}"
    return Problem(
        "encoding",
        "error",
        f"{byte}, means nothing in {error.encoding}",
        why="the signs of the table would be read as something else",
        fix="say in what the table was saved, such as `--encoding cp1252`, or save it as UTF-8",
    )
