"""Rules about options: how they may be declared, and that they decide something."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from sequencer.model.condition_text import KEYWORDS
from sequencer.model.conditions import options_in
from sequencer.model.options import Choice, are_the_same, choice_of, taken_as
from sequencer.problem import Problem
from sequencer.reading.names import id_problem
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.options import Option
    from sequencer.model.uses import Passed
    from sequencer.problem import Path
    from sequencer.reading.source import Sound

MOST_OPTIONS = 20
"""The most options that a model may have."""
MOST_CHOICES = 20
"""The most choices that an option may have."""

_FEWEST = 2
_WHY = "what is there and what is not would depend on it"


def options_are_sound(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield what is wrong with options and their choices, and those that decide nothing."""
    if len(assembly.options) > MOST_OPTIONS:
        count = len(assembly.options)
        message = f"the model has {count} options, and {MOST_OPTIONS} are the most"
        why = "nobody could look through all that can be chosen"
        fix = "leave out those that hardly matter, or make another model"
        path: Path = ("options", assembly.options[MOST_OPTIONS].id)
        yield Problem("too-many", "error", message, path=path, why=why, fix=fix)
    for option in assembly.options:
        path = ("options", option.id)
        if sound(path):
            yield from _id(option, path)
            yield from _choices(option, path)
            yield from _default(option, path)


def _wrong(what: str, path: Path, fix: str, why: str = _WHY) -> Problem:
    return Problem("option", "error", what, path=path, why=why, fix=fix)


def _id(option: Option, path: Path) -> Iterator[Problem]:
    is_figure = choice_of(option.id).amount is not None
    if is_figure or option.id.lower() in KEYWORDS:
        like = "a figure" if is_figure else "a word that joins conditions"
        what = f"option `{option.id}` is called like {like}"
        yield _wrong(what, path, "call it by another word", "no condition could name it")


def _choices(option: Option, path: Path) -> Iterator[Problem]:
    count = len(option.choices)
    if count < _FEWEST:
        what = f"option `{option.id}` has {'one choice' if count else 'no choices'} only"
        yield _wrong(what, (*path, "choices"), "name at least two choices, or leave the option out")
    if count > MOST_CHOICES:
        what = f"option `{option.id}` has {count} choices, and {MOST_CHOICES} are the most"
        yield _wrong(what, (*path, "choices", MOST_CHOICES), "make several options of it")
    known: list[Choice] = []
    for at, text in enumerate(option.choices):
        here = (*path, "choices", at)
        choice = choice_of(text)
        yield from _choice(choice, known[:1], here)
        if _is_among(known, choice):
            what = f"`{shortened(text)}` is a choice of option `{option.id}` twice"
            yield _wrong(what, here, "delete one of them; if another was meant, write that")
        known.append(choice)


def _is_among(known: Sequence[Choice], choice: Choice) -> bool:
    """Tell whether a choice is there already, in other words or units perhaps."""
    return any(are_the_same(other, choice) for other in known)


def _choice(choice: Choice, first: list[Choice], path: Path) -> Iterator[Problem]:
    text = choice.text
    if choice.amount is None:
        problem = id_problem(text)
        if problem is not None:
            fix = "write one word for a choice, with hyphens in it, and say the rest under `ask`"
            what = f"`{shortened(text)}` is neither one word nor one figure"
            yield _wrong(what, path, fix, "conditions name the choice, and so does `--set`")
        elif text.lower() in KEYWORDS:
            what = f"`{text}` joins conditions, so it can be no choice"
            yield _wrong(what, path, "choose another word", "no condition could name it")
    for other in first:
        if _quantity(other) != _quantity(choice):
            what = f"`{shortened(text)}` is {_kind(choice)}, and `{shortened(other.text)}`"
            what += f", the first choice, is {_kind(other)}"
            fix = "write all choices as words, or all as figures of one kind"
            yield _wrong(what, path, fix, "they could not be held against each other")


def _quantity(choice: Choice) -> str:
    return choice.amount.quantity if choice.amount else ""


def _kind(choice: Choice) -> str:
    return f"a {_quantity(choice)}" if choice.amount else "a word"


def _default(option: Option, path: Path) -> Iterator[Problem]:
    if option.default and option.choices and taken_as(option, option.default) is None:
        what = f"option `{option.id}` has no choice `{shortened(option.default)}` to default to"
        yield _wrong(what, (*path, "default"), suggestion(option, option.default))


def suggestion(option: Option, text: str) -> str:
    """Return which choice was probably meant, or which there are."""
    words = [choice for choice in option.choices if choice_of(choice).amount is None]
    near = difflib.get_close_matches(text.casefold()[:40], words, n=1)
    return f"did you mean `{near[0]}`?" if near else f"use one of {listed(option.choices)}"


def listed(names: Iterable[str]) -> str:
    """Join names in backticks with commas."""
    return ", ".join(f"`{name}`" for name in names)


def options_decide_something(assembly: Assembly, conditions: Iterable[str]) -> Iterator[Problem]:
    """Yield the options that no condition speaks of and no used model is given."""
    named = {name for condition in conditions for name in options_in(condition)}
    passed = {name for use in assembly.uses for one in use.options for name in _names(one)}
    for option in assembly.options:
        if option.id not in named and option.id not in passed:
            yield Problem(
                "unused",
                "warning",
                f"option `{option.id}` decides nothing",
                path=("options", option.id),
                why="whoever sets it will think that it changes the job",
                fix="write a condition with it, or leave it out",
            )


def _names(passed: Passed) -> tuple[str, ...]:
    return (passed.choice, passed.option)
