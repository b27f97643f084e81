"""The tree of a YAML text with the place of every piece, and the bounds that are kept on it.

The tree is built from the parser's events: an alias is an event with a place of its own, the
depth is known before anything recurses, and scalars keep the text as typed, because nothing here
guesses what `no`, `0012` or `12:30` might mean.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeAlias

import yaml

from sequencer.problem import Place, Problem
from sequencer.reading.decoding import LOST, NOT_TEXT, named
from sequencer.reading.syntax import DEEPEST, escape_problem, syntax_problem, too_deep

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.reading.source import Faults, Source

NULLS = frozenset(("~", "null", "Null", "NULL"))
"""What YAML takes for nothing, and a person may have meant as a word."""
MOST_NODES = 2_000_000
"""The most values that a file may hold."""

LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(slots=True, eq=False)
class Scalar:
    """One piece of text; `style` is its quotation mark, ``|``, ``>``, or empty."""

    text: str
    style: str
    line: int
    column: int
    end_line: int
    end_column: int
    refused: bool = False


@dataclass(slots=True, eq=False)
class Sequence:
    """A list; `flow` tells whether it stands in brackets."""

    line: int
    column: int
    flow: bool
    refused: bool = False
    items: list[Node] = field(default_factory=list)
    end_line: int = 0
    end_column: int = 0


@dataclass(slots=True, eq=False)
class Mapping:
    """Keys with their values, in turn in `items`; `flow` tells whether it stands in brackets."""

    line: int
    column: int
    flow: bool
    refused: bool = False
    items: list[Node] = field(default_factory=list)
    end_line: int = 0
    end_column: int = 0

    def entries(self) -> Iterator[tuple[Node, Node]]:
        """Yield each key with its value."""
        return zip(self.items[::2], self.items[1::2], strict=True)


Node: TypeAlias = Scalar | Sequence | Mapping


def is_empty(node: Node) -> bool:
    """Tell whether a node says nothing: no text typed, or an empty list or mapping."""
    if isinstance(node, Scalar):
        return not node.style and not node.text and not node.refused
    return not node.items and not node.refused


def is_null(node: Node) -> bool:
    """Tell whether a node is YAML's own word for nothing."""
    return isinstance(node, Scalar) and not node.style and node.text in NULLS


def items_of(node: Node) -> list[Node]:
    """Return what a list holds, without empty entries; a list of one may lack its brackets."""
    items = node.items if isinstance(node, Sequence) else [node]
    return [item for item in items if not is_empty(item)]


def compose(text: str, source: Source, faults: Faults) -> Node | None:
    """Return the root of the tree; None if the text is empty or cannot be read to its end."""
    builder = _Builder(source, faults)
    try:
        for event in _events(text):
            if not builder.take(event):
                break
    except yaml.YAMLError as error:
        faults.supersede(syntax_problem(error, source))
        return None
    except _NoSuchCharacterError:
        faults.add(escape_problem(source))
        return None
    return None if builder.stopped else builder.root


class _NoSuchCharacterError(Exception):
    """An escape in the text stands for a character beyond Unicode."""


def _events(text: str) -> Iterator[Any]:
    try:
        yield from yaml.parse(text, Loader=LOADER)
    except (ValueError, OverflowError) as error:  # the slow parser makes nothing better of it
        raise _NoSuchCharacterError from error


