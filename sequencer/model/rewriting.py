"""Go through all that a model holds, by what its fields declare, and make another one of it."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import TYPE_CHECKING, Any

from sequencer.model.assembly import Assembly
from sequencer.model.fields import (
    Choices,
    Fitted,
    Links,
    Many,
    Record,
    Table,
    Text,
    Word,
    declared,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.common import Link
    from sequencer.model.fields import Declared
    from sequencer.model.steps import Fit
    from sequencer.problem import Path

Thing = tuple[str, str]
"""A thing of a model: its kind and its id."""

_NAMING = {"source": "source", "with": "tool", "unit": "unit", "section": "section"}
"""Fields of words in which an id stands, or may stand as well, and of what kind of thing."""


def kind_of(cls: type) -> str:
    """Return the word for what a record describes, such as ``"step"`` for `Step`."""
    return cls.__name__.lower()


@cache
def tables(cls: type) -> dict[str, str]:
    """Return the tables of a model: for each kind of thing, the field that holds them."""
    return {
        kind_of(field.kind.of.cls): field.name
        for field in declared(cls)
        if isinstance(field.kind, Table)
    }


@cache
def _fields(cls: type) -> tuple[Declared, ...]:
    """Return the fields of a record in which names of other things can stand, at any depth."""
    return tuple(
        field
        for field in declared(cls)
        if isinstance(field.kind, Links | Choices | Fitted | Record | Many | Table)
        or (isinstance(field.kind, Text) and field.name in _NAMING)
        or bool(isinstance(field.kind, Word) and getattr(field.kind, "or_a", ""))
    )


class Rewriter:
    """Makes another model of a model; as it stands it changes nothing.

    A subclass says what becomes of each name. A record or an entry of a list for which None comes
    back is left out; `kept` then holds, for the path of the list, the numbers of those kept. Paths
    are those of the model that is read, not of the one that is made.
    """

    def __init__(self) -> None:
        self.kept: dict[Path, tuple[int | Path, ...]] = {}

    def link(self, link: Link) -> Link | None:
        """Return what becomes of a name of another thing."""
        return link

    def fit(self, fit: Fit) -> Fit | None:
        """Return what becomes of a part that a step fits."""
        return fit

    def words(self, thing: Thing) -> str:
        """Return what becomes of words that are or may be the id of a thing."""
        return thing[1]

    def record(self, record: Any, path: Path) -> Any:
        """Return what becomes of a record: the same one if nothing in it changes."""
        changes: dict[str, Any] = {}
        cls: type = type(record)
        for field in _fields(cls):
            value = getattr(record, field.attribute)
            if value in (None, "", ()):
                continue
            made = self._value(field.kind, value, (*path, field.name))
            if made is not value:
                changes[field.attribute] = made
        return dataclasses.replace(record, **changes) if changes else record

    def _value(self, kind: Any, value: Any, path: Path) -> Any:
        made: Any = value
        if isinstance(kind, Links):
            made = self._list(value, [self.link(link) for link in value], path)
        elif isinstance(kind, Fitted):
            made = self._list(value, [self.fit(fit) for fit in value], path)
        elif isinstance(kind, Choices):
            of_one = Links(kind.kinds)
            entries = [self._value(of_one, links, (*path, at)) for at, links in enumerate(value)]
            made = self._list(value, [entry or None for entry in entries], path)
        elif isinstance(kind, Text):
            made = self.words((_NAMING[str(path[-1])], value))
        elif isinstance(kind, Word):
            made = self.words((getattr(kind, "or_a", ""), value))
        elif isinstance(kind, Record):
            made = self.record(value, path)
        elif isinstance(kind, Table):
            records = [self.record(one, (*path, getattr(one, kind.key))) for one in value]
            made = self._changed(value, [one for one in records if one is not None])
        elif isinstance(kind, Many) and isinstance(kind.of, Record):
            records = [self.record(one, (*path, at)) for at, one in enumerate(value)]
            made = self._list(value, records, path)
        return made

    def _list(self, before: tuple[Any, ...], after: list[Any], path: Path) -> tuple[Any, ...]:
        """Return what is left of a list, and keep which of its entries those are."""
        if None in after:
            self.kept[path] = tuple(at for at, entry in enumerate(after) if entry is not None)
            after = [entry for entry in after if entry is not None]
        return self._changed(before, after)

    def _changed(self, before: tuple[Any, ...], after: list[Any]) -> tuple[Any, ...]:
        same = len(before) == len(after) and all(
            one is other for one, other in zip(before, after, strict=True)
        )
        return before if same else tuple(after)


def things_in(assembly: Assembly) -> Iterator[Thing]:
    """Yield everything in a model by kind and id, sections and parts without an entry too."""
    for kind, table in tables(Assembly).items():
        for record in getattr(assembly, table):
            yield kind, record.id
    for step in assembly.steps:
        if step.section:
            yield "section", step.section
        for fit in step.fits:
            yield "part", fit.part


def things_named(record: Any) -> set[Thing]:
    """Return what a record names, by kind and id; in words that need be no id too."""
    names = _Names()
    names.record(record, ())
    return names.found


class _Names(Rewriter):
    """Gathers the names, and changes nothing."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[Thing] = set()

    def link(self, link: Link) -> Link | None:
        self.found.add((link.kind, link.to))
        return link

    def fit(self, fit: Fit) -> Fit | None:
        self.found.add(("part", fit.part))
        return fit

    def words(self, thing: Thing) -> str:
        self.found.add(thing)
        return thing[1]
