"""`sequencer check --all-options`: a model in every combination of its options."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.model.combinations import Combinations, combinations_of, where
from sequencer.model.options import taken_as
from sequencer.problem import has_errors, located

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.options import Option
    from sequencer.problem import Problem
    from sequencer.reading import Reading


@dataclass(frozen=True, slots=True)
class Tried:
    """What checking every combination told.

    Attributes
    ----------
    combinations : Combinations
        Which were tried.
    findings : tuple of Problem
        Each finding once, located; one that is not in all of them says in which it is.
    readable : int
        How many combinations could be read.
    sound : int
        How many have no error.
    in_order : int
        How many have no finding about their written order.
    """

    combinations: Combinations
    findings: tuple[Problem, ...]
    readable: int
    sound: int
    in_order: int


_ABOUT_ORDER = frozenset(("not-yet", "stray", "shut-out"))


def try_all(reading: Reading, settings: Mapping[str, str]) -> Tried:
    """Check a model in every combination of its options, or in a covering set of them.

    Parameters
    ----------
    reading : Reading
        The model, with whatever options chosen.
    settings : mapping of str to str
        What the call sets: options that stay as they are.
    """
    combinations = combinations_of([_held(option, settings) for option in reading.options])
    told: dict[tuple[object, ...], tuple[Problem, list[int]]] = {}
    readable = sound = in_order = 0
    for number, combination in enumerate(combinations.tried):
        resolved = reading.with_settings(combination)
        findings = tuple(_findings(resolved))
        readable += resolved.assembly is not None
        sound += not has_errors(findings)
        in_order += not any(finding.code in _ABOUT_ORDER for finding in findings)
        for key, found in {_key(found): found for found in findings}.items():
            told.setdefault(key, (found, []))[1].append(number)
    every = tuple(_placed(found, numbers, combinations) for found, numbers in told.values())
    return Tried(combinations, every, readable, sound, in_order)


def _held(option: Option, settings: Mapping[str, str]) -> Option:
    """Return an option with the one choice that is set, if one is."""
    choice = taken_as(option, settings[option.id]) if option.id in settings else None
    return replace(option, choices=(choice.text,)) if choice else option


def _key(found: Problem) -> tuple[object, ...]:
    """Return by what a finding is the same in two combinations."""
    return found.code, found.severity, found.message, found.place


def _findings(reading: Reading) -> Iterator[Problem]:
    from sequencer.planning.plan import check

    yield from reading.problems
    if reading.assembly is not None:
        for finding in check(reading.assembly):
            yield located(finding, reading.place_of)


def _placed(found: Problem, numbers: list[int], combinations: Combinations) -> Problem:
    """Return a finding that says in which combinations it is, where it is not in all."""
    only = where(numbers, combinations.tried)
    return replace(found, message=f"{found.message} ({only})") if only else found


def as_json(combinations: Combinations) -> dict[str, object]:
    """Return which combinations were tried, as plain values."""
    return {
        "combinations": combinations.every,
        "tried": [dict(one) for one in combinations.tried],
        "covering": "all" if combinations.are_all else "pairs",
    }


def verdict(file: str, tried: Tried) -> str:
    """Return in one line what was tried and how many of it works."""
    combinations = tried.combinations
    count = len(combinations.tried)
    if combinations.are_all:
        what = f"all {count} combinations of options tried"
    else:
        what = (
            f"{count} of {combinations.every:,} combinations of options tried, "
            "which hold every pair of choices"
        )
    if tried.sound < count:
        return f"{file}: {what}; {count - tried.sound} with errors"
    if tried.in_order < count:
        return f"{file}: {what}; in {count - tried.in_order} the written order does not work"
    return f"{file}: {what}; the written order works in each"
