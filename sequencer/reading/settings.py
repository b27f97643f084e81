"""What a call sets the options of a model to."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from sequencer.model.options import Choice, taken_as
from sequencer.problem import Problem
from sequencer.reading.options import listed, suggestion
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.model.options import Option


def chosen(
    options: Sequence[Option], settings: Mapping[str, str]
) -> tuple[dict[str, Choice], tuple[Problem, ...]]:
    """Return what holds for each option, and what is wrong with the settings of a call.

    Parameters
    ----------
    options : sequence of Option
        The options of a model.
    settings : mapping of str to str
        What the call sets, by the names of options.

    Returns
    -------
    dict of str to Choice
        For each option the choice set, else its default; an option that has neither is left out.
    tuple of Problem
        Settings of no option or to no choice, and options left open; they have no place.
    """
    problems = [_no_such_option(name, options) for name in settings if not _has(options, name)]
    values: dict[str, Choice] = {}
    for option in options:
        text = settings.get(option.id, option.default)
        choice = taken_as(option, text) if text else None
        if choice is not None:
            values[option.id] = choice
        elif option.id in settings:
            message = f"option `{option.id}` has no choice `{shortened(text)}`"
            why = "the order and the sheets would be those of something else"
            fix = suggestion(option, text)
            problems.append(Problem("unknown", "error", message, why=why, fix=fix))
        else:
            problems.append(_open(option))
    return values, tuple(problems)


def _has(options: Sequence[Option], name: str) -> bool:
    return any(option.id == name for option in options)


def _no_such_option(name: str, options: Sequence[Option]) -> Problem:
    ids = [option.id for option in options]
    near = difflib.get_close_matches(name[:40], ids, n=1)
    fix = f"did you mean `{near[0]}`?" if near else f"use one of {listed(ids)}"
    if not ids:
        fix = "leave `--set` out: the model has no options"
    message = f"there is no option `{shortened(name)}`"
    why = "what it was to change would stay as it is"
    return Problem("unknown", "error", message, why=why, fix=fix)


def _open(option: Option) -> Problem:
    ways = " or ".join(f"`--set {option.id}={choice}`" for choice in option.choices)
    asked = f" ({option.ask})" if option.ask else ""
    return Problem(
        "option-open",
        "error",
        f"option `{option.id}`{asked} has no default, and no choice was made",
        path=("options", option.id),
        why="what is there and what is not depends on it",
        fix=f"give {ways}",
    )
