"""The fields of each record: what they are called, where an unknown one may belong, what lacks."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly, Defaults, HandlingTimes, Isolation, Prints
from sequencer.model.checking import Computed, Otherwise, Rework
from sequencer.model.common import Link, WayIn
from sequencer.model.compounds import Apply, Cold, Heat
from sequencer.model.fastening import ArmOn, Behind, Into, OtherTorque, TighteningPass, TurnLimit
from sequencer.model.fields import Many, Record, Table, declared, records_of
from sequencer.model.lines import LineEnd, LinePlace
from sequencer.model.nearest import nearest
from sequencer.model.options import Option
from sequencer.model.parts import Instead
from sequencer.model.steps import OneOf, Together, Undo
from sequencer.model.uses import Passed, Use
from sequencer.problem import Problem
from sequencer.reading.called import meant_by
from sequencer.reading.decoding import named
from sequencer.reading.names import either
from sequencer.reading.source import HIDDEN, shortened

if TYPE_CHECKING:
    from collections.abc import Collection

    from sequencer.model.fields import Declared, Kind
    from sequencer.problem import Path

_NOUNS = {
    Assembly: "a model file",
    Link: "an entry of a list",
    Otherwise: "`else`",
    Prints: "`prints`",
    Defaults: "`defaults`",
    HandlingTimes: "`handling`",
    Apply: "an entry of `apply`",
    ArmOn: "`adapter`",
    Behind: "`behind`",
    Cold: "`cold`",
    Computed: "an entry of `results`",
    Heat: "`heat`",
    Into: "`into`",
    Isolation: "an entry of `isolation`",
    OtherTorque: "an entry of `also`",
    TighteningPass: "an entry of `passes`",
    TurnLimit: "`turn_limit`",
    Undo: "`undo`",
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


_NEAR = 0.7
_ALIKE = 0.85  # another record has a field of just that name
_SOME = 3


@cache
def fields_of(cls: type) -> dict[str, Declared]:
    """Return the fields that a record may have in the file, by their names there."""
    return {field.name: field for field in declared(cls)}


@cache
def short_field(kind: Record) -> Declared | None:
    """Return the field that a plain value stands for, where the record has such a short form."""
    fields = fields_of(kind.cls).values()
    return next((field for field in fields if field.attribute == kind.short), None)


def record_in(field: Declared) -> type | None:
    """Return the record that stands in a field, by itself, in a list or under ids; None if none."""
    record = record_of(field.kind)
    return record.cls if record is not None else None


def record_of(kind: Kind) -> Record | None:
    """Return the record that a kind is, or is a list or a table of."""
    while isinstance(kind, Many | Table):
        kind = kind.of
    return kind if isinstance(kind, Record) else None


@cache
def stands_under(cls: type) -> str:
    """Return a field under which a record stands; of the whole file ``"model"``.

    Examples
    --------
    >>> stands_under(LineEnd), stands_under(Assembly)
    ('ends', 'model')
    """
    holders = reversed(records_of(Assembly))  # a way in is a step's before it is a check's
    fields = (field for holder in holders for field in fields_of(holder).values())
    return next((field.name for field in fields if record_in(field) is cls), "model")


def noun(cls: type) -> str:
    """Return what a record is called in a sentence, such as ``"a step"``."""
    return _NOUNS.get(cls, f"a {cls.__name__.lower()}")


@lru_cache(maxsize=1024)
def _owners(name: str) -> tuple[type, ...]:
    """Return the records that have a field of this name."""
    return tuple(cls for cls in (*records_of(Assembly), Link) if name in fields_of(cls))


@lru_cache(maxsize=256)
def _use_one_of(fields: tuple[str, ...]) -> str:
    return f"use one of {', '.join(f'`{field}`' for field in fields)}"


def unknown_field(
    cls: type,
    name: str,
    fields: Collection[str],
    *,
    beside: Collection[str] = (),
    in_braces: bool = False,
) -> Problem:
    """Return the problem of a name that is no field of this record; `beside` are those with it."""
    shown = shortened(name)
    hidden = HIDDEN.search(name)
    if hidden:
        message = f"`{shown}` holds an unseen {named(hidden.group())}"
        why = "the name is another one than it seems"
        return Problem("hidden-character", "error", message, why=why, fix="type the name again")
    folded = name.casefold().replace("-", "_").replace(" ", "_")[:40]
    fix = _meant(cls, folded, fields) or _inside(cls, folded, beside) or _elsewhere(cls, folded)
    if not fix:
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


def _meant(cls: type, folded: str, fields: Collection[str]) -> str:
    """Return the question whether a field of the record itself is meant, if one may be."""
    alike = _ALIKE if _owners(folded) else _NEAR
    meant = meant_by(cls, folded) or nearest(folded, tuple(fields), alike) or ""
    return f"did you mean `{meant}`?" if meant else ""


def _inside(cls: type, folded: str, beside: Collection[str]) -> str:
    """Return which field of the record holds one of this name, if one does.

    Of those that are written a figure comes before a name; where none is, all may be meant.
    """
    holding = {
        field.name: short.name
        for field in fields_of(cls).values()
        if isinstance(field.kind, Record)
        and (short := short_field(field.kind)) is not None
        and folded in fields_of(field.kind.cls)
    }
    if cls is Assembly or not holding:
        return ""
    written = [name for name in holding if name in beside] or list(holding)
    likely = min(written, key=lambda name: holding[name] != "value")
    if likely not in beside and len(written) > 1:
        names = either([f"`{name}`" for name in written[:_SOME]])
        return f"`{folded}` belongs to {names}: move it to the one that it is about"
    both = dict.fromkeys((holding[likely], folded))
    whole = f"{likely}: {{{', '.join(f'{name}: …' for name in both)}}}"
    return f"`{folded}` belongs to `{likely}`: write `{whole}`"


def _elsewhere(cls: type, folded: str) -> str:
    """Return where a field of this name does stand, and what to do about it."""
    owners = _owners(folded)
    below = next((owner for owner in owners if owner in records_of(cls)), None)
    if cls is not Assembly and below is not None:
        return f"`{folded}` belongs to {noun(below)}; move it there"
    if not owners:
        return ""
    whole = "the model itself, beside `steps`"
    where = either([whole if owner is Assembly else noun(owner) for owner in owners[:_SOME]])
    listed = f"; `sequencer schema {stands_under(cls)}` lists what belongs here"
    fix = f"it is a field of {where}: move it there if that is meant"
    return fix if cls is Link else fix + listed


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