class _Builder:
    """Puts the tree together, one parser event at a time."""

    def __init__(self, source: Source, faults: Faults) -> None:
        self._source = source
        self._faults = faults
        self._top: list[Node] = []
        self._into = self._top
        self._open: list[list[Node]] = []
        self._count = 0
        self._documents = 0
        self.stopped = False
        self._takers = {
            yaml.ScalarEvent: self._scalar,
            yaml.MappingStartEvent: self._begin,
            yaml.SequenceStartEvent: self._begin,
            yaml.MappingEndEvent: self._end,
            yaml.SequenceEndEvent: self._end,
            yaml.AliasEvent: self._alias,
            yaml.DocumentStartEvent: self._document,
        }

    @property
    def root(self) -> Node | None:
        """The outermost node, if there is one."""
        return self._top[0] if self._top else None

    def take(self, event: Any) -> bool:
        """Add one event to the tree; tell whether to go on."""
        taker = self._takers.get(type(event))
        return taker is None or taker(event)

    def _scalar(self, event: Any) -> bool:
        start, end = event.start_mark, event.end_mark
        refused = (event.anchor or event.tag) is not None and self._refuse(event)
        if event.style == '"' and not event.value.isprintable():
            refused = self._refuse_escape(event) or refused
        self._into.append(
            Scalar(
                event.value,
                event.style or "",
                start.line,
                start.column,
                end.line,
                end.column,
                refused,
            )
        )
        self._count += 1
        return self._count <= MOST_NODES or self._stop(event, _too_many())

    def _begin(self, event: Any) -> bool:
        start = event.start_mark
        refused = (event.anchor or event.tag) is not None and self._refuse(event)
        cls = Mapping if isinstance(event, yaml.MappingStartEvent) else Sequence
        node = cls(start.line, start.column, bool(event.flow_style), refused)
        self._into.append(node)
        self._open.append(self._into)
        self._into = node.items
        self._count += 1
        if len(self._open) > DEEPEST:
            return self._stop(event, too_deep())
        return self._count <= MOST_NODES or self._stop(event, _too_many())

    def _end(self, event: Any) -> bool:
        self._into = self._open.pop()
        node = self._into[-1]
        node.end_line, node.end_column = event.end_mark.line, event.end_mark.column
        return True

    def _alias(self, event: Any) -> bool:
        start, end = event.start_mark, event.end_mark
        self._into.append(Scalar("", "", start.line, start.column, end.line, end.column, True))
        return self._refuse(event)

    def _document(self, event: Any) -> bool:
        self._documents += 1
        if self._documents == 1:
            return True
        message = "a second model begins here, and a file holds one"
        why = "the rest of the file would not be planned"
        fix = "delete the line `---`, or put what follows in a file of its own"
        problem = Problem("two-documents", "error", message, why=why, fix=fix)
        self._faults.add(problem, self._at(event, len("---")))
        return False

    def _refuse(self, event: Any) -> bool:
        """Say plainly that anchors, aliases and tags are not for model files."""
        if isinstance(event, yaml.AliasEvent):
            code, written, sense = "alias", f"*{event.anchor}", "a reference to an anchor"
        elif event.anchor is not None:
            code, written, sense = "anchor", f"&{event.anchor}", "a name for what follows"
        else:
            code, written, sense = "tag", _tag_as_typed(event.tag), "the type of what follows"
        self._faults.add(
            Problem(
                code,
                "error",
                f"YAML takes `{written}` for {sense}, which models do not use",
                why="it would be missing from the text that is printed",
                fix="put quotes round the text if it is text; otherwise write the value out",
            ),
            self._at(event, len(written)),
        )
        return True

    def _refuse_escape(self, event: Any) -> bool:
        """Refuse text with a character that YAML knows only as an escape; tell whether it has."""
        found = NOT_TEXT.search(event.value.replace(LOST, ""))
        if found is None:
            return False
        name = named(found.group()[0])
        message = f"the text holds an unseen character, written with a backslash: {name}"
        why = "the printed page cannot hold it"
        fix = "leave it out, or use single quotation marks if the backslash is meant"
        problem = Problem("hidden-character", "error", message, why=why, fix=fix)
        self._faults.add(problem, self._at(event))
        return True

    def _stop(self, event: Any, problem: Problem) -> bool:
        self._faults.add(problem, self._at(event))
        self.stopped = True
        return False

    def _at(self, event: Any, width: int = 1) -> Place:
        mark = event.start_mark
        return Place(self._source.name, mark.line + 1, mark.column + 1, width)


def _tag_as_typed(tag: str) -> str:
    core = "tag:yaml.org,2002:"
    return f"!!{tag.removeprefix(core)}" if tag.startswith(core) else tag


def _too_many() -> Problem:
    message = f"the file holds over {MOST_NODES:,} values, the most a model may have"
    why = "a model of that size is more likely another file"
    return Problem("too-many", "error", message, why=why, fix="divide the model")
