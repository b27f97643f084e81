"""From nodes to the model: each field is read by the kind that its dataclass declares."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from sequencer.model.fields import (
    ByTemperature,
    Choices,
    EndText,
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Number,
    PassText,
    Points,
    Record,
    Sizes,
    Table,
    Text,
    TorqueText,
    Whole,
    Word,
)
from sequencer.problem import Problem
from sequencer.reading import links, plain, records, tabled, tightening
from sequencer.reading.entries import cut_after, entries
from sequencer.reading.names import Mention
from sequencer.reading.nodes import Scalar, Sequence, is_empty, is_null

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.fields import Kind
    from sequencer.problem import Path
    from sequencer.reading.names import Names
    from sequencer.reading.nodes import Mapping, Node
    from sequencer.reading.source import Faults, Source

_READERS: dict[type, Callable[[Binder, Any, Node, Path], Any]] = {
    Text: plain.read_text,
    Whole: plain.read_whole,
    Number: plain.read_number,
    Flag: plain.read_flag,
    Word: plain.read_word,
    Figure: plain.read_amount_of,
    TorqueText: plain.read_torque_of,
    EndText: plain.read_end,
    PassText: tightening.read_pass,
    Points: tightening.read_points,
    Sizes: tabled.read_sizes,
    ByTemperature: tabled.read_by_temperature,
    Links: links.read_links,
    Choices: links.read_choices,
    Fitted: links.read_fitted,
    Many: records.read_many,
    Record: records.read_record,
    Table: records.read_table,
}
_TEXT = Text()
_WORDS_OR_ID = {"source": "source", "with": "tool"}
_IDS = {"unit": "unit"}


class Binder:
    """Reads nodes by the kinds of their fields, and keeps the problems found on the way."""

    def __init__(self, source: Source, names: Names, faults: Faults) -> None:
        self.source = source
        self.names = names
        self.faults = faults
        self.conditions: list[Mention] = []

    def read(self, kind: Kind, node: Node, path: Path) -> Any:
        """Return what a node holds; None if that is nothing, or not what the kind wants."""
        words = type(kind) is Text
        if (is_null(node) and not words) or not self.is_sound(node, path, words=words):
            return None
        if is_empty(node) or (isinstance(node, Scalar) and not node.text.strip()):
            return None
        return _READERS[type(kind)](self, kind, node, path)

    def words(self, field: str, node: Node, path: Path) -> str:
        """Return the words of a field; in some they are or may be an id, which is then noted."""
        text: str = self.read(_TEXT, node, path) or ""
        self.note_words(field, text, node, path)
        return text

    def note_words(self, field: str, text: object, node: Node, path: Path) -> None:
        """Note the words of a field in which an id stands, or may stand as well."""
        if not isinstance(text, str) or not text:
            return
        if field == "when":
            self.conditions.append(Mention(("option",), text, node, path))
        elif field in _IDS:
            self.names.mention(Mention((_IDS[field],), text, node, path))
        elif field in _WORDS_OR_ID:
            self.names.say(Mention((_WORDS_OR_ID[field],), text, node, path))

    def is_sound(self, node: Node, path: Path, *, words: bool = False) -> bool:
        """Tell whether a node is as it was typed; if not, tell what became of it."""
        if node.refused:
            self.faults.spoil(path)
            return False
        if not isinstance(node, Scalar):
            return True
        cut = cut_after(node, self.source, words=words)
        if cut:
            self.faults.add(cut, None, path)
            return False
        if is_null(node):
            message = f"`{node.text}` means nothing to YAML, and a word to a reader"
            fix = "leave the value empty, or put quotes round the word"
            why = "nobody could tell whether it was meant as a word"
            self.fault(Problem("null", "error", message, why=why, fix=fix), node, path)
            return False
        return True

    def items(self, node: Node, path: Path) -> Iterator[tuple[int, Node]]:
        """Yield the entries of a list that say something, numbered from 0."""
        index = 0
        for item in node.items if isinstance(node, Sequence) else (node,):
            sound = self.is_sound(item, (*path, index))
            if is_empty(item):
                continue
            if sound:
                yield index, item
            index += 1

    def entries(self, node: Mapping, path: Path) -> Iterator[tuple[Scalar, str, Node]]:
        """Yield the sound entries of a mapping: the key, its text and the value."""
        return entries(node, path, self.source, self.faults)

    def fault(self, problem: Problem, node: Node, path: Path) -> None:
        """Keep a problem that shows at a node."""
        self.faults.add(problem, problem.place or self.source.place(node), path)
