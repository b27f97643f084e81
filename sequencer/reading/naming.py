"""Rules about names: of the model, its sections and parts, and ids that look alike."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.model.uses import BETWEEN
from sequencer.problem import Fact, Problem
from sequencer.reading.coated import what_is_closed_was_coated
from sequencer.reading.names import id_problem, look_alike_key, reserved_problem
from sequencer.reading.records import counted_name
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Path
    from sequencer.reading.names import Names
    from sequencer.reading.source import Source

_NOT_IN_FILE_NAMES = frozenset("/:")


def naming_problems(
    assembly: Assembly, sound: Callable[[Path], bool], names: Names, source: Source
) -> Iterator[Problem]:
    """Yield the problems of names in a model as far as it was read."""
    if sound(("assembly",)):
        yield from _the_model_has_an_id(assembly)
    if names.by_use("section"):
        yield from _sections_have_free_names(assembly)
    elif sound(("sections",)):
        yield from _sections_are_listed(assembly, names)
    yield from _units_are_no_parts(names, source)
    yield from _prefixes_are_free(names, source)
    yield from _counts_stand_in_their_field(assembly)
    yield from _ids_look_different(names, source)
    yield from what_is_closed_was_coated(assembly, sound)


def _the_model_has_an_id(assembly: Assembly) -> Iterator[Problem]:
    problem = id_problem(assembly.assembly)
    if problem is None and not _NOT_IN_FILE_NAMES.isdisjoint(assembly.assembly):
        message = f"`{assembly.assembly}` cannot name the files that are printed"
        why = "printed files are called by the id of the model"
        fix = "write it without `/` and `:`"
        problem = Problem("bad-id", "error", message, why=why, fix=fix)
    if problem:
        yield replace(problem, path=("assembly",))


def _counts_stand_in_their_field(assembly: Assembly) -> Iterator[Problem]:
    for part in assembly.parts:
        counted = counted_name(part.name)
        if counted and part.quantity == 1:
            count, name = counted
            yield Problem(
                "doubtful",
                "warning",
                f"`{shortened(part.name)}` is the name of one part, not {count} of them",
                path=("parts", part.id, "name"),
                why="only where the name is all that is said of a part does it hold the quantity",
                fix=f"write `quantity: {count}` and `name: {shortened(name)}`, if that is meant",
            )


def _sections_have_free_names(assembly: Assembly) -> Iterator[Problem]:
    for step in assembly.steps:
        problem = reserved_problem(step.section)
        if problem:
            yield replace(problem, step=step.id, path=("steps", step.id, "section"))


def _units_are_no_parts(names: Names, source: Source) -> Iterator[Problem]:
    for name, key in names.keys["unit"].items():
        part = names.keys["part"][name]
        if part is key:
            continue
        yield Problem(
            "ambiguous",
            "error",
            f"`{shortened(name)}` is both a part and a unit",
            place=source.place(key),
            facts=(Fact(f"`{name}` is a part here", place=source.place(part)),),
            why="a step that fits it could mean either",
            fix="give one of them another id; a unit need not be listed under `parts`",
        )


def _prefixes_are_free(names: Names, source: Source) -> Iterator[Problem]:
    """Yield ids of used models that can be no prefix, and others that begin like one."""
    uses = names.keys["use"]
    for use, key in uses.items():
        if BETWEEN in use:
            message = f"`{shortened(use)}` cannot be a prefix: it holds `{BETWEEN}` itself"
            why = f"`{BETWEEN}` parts the prefix from the ids of the used model"
            fix = f"write it without `{BETWEEN}`"
            yield Problem("bad-id", "error", message, place=source.place(key), why=why, fix=fix)
        if names.keys["unit"][use] is not key:
            message = f"`{shortened(use)}` is both a unit and a used model"
            fact = Fact("it is a unit here", place=source.place(names.keys["unit"][use]))
            why = "its steps would build one, and the steps of the other file another"
            fix = "give one of them another id; a used model need not be listed under `units`"
            place = source.place(key)
            yield Problem(
                "ambiguous", "error", message, place=place, facts=(fact,), why=why, fix=fix
            )
    for kind, keys in names.keys.items():
        for name, key in keys.items() if uses else ():
            use, between, _ = name.partition(BETWEEN)
            if not between or use not in uses or key is uses[use]:
                continue
            yield Problem(
                "ambiguous",
                "error",
                f"{names.sort(kind, name)} `{shortened(name)}` begins like what comes from `{use}`",
                place=source.place(key),
                facts=(Fact(f"`{use}` is a used model", place=source.place(uses[use])),),
                why="nobody could tell which of the two files it is in",
                fix=f"give it another id; things of `{use}` are declared in its own file",
            )


def _sections_are_listed(assembly: Assembly, names: Names) -> Iterator[Problem]:
    listed = names.keys["section"]
    for step in assembly.steps:
        if step.section and step.section not in listed:
            near = names.near(step.section, listed)
            some = ", ".join(f"`{name}`" for name in list(listed)[:6])
            yield Problem(
                "unknown",
                "error",
                f"there is no section `{shortened(step.section)}`",
                step=step.id,
                path=("steps", step.id, "section"),
                why="where `sections` lists them, every step must be in one of those",
                fix=f"did you mean `{near}`?" if near else f"use one of {some}, or list it there",
            )


def _ids_look_different(names: Names, source: Source) -> Iterator[Problem]:
    for kind, keys in names.keys.items():
        if kind == "unit":  # among the parts
            continue
        alike: dict[str, str] = {}
        for name, node in keys.items():
            if node in names.keys["use"].values() and BETWEEN in name:  # told in its own file
                continue
            first = alike.setdefault(look_alike_key(name), name)
            if first == name:
                continue
            yield Problem(
                "look-alike",
                "warning",
                f"{_both(names, kind, first, name)} look the same to a reader",
                place=source.place(node),
                facts=(Fact("the first of them", place=source.place(keys[first])),),
                why="on paper one is easily taken for the other",
                fix="if they are one thing, write both alike; if not, give one another id",
            )


def _both(names: Names, kind: str, first: str, name: str) -> str:
    one, other = names.sort(kind, first), names.sort(kind, name)
    if one == other:
        return f"{one}s `{shortened(first)}` and `{shortened(name)}`"
    return f"{one} `{shortened(first)}` and {other} `{shortened(name)}`"
