"""Put quotation marks round the texts that YAML breaks, and leave every other byte as it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Links, Many, Record, Table, Text
from sequencer.problem import has_errors
from sequencer.reading import read_text
from sequencer.reading.decoding import (
    character_problems,
    lines_of,
    lines_with_ends,
    without_mark,
)
from sequencer.reading.fields import fields_of, short_field
from sequencer.reading.mending import in_quotes
from sequencer.reading.nodes import Mapping, Scalar, Sequence, compose, is_empty
from sequencer.reading.source import Faults, Source
from sequencer.writing.texts import is_changed_by_others

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from sequencer.model.fields import Kind
    from sequencer.problem import Mend, Place
    from sequencer.reading import Reading
    from sequencer.reading.nodes import Node

MOST_READINGS = 1000
"""The most times that a file is read to mend it: once for each place where YAML breaks off."""
MOST_READ = 50_000_000
"""The most characters that are read in all of them."""


@dataclass(frozen=True, slots=True)
class Change:
    """One edit: where it is in the text as it then was, and what stands there before and after."""

    place: Place
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Tidied:
    """The text with its quotation marks, the edits in the order of the file, and what it reads as.

    `is_whole` is False where the file held more than could be mended in one run; then nothing is
    changed.
    """

    text: str
    changes: tuple[Change, ...]
    reading: Reading
    is_whole: bool = True


def tidy(text: str, name: str, path: Path | None = None) -> Tidied:
    """Quote the texts of a model that YAML breaks, and those that other programs would change.

    Where YAML breaks off, the text is recognised by what the messages go by, one place after the
    other; a text that cannot be recognised for sure is left to a person. The model that a sound
    file holds stays the same, and what is tidy stays as it is.

    Parameters
    ----------
    text : str
        The whole file, with its line ends and, if it has one, its byte order mark.
    name : str
        The file's name, for places.
    path : pathlib.Path, optional
        The file, if the models that it uses are to be looked for; they stay as they are.

    Returns
    -------
    Tidied
        Lines keep their numbers; only pieces of lines are put in quotation marks.
    """
    original = text
    changes: list[Change] = []
    readings = min(MOST_READINGS, 1 + MOST_READ // max(len(text), 1))
    for _ in range(readings):
        reading = read_text(text, name)
        mends = [problem.mend for problem in reading.problems if problem.mend is not None]
        mends += _for_others(text, name)
        mended, made = _mended(text, mends)
        if mended == text:
            ordered = sorted(changes, key=lambda change: change.place)
            return Tidied(text, tuple(ordered), read_text(text, name, path=path))
        text = mended
        changes += made
    return Tidied(original, (), read_text(original, name, path=path), is_whole=False)


def _mended(text: str, mends: Iterable[Mend]) -> tuple[str, list[Change]]:
    """Return the text with the edits made, from the end of each line to its start."""
    mark = text[: len(text) - len(without_mark(text))]
    lines = lines_with_ends(without_mark(text))
    made: list[Change] = []
    last = None
    for mend in sorted(mends, key=lambda mend: mend.place, reverse=True):
        place = mend.place
        start, end = place.column - 1, place.column - 1 + place.width
        if last is not None and last.line == place.line and end > last.column - 1:
            continue  # inside an edit already made: the next reading tells whether it still holds
        line = lines[place.line - 1]
        made.append(Change(place, line[start:end], mend.text))
        lines[place.line - 1] = f"{line[:start]}{mend.text}{line[end:]}"
        last = place
    return mark + "".join(lines), made


def _for_others(text: str, name: str) -> list[Mend]:
    """Return the edits for texts that our reader keeps and YAML or other programs do not."""
    text = without_mark(text)
    source = Source.of(name, lines_of(text))
    if has_errors(tuple(character_problems(text, source.lines, name))):
        return []  # YAML may count lines at them otherwise
    root = compose(text, source, Faults())
    if root is None:
        return []
    return [
        in_quotes(source, scalar.line, scalar.column, scalar.end_column)
        for scalar in _texts(root, Record(Assembly))
        if not scalar.style and scalar.line == scalar.end_line and _is_lost(scalar, source)
    ]


def _is_lost(scalar: Scalar, source: Source) -> bool:
    """Tell whether YAML takes a text for a mark of its own, or another program for a number."""
    if scalar.refused:
        return not source.typed(scalar).startswith("!!")
    return is_changed_by_others(scalar.text)


def _texts(node: Node, kind: Kind) -> Iterator[Scalar]:
    """Yield the scalars that hold words, by the kinds of their fields."""
    if isinstance(kind, Many):
        for item in node.items if isinstance(node, Sequence) else [node]:
            yield from _texts(item, kind.of)
    elif isinstance(kind, Table) and isinstance(node, Mapping):
        for _, value in node.entries():
            yield from _texts(value, kind.of)
    elif isinstance(kind, Record):
        yield from _of_record(node, kind)
    elif isinstance(kind, Links):
        yield from _of_links(node)
    elif isinstance(kind, Text) and isinstance(node, Scalar) and not is_empty(node):
        yield node


def _of_record(node: Node, kind: Record) -> Iterator[Scalar]:
    if not isinstance(node, Mapping):
        short = short_field(kind)
        if short is not None:
            yield from _texts(node, short.kind)
        return
    fields = fields_of(kind.cls)
    for key, value in node.entries():
        field = fields.get(key.text) if isinstance(key, Scalar) else None
        if field is not None:
            yield from _texts(value, field.kind)


def _of_links(node: Node) -> Iterator[Scalar]:
    """Yield the reasons and sources beside the names of other things."""
    for item in node.items if isinstance(node, Sequence) else [node]:
        for key, value in item.entries() if isinstance(item, Mapping) else ():
            if isinstance(key, Scalar) and key.text in ("why", "source"):
                yield from _texts(value, Text())
