"""What a model says of those that it uses: which files, and what their options are set to."""

from __future__ import annotations

import difflib
from pathlib import PurePosixPath, PureWindowsPath
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.options import Choice, taken_as
from sequencer.problem import Fact, Problem
from sequencer.reading.binder import Binder
from sequencer.reading.fields import fields_of
from sequencer.reading.names import Names
from sequencer.reading.nodes import Scalar
from sequencer.reading.options import listed, suggestion
from sequencer.reading.source import Faults, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.options import Option
    from sequencer.model.uses import Passed, Use
    from sequencer.problem import Path, Place
    from sequencer.reading.nodes import Mapping as MappingNode
    from sequencer.reading.source import Source

_MISSING = "the unit would be missing from the plan and from the sheets"
_WHY_INSIDE = "all files of a model are in one folder, so that it can be copied whole and moved"
_WHY_OPTION = "what is there of the used model, and what is not, depends on it"


def uses_in(root: MappingNode, source: Source) -> tuple[Use, ...]:
    """Return what a model says under `uses`, as far as it can be read.

    This is needed before anything else is read: names may be those of used models. What is wrong
    with it is told when the whole model is read.
    """
    nodes = (value for key, value in root.entries() if isinstance(key, Scalar) and _is_uses(key))
    node = next(nodes, None)
    if node is None:
        return ()
    binder = Binder(source, Names(root), Faults())
    found: tuple[Use, ...] | None = binder.read(fields_of(Assembly)["uses"].kind, node, ("uses",))
    return found or ()


def _is_uses(key: Scalar) -> bool:
    return key.text.strip() == "uses"


def path_problem(text: str) -> Problem | None:
    """Return what is wrong with the path of a used file, whatever there is on the disk."""
    shown = shortened(text)
    windows = PureWindowsPath(text)
    if PurePosixPath(text).is_absolute() or windows.drive or windows.root:
        message = f"`{shown}` begins at the root of a disk"
        fix = (
            "write the path from the folder of this file, such as `pump.yaml` or `parts/pump.yaml`"
        )
        return Problem("uses", "error", message, why=_WHY_INSIDE, fix=fix)
    if "\\" in text:
        message = f"`{shown}` has backslashes between its folders"
        why = "such a path leads nowhere on most machines"
        return Problem("uses", "error", message, why=why, fix="write `/` between folders")
    if ".." in PurePosixPath(text).parts:
        message = f"`{shown}` leads out of the folder that this file is in"
        fix = "put the used file beside this one, or in a folder below"
        return Problem("uses", "error", message, why=_WHY_INSIDE, fix=fix)
    return None


def leads_out(text: str) -> Problem:
    """Return the problem of a path that a link on the disk turns out of the top file's folder."""
    message = f"`{shortened(text)}` is reached by a link that leads out of the folder of the model"
    fix = "put the used file itself there"
    return Problem("uses", "error", message, why=_WHY_INSIDE, fix=fix)


def is_no_file(text: str) -> Problem:
    """Return the problem of a path at which there is no file."""
    message = f"there is no file `{shortened(text)}`"
    fix = "check the name; it is looked for from the folder of this file"
    return Problem("uses", "error", message, why=_MISSING, fix=fix)


def in_no_folder(text: str) -> Problem:
    """Return the problem of a used file where the using text is in no file itself."""
    message = f"`{shortened(text)}` cannot be looked for: this text is in no folder"
    fix = "write the text to a file beside it"
    return Problem("uses", "error", message, why=_MISSING, fix=fix)


def too_many_used(most: int) -> Problem:
    """Return the problem of too many used models."""
    message = f"over {most} models are used in all, the most there may be"
    why = "nobody could keep the whole in view"
    return Problem("too-many", "error", message, why=why, fix="join some, or divide the job")


def too_deep(most: int) -> Problem:
    """Return the problem of models that use each other too many deep."""
    message = f"models use each other more than {most} deep"
    why = "nobody could keep the whole in view"
    return Problem("too-deep", "error", message, why=why, fix="join some of them")


def too_many_steps(count: int, most: int) -> Problem:
    """Return the problem of too many steps, those of used models counted in."""
    message = f"with the models that it uses it has {count:,} steps, and {most:,} are the most"
    why = "beyond that neither plan nor paper is of use to anybody"
    return Problem("too-many", "error", message, why=why, fix="divide the model")


