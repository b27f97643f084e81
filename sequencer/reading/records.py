"""Records, tables of them and lists: mappings of the file into the model's dataclasses."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sequencer.model.fastening import Torque
from sequencer.model.fields import Fitted, Links, Many, Record, Text
from sequencer.model.parts import Part
from sequencer.model.steps import Section
from sequencer.problem import Problem
from sequencer.reading.fields import (
    fields_of,
    missing_field,
    noun,
    short_field,
    unknown_field,
)
from sequencer.reading.mending import holds_words
from sequencer.reading.names import id_problem, reserved_problem
from sequencer.reading.nodes import Mapping, Scalar, Sequence, is_empty, is_null
from sequencer.reading.plain import wrong_kind
from sequencer.reading.source import HIDDEN, shortened

if TYPE_CHECKING:
    from sequencer.model.fields import Table
    from sequencer.problem import Path
    from sequencer.reading.binder import Binder
    from sequencer.reading.nodes import Node

_TEXT = Text()
_TORQUES = (
    "one torque is wanted here, and this is a list",
    "write the one that holds as `value`, with its `source`, and what others say under `also`",
)
_MAY_BE_WAITED_FOR = frozenset(("steps", "sections", "checks"))
_COUNTED_NAME = re.compile(r"(?P<count>[0-9]{1,6})\s*(?:×\s*|(?<=\s)[xX]\s+|[xX]\s+)(?P<name>.*\S)")
_SIZE_FIRST = re.compile(r"[0-9.,]+\s*[×xX]")
_FIRST_WORD = re.compile(r"(?P<field>\w+)\s+(?P<rest>\S.*)", re.DOTALL)
_FIELD_THEN_TEXT = re.compile(r"(?P<field>\w+):(?P<rest>\S.*)", re.DOTALL)


def is_single(kind: Many, node: Node) -> bool:
    """Tell whether a list is the only entry of a list of lists, its outer brackets left out."""
    if not isinstance(kind.of, Record) or not isinstance(node, Sequence):
        return False
    short = short_field(kind.of)
    return (
        short is not None
        and isinstance(short.kind, Links | Many | Fitted)
        and not (isinstance(short.kind, Links) and short.kind.one)
        and all(isinstance(item, Scalar) for item in node.items)
    )


def read_many(binder: Binder, kind: Many, node: Node, path: Path) -> tuple[Any, ...]:
    """Return the values of a list, without empty ones."""
    items = [(0, node)] if is_single(kind, node) else binder.items(node, path)
    values = [binder.read(kind.of, item, (*path, index)) for index, item in items]
    return tuple(value for value in values if value is not None)


def read_table(binder: Binder, kind: Table, node: Node, path: Path) -> tuple[Any, ...] | None:
    """Return the records of a mapping from names to records."""
    if not isinstance(node, Mapping):
        binder.fault(_no_table(kind, node), node, path)
        return None
    records = []
    words = holds_words(kind.of)
    for key, name, value in binder.entries(node, path):
        here = (*path, name)
        problem = id_problem(name) if _is_strict(kind) else None
        if path[-1] in _MAY_BE_WAITED_FOR:
            problem = reserved_problem(name) or problem
        if problem:
            binder.fault(problem, key, here)
        if not is_null(value) and not binder.is_sound(value, here, words=words):
            continue
        record = _Reader(binder, kind.of, here, key).read(value, {kind.key: name})
        if record is not None:
            records.append(record)
    return tuple(records)


def _is_strict(kind: Table) -> bool:
    """Tell whether the names of a table are ids; ways in and sections may be called in words."""
    return kind.key == "id" and kind.of.cls is not Section


def counted_name(text: str) -> tuple[int, str] | None:
    """Return the count and the rest of a name such as ``20 × Ball``, if it is one.

    Examples
    --------
    >>> counted_name("20 × Ball 3/16"), counted_name("Seal 25 × 35 × 7")
    ((20, 'Ball 3/16'), None)
    """
    found = _COUNTED_NAME.fullmatch(text)
    return (int(found["count"]), found["name"]) if found else None


def _no_table(kind: Table, node: Node) -> Problem:
    thing = noun(kind.of.cls)
    message = f"names with what belongs to each are wanted here, and this is {_called(node)}"
    fix = f"begin each line with the name of {thing} and a colon, without a hyphen"
    if isinstance(node, Scalar):
        found = _FIELD_THEN_TEXT.match(node.text)
        if found and not node.style:
            return _no_space(found)
    return wrong_kind(message, fix)


def _called(node: Node) -> str:
    if isinstance(node, Scalar):
        return f"`{shortened(node.text)}`"
    return "a list" if isinstance(node, Sequence) else "a set of fields"


def _no_space(found: re.Match[str]) -> Problem:
    name, rest = found["field"], found["rest"]
    message = f"there is no space after the colon of `{name}:`"
    if HIDDEN.match(rest):
        message = f"the space after the colon of `{name}:` is not an ordinary one"
    fix = f"write `{name}: {shortened(rest.lstrip(rest[0] if HIDDEN.match(rest) else ''))}`"
    why = "YAML takes the field and its value for one piece of text"
    return Problem("no-space", "error", message, why=why, fix=fix)


def read_record(binder: Binder, kind: Record, node: Node, path: Path) -> Any:
    """Return a record, from its fields or from the plain value that stands for one of them."""
    return _Reader(binder, kind, path, node).read(node, {})


class _Reader:
    """Reads one record; `at` is where to point when something is missing."""

    def __init__(self, binder: Binder, kind: Record, path: Path, at: Node) -> None:
        self._binder = binder
        self._cls = kind.cls
        self._short = short_field(kind)
        self._fields = fields_of(kind.cls)
        self._path = path
        self._at = at

    def read(self, node: Node, given: dict[str, Any]) -> Any:
        """Return the record; None if it lacks what it must have."""
        if is_empty(node) or is_null(node):
            values = {}
        elif isinstance(node, Mapping):
            values = self._of_fields(node)
        else:
            values = self._of_plain(node)
        return self._cls(**given, **values) if self._is_whole(values) else None

    def _of_fields(self, node: Mapping) -> dict[str, Any]:
        binder, values = self._binder, {}
        for key, name, value in binder.entries(node, self._path):
            here = (*self._path, name)
            field = self._fields.get(name)
            if field is None:
                self._foreign(key, name, here, node)
                continue
            held = binder.read(field.kind, value, here)
            if held is not None:
                values[field.attribute] = held
                binder.note_words(name, held, value, here)
        return values

    def _foreign(self, key: Scalar, name: str, path: Path, among: Mapping) -> None:
        beside = {one.text for one in among.items[::2] if isinstance(one, Scalar)}
        problem = unknown_field(self._cls, name, self._fields, beside=beside, in_braces=among.flow)
        self._binder.fault(problem, key, path)

    def _of_plain(self, node: Scalar | Sequence) -> dict[str, Any]:
        field = self._short
        if isinstance(node, Scalar) and not node.style:
            slip = _FIELD_THEN_TEXT.match(node.text)
            if slip and slip["field"] in self._fields:
                self._binder.fault(_no_space(slip), node, (*self._path, slip["field"]))
                if field is not None:
                    self._binder.faults.spoil((*self._path, field.name))
                return {}
        if self._cls is Torque and isinstance(node, Sequence):
            self._binder.fault(wrong_kind(*_TORQUES), node, (*self._path, "value"))
            return {}
        if field is None:
            message = f"{noun(self._cls)} needs its fields, and this is {_called(node)}"
            first = sorted(self._fields, key=lambda name: not self._fields[name].required)[:3]
            some = ", ".join(f"`{name}: …`" for name in first)
            problem = wrong_kind(message, f"write its fields: {some}")
            self._binder.fault(problem, node, self._path)
            for lacking in self._fields.values():
                self._binder.faults.spoil((*self._path, lacking.name))
            return {}
        if isinstance(node, Scalar) and not isinstance(field.kind, Text):
            worded = _FIRST_WORD.fullmatch(node.text.strip())
            if worded and worded["field"] in self._fields:
                field, node = self._fields[worded["field"]], _rest_of(node, worded)
        if self._cls is Part and isinstance(node, Scalar):
            return self._part(node)
        held = self._binder.read(field.kind, node, (*self._path, field.name))
        return {} if held is None else {field.attribute: held}

    def _part(self, node: Scalar) -> dict[str, Any]:
        """Read `20 × Ball` as twenty of them."""
        text = self._binder.read(_TEXT, node, self._path)
        counted = counted_name(text) if text else None
        if text is None or counted is None:
            return {} if text is None else {"name": text}
        count, name = counted
        if _SIZE_FIRST.match(name) or count == 0:
            message = f"`{shortened(text)}` could be a size, or {count} of something"
            fix = f"write `{{name: …}}`, and `quantity: {count}` if that is meant"
            why = "the kit list and the count of what is left over depend on it"
            problem = Problem("doubtful", "error", message, why=why, fix=fix)
            self._binder.fault(problem, node, self._path)
            return {}
        return {"quantity": count, "name": name}

    def _is_whole(self, values: dict[str, Any]) -> bool:
        """Tell whether all that must be there is; tell of what was never written."""
        whole = True
        for field in self._fields.values():
            if not field.required or field.attribute in values:
                continue
            whole = False
            if self._binder.faults.sound((*self._path, field.name)):
                self._binder.fault(missing_field(field, self._path), _head(self._at), self._path)
        return whole


def _head(node: Node) -> Node:
    """Return what to point at for all of a node: of fields on lines of their own, the first key."""
    if isinstance(node, Mapping) and node.items and not node.flow:
        return node.items[0]
    return node


def _rest_of(node: Scalar, found: re.Match[str]) -> Scalar:
    column = node.column + (found.start("rest") if not node.style else 0)
    return replace(node, text=found["rest"], column=column)
