"""The fields of each record: what they are called, where an unknown one may belong, what lacks."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly, Defaults, Prints
from sequencer.model.checking import Otherwise, Rework
from sequencer.model.common import Link, WayIn
from sequencer.model.fields import Record, Table, declared, records_of
from sequencer.model.lines import LineEnd, LinePlace
from sequencer.model.nearest import nearest
from sequencer.model.options import Option
from sequencer.model.parts import Instead
from sequencer.model.steps import OneOf, Together
from sequencer.model.uses import Passed, Use
from sequencer.problem import Problem
from sequencer.reading.decoding import named
from sequencer.reading.source import HIDDEN, shortened

if TYPE_CHECKING:
    from collections.abc import Collection

    from sequencer.model.fields import Declared
    from sequencer.problem import Path

_NOUNS = {
    Assembly: "a model file",
    Link: "an entry of a list",
    Otherwise: "`else`",
    Prints: "`prints`",
    Defaults: "`defaults`",
    Instead: "an entry of `instead`",
    LineEnd: "an end of a line",
    LinePlace: "a place of a line",
    OneOf: "an entry of `one_of`",
    Option: "an option",
    Passed: "an option passed down",
    Rework: "`rework`",
    Together: "a group",
    Use: "an entry of `uses`",
    WayIn: "a way in",
}


@cache
def fields_of(cls: type) -> dict[str, Declared]:
    """Return the fields that a record may have in the file, by their names there."""
    return {field.name: field for field in declared(cls)}


@cache
def short_field(kind: Record) -> Declared | None:
    """Return the field that a plain value stands for, where the record has such a short form."""
    fields = fields_of(kind.cls).values()
    return next((field for field in fields if field.attribute == kind.short), None)


def noun(cls: type) -> str:
    """Return what a record is called in a sentence, such as ``"a step"``."""
    return _NOUNS.get(cls, f"a {cls.__name__.lower()}")


@lru_cache(maxsize=1024)
def _owner(name: str) -> type | None:
    """Return the record that has a field of this name."""
    return next((cls for cls in (*records_of(Assembly), Link) if name in fields_of(cls)), None)


@lru_cache(maxsize=256)
def _use_one_of(fields: tuple[str, ...]) -> str:
    return f"use one of {', '.join(f'`{field}`' for field in fields)}"


def unknown_field(
    cls: type, name: str, fields: Collection[str], *, in_braces: bool = False
) -> Problem:
    """Return the problem of a name that is no field of this record."""
    shown = shortened(name)
    hidden = HIDDEN.search(name)
    if hidden:
        message = f"`{shown}` holds an unseen {named(hidden.group())}"
        why = "the name is another one than it seems"
        return Problem("hidden-character", "error", message, why=why, fix="type the name again")
    folded = name.casefold().replace("-", "_").replace(" ", "_")[:40]
    near = nearest(folded, tuple(fields), 0.7)
    owner = _owner(name)
    if folded in fields or (near and owner is None):
        fix = f"did you mean `{near}`?"
    elif owner is not None:
        fix = f"`{shown}` belongs to {noun(owner)}; move it there"
    else:
        fix = _use_one_of(tuple(fields))
        if in_braces:
            fix = "if it belongs to the text before it, put quotes round the text; or " + fix
    return Problem(
        "unknown-field",
        "error",
        f"`{shown}` is not a field of {noun(cls)}",
        why="what stands under it would be left out without a word",
        fix=fix,
    )


def missing_field(field: Declared, path: Path) -> Problem:
    """Return the problem of a field that must be there and is not."""
    return Problem(
        "missing",
        "error",
        f"{described(path)} has no `{field.name}`",
        why="the sheets cannot be made without it",
        fix=f"add `{field.name}: …`; {field.doc[0].lower()}{field.doc[1:].rstrip('.')}",
    )


def described(path: Path) -> str:
    """Return what a path leads to, in words.

    Examples
    --------
    >>> described(("steps", "lock", "torque"))
    '`torque` of step `lock`'
    >>> described(("steps", "lock", "ways_in", "front"))
    '`front` of step `lock`'
    >>> described(("together", 0)), described(())
    ('group 1 of `together`', 'the model')
    """
    if not path:
        return "the model"
    top, *rest = path
    if not rest:
        return f"`{top}`"
    field = fields_of(Assembly).get(str(top))
    if field is None or not isinstance(field.kind, Table):
        last = rest[-1]
        entry = "group" if top == "together" else "entry"
        return f"{entry} {last + 1} of `{top}`" if isinstance(last, int) else f"`{last}` of `{top}`"
    thing = f"{field.kind.of.cls.__name__.lower()} `{shortened(str(rest[0]))}`"
    inner = [step for step in rest[1:] if isinstance(step, str)]
    return f"`{shortened(inner[-1])}` of {thing}" if inner else thing
