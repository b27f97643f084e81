"""The columns of a table of parts or steps: which field each of them fills."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.fields import (
    Choices,
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Number,
    Record,
    Text,
    TorqueText,
    Whole,
    Word,
)
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.reading.called import ALSO_CALLED, ID
from sequencer.reading.fields import fields_of, short_field

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.fields import Kind

SECTIONS = {"parts": Part, "steps": Step}
"""What a table may hold: the section of a model, and the record of each row."""

_OF_EXPORT = frozenset(("last_chance_for", "in_steps"))
_TOLD_ONLY = frozenset(("turn", "joint_torque", "guessed (min)", *_OF_EXPORT))
_UNITS_IN_NAMES = {"minutes": "min", "mins": "min"}
_UNIT_BEHIND = re.compile(r"(?P<name>.*?)\s*[(\[]\s*(?P<unit>[^)\]]+?)\s*[)\]]")


class Column(NamedTuple):
    """A column that fills a field: its place, the field, and a unit for figures without one."""

    at: int
    field: str
    kind: Kind
    unit: str


def column_of(head: str, cls: type, at: int) -> Column | None:
    """Return the column that a head stands over, if it names a field of parts or of steps.

    Examples
    --------
    >>> column_of("Part No.", Part, 0).field, column_of("Weight [kg]", Part, 0).unit
    ('number', 'kg')
    """
    found = _UNIT_BEHIND.fullmatch(head)
    name = _plain(found["name"] if found else head)
    field = _names(cls).get(name)
    if field is None:
        return None
    kind = Text() if field == ID else _simple(fields_of(cls)[field].kind)
    unit = found["unit"] if found else _UNITS_IN_NAMES.get(name, "")
    return None if kind is None else Column(at, field, kind, unit)


def told_only(heads: Sequence[str]) -> frozenset[str]:
    """Return the columns that `export` adds for whoever reads its table, and no field has.

    They are passed over in a table of ours only, which others would hardly call so.

    Examples
    --------
    >>> sorted(told_only(["turn", "id", "last_chance_for"])), sorted(told_only(["turn", "id"]))
    (['last_chance_for', 'turn'], [])
    """
    return frozenset(heads) & _TOLD_ONLY if _OF_EXPORT.intersection(heads) else frozenset()


def known_heads(cls: type) -> list[str]:
    """Return the names that a column may have, one for each field."""
    return [ID, *(name for name, field in fields_of(cls).items() if _simple(field.kind))]


def _plain(head: str) -> str:
    return re.sub(r"[\W_]+", " ", head).strip().casefold()


@cache
def _names(cls: type) -> dict[str, str]:
    """Return the field that each name of a column stands for."""
    names = {_plain(name): name for name in known_heads(cls)}
    for field, others in ALSO_CALLED[cls].items():
        for other in others.split(", "):
            names.setdefault(_plain(other), field)
    return names


def _simple(kind: Kind) -> Kind | None:
    """Return what a cell of a field holds: of a record its short form; None if no cell can."""
    if isinstance(kind, Record):
        short = short_field(kind)
        return _simple(short.kind) if short else None
    simple = Text | Whole | Number | Flag | Word | Figure | TorqueText | Links | Choices | Fitted
    if isinstance(kind, Many):
        return kind if isinstance(kind.of, Text | Word) else None
    return kind if isinstance(kind, simple) else None
