"""What a person types for steps, checks and parts: printed numbers, ranges, ids."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.records.state import State

_MOST_NAMED = 8
_RANGE = re.compile(r"([0-9]+)\s*(?:-|–|\.\.|to)\s*([0-9]+)")  # a dash as typed


def steps_named(words: Iterable[str], state: State) -> tuple[str, ...]:
    """Return the steps that words such as ``lock``, ``4`` or ``14-22`` mean, each once.

    Numbers are those of the printed order; an id goes before a number. What means no step is
    returned as it was typed.

    Raises
    ------
    UsageError
        If the words hold nothing.
    """
    found: dict[str, None] = {}
    typed = " ".join(words).replace(",", " ").split()
    if not typed:
        raise click.UsageError("no step is named: write its printed number, or its id")
    for word in typed:
        found |= dict.fromkeys(_meant(word, state))
    return tuple(found)


def _meant(word: str, state: State) -> Sequence[str]:
    order = state.model.order
    if any(step.id == word for step in state.assembly.steps):
        return (word,)
    if word.isascii() and word.isdigit() and 1 <= int(word) <= len(order):
        return (order[int(word) - 1],)
    ends = _RANGE.fullmatch(word)
    if ends and 1 <= int(ends[1]) <= int(ends[2]) <= len(order):
        return order[int(ends[1]) - 1 : int(ends[2])]
    return (word,)


def strange(
    names: Iterable[str], known: Iterable[str], kind: str, otherwise: str = ""
) -> list[Problem]:
    """Return an objection for each name that the model does not have.

    Where none is like it, `otherwise` says what to do, or else what there is does.
    """
    from difflib import get_close_matches

    have = list(known)
    found = []
    for name in names:
        if name not in have:
            near = get_close_matches(name, have, n=1, cutoff=0.7)
            message = f"the model has no {kind} `{name}`"
            why = f"what is recorded of it counts for no {kind} of the model"
            fix = f"did you mean `{near[0]}`?" if near else otherwise or _there_is(have, kind)
            found.append(Problem("unknown", "warning", message, why=why, fix=fix))
    return found


def _there_is(have: Sequence[str], kind: str) -> str:
    """Say what there is of a kind, where that is little enough to be read through."""
    if not have:
        return "look at the packet again: is it of this model?"
    if len(have) > _MOST_NAMED:
        return "see what there is in the packet"
    return f"write the {kind} as in the model: {', '.join(f'`{name}`' for name in have)}"


def strange_steps(names: Iterable[str], state: State) -> list[Problem]:
    """Return an objection for each name that is no step."""
    printed = f"see the packet: it numbers the steps from 1 to {len(state.model.order)}"
    return strange(names, (step.id for step in state.assembly.steps), "step", printed)


def pair(word: str) -> tuple[str, str]:
    """Return a name and a value from ``name=value``.

    Raises
    ------
    ValueError
        If there is no `=`, or nothing before or behind it.
    """
    name, found, value = word.partition("=")
    if not found or not name.strip() or not value.strip():
        raise ValueError(word)
    return name.strip(), value.strip()


def numbered(steps: Sequence[str], state: State) -> str:
    """Name steps by printed number and id; a long run by its ends.

    Steps without a number are named by id alone.
    """
    number = state.number
    numbers = [number.get(step, 0) for step in steps]
    in_a_row = numbers == list(range(numbers[0], numbers[0] + len(numbers))) and numbers[0]
    if len(steps) > 2 and in_a_row:  # noqa: PLR2004  # two are named one by one
        return f"steps {numbers[0]} to {numbers[-1]}"
    each = [
        f"{at} (`{step}`)" if at else f"`{step}`" for step, at in zip(steps, numbers, strict=True)
    ]
    return f"step{'s' if len(each) > 1 else ''} {', '.join(each)}"
