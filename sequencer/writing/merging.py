"""Entries into the text of a model: a new one, or one that is there, which keeps all its bytes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.fields import Flag, Number, Whole, Word
from sequencer.problem import Fact, Problem
from sequencer.reading.decoding import lines_of, lines_with_ends, without_mark
from sequencer.reading.fields import fields_of
from sequencer.reading.nodes import Mapping, Scalar, compose, is_empty
from sequencer.reading.records import counted_name
from sequencer.reading.source import Faults, Source
from sequencer.writing.columns import SECTIONS
from sequencer.writing.pieces import written_piece
from sequencer.writing.schema import FIRST_LINE
from sequencer.writing.texts import scalar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.reading.nodes import Node
    from sequencer.writing.importing import Entry, Imported

_SHORT = {"parts": "name", "steps": "do"}
_IN = 2
_ONE = ("quantity", "1")


@dataclass(frozen=True, slots=True)
class Merged:
    """The text of a model with entries put in; `left_out` are those that it had already."""

    text: str
    left_out: tuple[Problem, ...] = ()


class UnfitError(Exception):
    """A model that nothing can be put into; `problems` say why."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        super().__init__(problems[0].message)
        self.problems = tuple(problems)


def new_model(name: str, tables: Iterable[Imported]) -> str:
    """Return the text of a model that holds what the tables do."""
    lines = [FIRST_LINE, f"assembly: {scalar(name)}"]
    for table in tables:
        lines += [f"{table.section}:", *_written(table.section, table.entries, _IN)]
    return "\n".join([*lines, ""])


def merged(text: str, file: str, *tables: Imported) -> Merged:
    """Return the text of a model with the entries of tables behind those of their sections.

    Everything that is there stays as it is, to the byte; an entry whose id the model has already
    is left out, with a warning that points into the text returned.

    Raises
    ------
    UnfitError
        If the text is no model, or its section is written in braces.
    """
    left_out: list[tuple[str, Entry]] = []
    for table in tables:
        text, known = _with_entries(text, file, table)
        left_out += [(table.section, entry) for entry in known]
    return Merged(text, tuple(_known(text, file, left_out)) if left_out else ())


def _with_entries(text: str, file: str, table: Imported) -> tuple[str, list[Entry]]:
    """Return the text with the entries of one table, and those that it had already."""
    source = Source.of(file, lines_of(without_mark(text)))
    faults = Faults()
    root = compose(without_mark(text), source, faults)
    if not isinstance(root, Mapping) or root.flow:
        raise UnfitError(faults.in_order() or [_no_model(file)])
    key, held = _section(root, table.section)
    end = "\r\n" if "\r\n" in text else "\n"
    if key is None:
        written = [f"{table.section}:", *_written(table.section, table.entries, _IN)]
        return _with_lines(text, len(source.lines), written, end), []
    if held is None or is_empty(held):
        column = key.column + _IN
        written = _written(table.section, table.entries, column)
        if isinstance(held, Mapping) or source.after(key).partition("#")[0].strip(" :"):
            raise UnfitError([_in_braces(table.section, source, key)])
        return _with_lines(text, key.end_line + 1, written, end), []
    if not isinstance(held, Mapping) or held.flow:
        raise UnfitError([_in_braces(table.section, source, key)])
    known = _keys(held)
    added = [entry for entry in table.entries if entry.id not in known]
    written = _written(table.section, added, held.items[0].column)
    left_out = [entry for entry in table.entries if entry.id in known]
    return _with_lines(text, _last_line(held) + 1, written, end), left_out


def _keys(section: Node | None) -> dict[str, Scalar]:
    """Return the keys of a section by their ids."""
    entries = section.entries() if isinstance(section, Mapping) else ()
    return {key.text.strip(): key for key, _ in entries if isinstance(key, Scalar)}


def _section(root: Mapping, name: str) -> tuple[Scalar | None, Node | None]:
    for key, value in root.entries():
        if isinstance(key, Scalar) and key.text.strip() == name:
            return key, value
    return None, None


def _last_line(node: Node) -> int:
    """Return the last line on which a node says something, counted from 0."""
    while not isinstance(node, Scalar) and not node.flow and node.items:
        node = node.items[-1]
    return (
        node.end_line - 1 if node.end_column == 0 and node.end_line > node.line else node.end_line
    )


def _with_lines(text: str, at: int, lines: Iterable[str], end: str) -> str:
    """Return the text with lines put in before the line of that number, counted from 0."""
    kept = lines_with_ends(text)
    before = kept[:at]
    if before and not before[-1].endswith(("\n", "\r")):
        before[-1] += end
    return "".join([*before, *(f"{line}{end}" for line in lines), *kept[at:]])


def _written(section: str, entries: Iterable[Entry], indent: int) -> list[str]:
    return [" " * indent + line for entry in entries for line in _entry(section, entry)]


def _entry(section: str, entry: Entry) -> Iterator[str]:
    """Yield the lines of an entry: on one line where only its name is known."""
    fields = {name: held for name, held in entry.fields.items() if (name, held) != _ONE}
    short = fields.get(_SHORT[section])
    name = scalar(entry.id)
    if isinstance(short, str) and len(fields) == 1 and counted_name(short) is None:
        yield f"{name}: {scalar(short)}"
        return
    yield f"{name}:"
    for field, held in fields.items():
        kind = fields_of(SECTIONS[section])[field].kind
        write = str if isinstance(kind, Whole | Number | Flag | Word) else scalar
        if isinstance(held, str):
            yield f"{' ' * _IN}{field}: {write(held)}"
        elif len(held) == 1 and not isinstance(held[0], tuple):
            yield f"{' ' * _IN}{field}: {written_piece(held[0])}"
        else:
            yield f"{' ' * _IN}{field}:"
            yield from (f"{' ' * (2 * _IN)}- {written_piece(one)}" for one in held)


def _no_model(file: str) -> Problem:
    return Problem(
        "not-a-mapping",
        "error",
        f"`{file}` is no model that anything could be put into",
        why="nothing was changed",
        fix="name a model, or a file that is not there yet",
    )


def _in_braces(section: str, source: Source, key: Scalar) -> Problem:
    return Problem(
        "layout",
        "error",
        f"`{section}` is not written with each entry on a line of its own",
        why="new entries are put on lines of their own behind the last one",
        fix=f"write `{section}:`, and its entries on the lines below, set in",
        place=source.place(key),
    )


def _known(text: str, file: str, left_out: Iterable[tuple[str, Entry]]) -> Iterator[Problem]:
    """Yield that entries were left out, and where in the text the model has them."""
    source = Source.of(file, lines_of(without_mark(text)))
    root = compose(without_mark(text), source, Faults())
    for section, entry in left_out:
        _, held = _section(root, section) if isinstance(root, Mapping) else (None, None)
        there = Fact("it is there already", place=source.place(_keys(held)[entry.id]))
        yield Problem(
            "named-twice",
            "warning",
            f"`{entry.id}` is in the model already, and this row was left out",
            facts=(there,),
            why="what the model says of it was not changed",
            fix="mend the model by hand if the table knows better",
            place=entry.place,
        )
