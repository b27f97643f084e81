"""Tables of parts or steps into entries of a model."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from sequencer.model.fields import Choices, Fitted, Links
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.problem import Place, Problem
from sequencer.reading.called import ID
from sequencer.reading.decoding import LARGEST_FILE, NOT_TEXT, lines_of, too_large
from sequencer.reading.names import id_problem
from sequencer.writing import doubts
from sequencer.writing.cells import SEPARATORS, decoded, rows_of, separator_of, unreadable
from sequencer.writing.columns import SECTIONS, column_of, told_only
from sequencer.writing.pieces import sizes_as_facings
from sequencer.writing.spoiled import lost_zeros, spoiled, unguarded
from sequencer.writing.values import (
    CellError,
    decimal_mark_of,
    holds_numbers,
    is_doubtful,
    read_cell,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.writing.cells import Cell
    from sequencer.writing.columns import Column
    from sequencer.writing.values import Held

_NOT_CSV = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0", b"%PDF")
_ROWS_BEFORE_HEAD = 10
_NAMED_BY = {Part: ("number", "name"), Step: ("do",)}
_LONGEST_MADE_ID = 24
_MODEL = re.compile(r"^assembly:\s", re.MULTILINE)
_FIELDS_OF_IDS = frozenset((ID, "number"))


@dataclass(frozen=True, slots=True)
class Asked:
    """What the caller says of a table; what is not said is found."""

    section: str | None = None
    separator: str | None = None
    encoding: str | None = None
    decimal: str | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """One part or step: its id, its fields as a model writes them, and its row."""

    id: str
    fields: dict[str, Held]
    place: Place


@dataclass(slots=True)
class Imported:
    """What came of a table: entries of one section of a model, and what there is to tell."""

    file: str
    section: str = ""
    entries: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    lines: tuple[str, ...] = ()

    def tell(self, problem: Problem, cell: Cell | None = None) -> None:
        """Keep a problem, at the place of its cell."""
        place = cell.place(self.file) if cell else Place(self.file, 1, 1)
        self.problems.append(problem if problem.place else replace(problem, place=place))


def import_table(data: bytes, file: str, asked: Asked) -> Imported:
    """Read a table of parts or steps.

    Parameters
    ----------
    data : bytes
        The file as it is.
    file : str
        Its name, for places, and for what it holds if nothing else says so.
    asked : Asked
        What is known of it.

    Returns
    -------
    Imported
        Complete if none of its problems is an error.
    """
    done = Imported(file)
    if len(data) > LARGEST_FILE:
        done.problems.append(too_large(file))
        return done
    if data.startswith(_NOT_CSV):
        done.problems.append(doubts.no_text(file))
        return done
    try:
        text, encoding = decoded(data, asked.encoding)
    except UnicodeDecodeError as error:
        done.problems.append(unreadable(file, error))
        return done
    done.lines = lines_of(text)
    if asked.encoding is None and encoding == "cp1252":
        done.tell(doubts.guessed_encoding())
    if not text.strip() or _MODEL.search(text):
        done.tell(doubts.a_model(file) if text.strip() else doubts.no_rows(file))
        return done
    separator = asked.separator or separator_of(text) or SEPARATORS["comma"]
    rows = [row for row in rows_of(text, separator) if any(cell.text for cell in row)]
    _Table(done, rows, asked).read()
    done.problems.sort(key=lambda problem: problem.place or Place(file, 0, 0))
    return done


class _Table:
    """Reads the rows of a table into what is done."""

    def __init__(self, done: Imported, rows: list[list[Cell]], asked: Asked) -> None:
        self._done = done
        self._rows = rows
        self._asked = asked
        self._columns: list[Column] = []
        self._width = 0
        self._mark: str | None = asked.decimal
        self._ids: dict[str, Cell] = {}

    def read(self) -> None:
        """Read the head, then every row behind it."""
        done = self._done
        for row in self._rows:
            for cell in row:
                self._look_at(cell)
        head, section = self._head()
        if section is None:
            section = self._asked.section
            done.tell(doubts.no_head({section: SECTIONS[section]} if section else SECTIONS))
            return
        done.section = section
        cls = SECTIONS[section]
        self._take_columns(self._rows[head], cls)
        rows = self._rows[head + 1 :]
        if self._mark is None:
            self._mark = decimal_mark_of(
                row[column.at].text
                for row in rows
                for column in self._columns
                if holds_numbers(column.kind) and column.at < len(row)
            )
        for row in rows:
            self._take_row(row, cls)
        self._look_for_lost_zeros(rows)

    def _look_at(self, cell: Cell) -> None:
        hidden = NOT_TEXT.search(cell.text)
        if cell.is_open:
            self._done.tell(doubts.open_mark(), cell)
        elif hidden:
            self._done.tell(doubts.hidden_sign(hidden.group()[0]), cell)

    def _head(self) -> tuple[int, str | None]:
        """Return the row of the heads, and the section that they belong to."""
        asked = self._asked.section
        stem = re.sub(r".*[/\\]", "", self._done.file).casefold()
        by_name = [name for name in SECTIONS if name[:-1] in stem]
        sections = [asked] if asked else by_name if len(by_name) == 1 else list(SECTIONS)
        best: tuple[int, int, str | None] = (0, 0, None)
        for at, row in enumerate(self._rows[:_ROWS_BEFORE_HEAD]):
            for section in sections:
                heads = [column_of(cell.text, SECTIONS[section], 0) for cell in row]
                known = len({head.field for head in heads if head})
                if known > best[0]:
                    best = (known, at, section)
        return best[1], best[2]

    def _take_columns(self, row: list[Cell], cls: type) -> None:
        taken: dict[str, Cell] = {}
        self._width = len(row)
        passed_over = told_only([cell.text for cell in row])
        for at, cell in enumerate(row):
            column = column_of(cell.text, cls, at) if cell.text else None
            if column is None:
                if cell.text and cell.text not in passed_over:
                    self._done.tell(doubts.unknown_head(cell, cls), cell)
            elif column.field in taken:
                self._done.tell(doubts.head_twice(cell, column.field, taken[column.field]), cell)
            else:
                taken[column.field] = cell
                self._columns.append(column)

    def _take_row(self, row: list[Cell], cls: type) -> None:
        beyond = next((cell for cell in row[self._width :] if cell.text), None)
        if beyond:
            self._done.tell(doubts.too_many_cells(), beyond)
        fields: dict[str, Held] = {}
        own = row[0]
        for column in self._columns:
            cell = row[column.at] if column.at < len(row) else None
            if cell is None or not cell.text:
                continue
            own = cell if column.field == ID else own
            value = self._value(column, cell)
            if value:
                fields[column.field] = value
        if fields:
            self._keep(fields, own, cls)

    def _value(self, column: Column, cell: Cell) -> Held | None:
        text = unguarded(cell.text)
        is_id = column.field in _FIELDS_OF_IDS or isinstance(column.kind, Links | Fitted | Choices)
        made = spoiled(text) if is_id else "a formula" if cell.text.startswith("=") else None
        if made and text == cell.text:
            self._done.tell(doubts.spoiled_id(text, made), cell)
        if self._mark is None and holds_numbers(column.kind) and is_doubtful(text):
            self._done.tell(doubts.doubtful_number(text), cell)
            return None
        try:
            held = read_cell(column, text, self._mark)
        except CellError as error:
            why = "it could not be counted with, nor printed"
            self._done.tell(Problem("cell", "error", error.what, why=why, fix=error.fix), cell)
            return None
        if isinstance(column.kind, Fitted) and not isinstance(held, str):
            for name, said in sizes_as_facings(held):
                self._done.tell(doubts.size_as_facing(name, said), cell)
        return held

    def _keep(self, fields: dict[str, Held], cell: Cell, cls: type) -> None:
        """Keep an entry, under its id or one made from what it is called."""
        stated = fields.pop(ID, None)
        name = stated if isinstance(stated, str) else self._made_id(fields, cls)
        problem = id_problem(name)
        if problem:
            self._done.tell(problem, cell)
        first = self._ids.setdefault(name, cell)
        if first is not cell:
            self._done.tell(doubts.id_twice(name, first, self._done.file), cell)
        self._done.entries.append(Entry(name, fields, cell.place(self._done.file)))

    def _made_id(self, fields: dict[str, Held], cls: type) -> str:
        for named_by in _NAMED_BY[cls]:
            words = str(fields.get(named_by, ""))
            if named_by == "number" and words and id_problem(words) is None:
                return words if words not in self._ids else self._free(words)
            made = re.sub(r"[^\w]+", "-", words.casefold())[:_LONGEST_MADE_ID].strip("-_")
            if made and named_by != "number":
                return self._free(made)
        return self._free("part" if cls is Part else "step")

    def _free(self, name: str) -> str:
        number = 2
        free = name
        while free in self._ids:
            free, number = f"{name}-{number}", number + 1
        return free

    def _look_for_lost_zeros(self, rows: Iterable[list[Cell]]) -> None:
        rows = list(rows)
        for column in self._columns:
            if column.field in _FIELDS_OF_IDS:
                cells = [row[column.at] for row in rows if column.at < len(row)]
                short = lost_zeros([unguarded(cell.text) for cell in cells])
                cell = next((cell for cell in cells if unguarded(cell.text) == short), None)
                if cell:
                    self._done.tell(doubts.short_id(cell.text), cell)