def circle(way: Sequence[tuple[str, Place | None]]) -> Problem:
    """Return the problem of files that use each other in a circle.

    Parameters
    ----------
    way : sequence of (name, place)
        The files of the circle, and where each uses the next; the last uses the first.
    """
    names = [name for name, _ in way]
    following = [*names[1:], names[0]]
    facts = tuple(
        Fact(f"`{name}` uses `{other}`", place=place)
        for (name, place), other in zip(way, following, strict=True)
    )
    message = f"`{names[0]}` uses itself"
    if len(names) > 1:
        whole = ", which uses ".join(f"`{name}`" for name in following)
        message = f"`{names[0]}` uses {whole}"
    why = "a unit would be a part of itself, and its steps would never end"
    fix = "one of these is meant to be another file"
    return Problem("uses-circle", "error", message, facts=facts, why=why, fix=fix)


def what_is_passed(
    options: Sequence[Option], use: Use, inner: Assembly, file: str
) -> Iterator[Problem]:
    """Yield what is wrong with the options that are passed down to a used model.

    Parameters
    ----------
    options : sequence of Option
        Those of the using model.
    use : Use
        The entry of its `uses`.
    inner : Assembly
        The used model as read.
    file : str
        What its file is called.
    """
    path: Path = ("uses", use.id, "options")
    theirs = {option.id: option for option in inner.options}
    ours = {option.id: option for option in options}
    for one in use.options:
        here = (*path, one.id)
        if one.id not in theirs:
            yield _no_option(one.id, theirs, file, here)
        elif bool(one.choice) == bool(one.option):
            what = "both a choice and an option are given" if one.choice else "nothing is given"
            message = f"option `{one.id}` of `{file}`: {what}"
            fix = f"write `{one.id}: ` and one of {listed(theirs[one.id].choices)}"
            yield Problem("option", "error", message, path=here, why=_WHY_OPTION, fix=fix)
        else:
            yield from _of_one(theirs[one.id], one, ours, file, here)
    passed = {one.id for one in use.options}
    for option in inner.options:
        if not option.default and option.id not in passed:
            asked = f" ({option.ask})" if option.ask else ""
            yield Problem(
                "option-open",
                "error",
                f"option `{option.id}`{asked} of `{file}` has no default, and nothing is passed "
                "to it",
                path=("uses", use.id),
                why=_WHY_OPTION,
                fix=f"write `options: {{{option.id}: {option.choices[0]}}}`, "
                f"or another of {listed(option.choices)}",
            )


def _no_option(name: str, theirs: Mapping[str, Option], file: str, path: Path) -> Problem:
    near = difflib.get_close_matches(name[:40], theirs, n=1)
    message = f"`{file}` has no option `{shortened(name)}`"
    fix = "leave it out: it has no options"
    if theirs:
        fix = f"did you mean `{near[0]}`?" if near else f"use one of {listed(theirs)}"
    return Problem("unknown", "error", message, path=path, why=_WHY_OPTION, fix=fix)


def _of_one(
    inner: Option, one: Passed, ours: Mapping[str, Option], file: str, path: Path
) -> Iterator[Problem]:
    if one.choice and taken_as(inner, one.choice) is not None:
        return
    name = one.option or one.choice
    outer = ours.get(name)
    if outer is None:
        what = "option" if one.option else f"choice of option `{inner.id}` of `{file}`, nor option"
        message = f"there is no {what} `{shortened(name)}`"
        near = difflib.get_close_matches(name[:40], ours, n=1)
        fix = f"did you mean `{near[0]}`?" if near else suggestion(inner, name)
        yield Problem("unknown", "error", message, path=path, why=_WHY_OPTION, fix=fix)
        return
    for choice in outer.choices:
        if taken_as(inner, choice) is None:
            message = (
                f"option `{outer.id}` may be `{choice}`, and option `{inner.id}` of `{file}` "
                "has no such choice"
            )
            fix = f"give both the same choices; `{inner.id}` has {listed(inner.choices)}"
            yield Problem("option", "error", message, path=path, why=_WHY_OPTION, fix=fix)


def passed_values(
    use: Use, inner: Sequence[Option], outer: Mapping[str, Choice]
) -> dict[str, Choice]:
    """Return what holds for each option of a used model.

    Parameters
    ----------
    use : Use
        What is passed down.
    inner : sequence of Option
        The options of the used model.
    outer : mapping of str to Choice
        What was chosen in the using model.
    """
    passed = {one.id: one for one in use.options}
    values: dict[str, Choice] = {}
    for option in inner:
        one = passed.get(option.id)
        choice = taken_as(option, option.default) if option.default else None
        if one is not None:
            fixed = taken_as(option, one.choice) if one.choice else None
            from_outer = outer.get(one.option or one.choice)
            choice = fixed or (taken_as(option, from_outer.text) if from_outer else None)
        if choice is not None:
            values[option.id] = choice
    return values
