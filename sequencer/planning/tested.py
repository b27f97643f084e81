"""Judge an order: every step that breaks a rule at its turn, and by which facts."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.telling import quoted
from sequencer.planning.timeline import Timeline
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.network import Need, Obstacle, Relation
    from sequencer.planning.telling import Teller


def judged(teller: Teller, order: Sequence[int]) -> list[Problem]:
    """Return what is wrong with an order, turn by turn; empty if it is valid.

    Parameters
    ----------
    teller : Teller
        The model, with its rules.
    order : sequence of int
        Steps, each at most once. Those that are missing are told once each, at the end.

    Returns
    -------
    list of Problem
        Codes `not-yet`, `stray`, `shut-out` and `step-missing`, all of severity error.
    """
    timeline = Timeline(teller.network, order)
    found = [
        *_too_early(teller, timeline),
        *_strays(teller, timeline),
        *_shut_out(teller, timeline),
    ]
    turn = teller.network.index
    found.sort(key=lambda one: timeline.turn[turn[one.step]] if one.step is not None else inf)
    return [*found, *_missing(teller, timeline)]


def _too_early(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    held: dict[int, list[tuple[Relation, list[int]]]] = {}
    for relation in teller.network.relations:
        last = max((timeline.turn.get(step, -1) for step in relation.befores), default=-1)
        if last < timeline.first(relation.afters):
            continue
        for after in relation.afters:
            turn = timeline.turn.get(after, inf)
            itself = relation.befores == relation.afters == (after,)
            tardy = [
                before
                for before in relation.befores
                if turn <= timeline.turn.get(before, -1) and (before != after or itself)
            ]
            if tardy:
                held.setdefault(after, []).append((relation, tardy))
    for step, reasons in held.items():
        late = list(dict.fromkeys(before for _, befores in reasons for before in befores))
        name = teller.name(step)
        yield Problem(
            "not-yet",
            "error",
            f"{name} stands before {teller.names(late)}, which must come first",
            step=teller.network.ids[step],
            path=("steps", teller.network.ids[step]),
            facts=tuple(teller.fact(relation) for relation, _ in reasons),
            why=f"what {name} needs is not there yet at its turn",
            fix=f"move {name} to after {teller.names(late)}",
        )


def _strays(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    network = teller.network
    for number, group in enumerate(network.groups):
        members = [step for step in group.steps if step in timeline.turn]
        if not members:
            continue
        first, last = timeline.group_turns(number)
        for turn in range(first, last + 1):
            step = timeline.order[turn]
            if network.group_of[step] != number:
                yield Problem(
                    "stray",
                    "error",
                    f"{teller.name(step)} stands in between {teller.names(members)}, "
                    "which go in together",
                    step=network.ids[step],
                    path=("steps", network.ids[step]),
                    facts=(teller.fact(group),),
                    why="they are one operation: nothing foreign may be done in between",
                    fix=f"move {teller.name(step)} to before or after them",
                )


def _shut_out(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    for need in teller.network.needs:
        turn = timeline.turn.get(need.step)
        if turn is not None and not need.barred:
            shutters = [timeline.shutter(way, turn) for way in need.ways]
            shut = [obstacle for obstacle in shutters if obstacle is not None]
            if len(shut) == len(shutters):
                yield _no_way_left(teller, timeline, need, shut)


def _no_way_left(
    teller: Teller, timeline: Timeline, need: Need, shut: Sequence[Obstacle]
) -> Problem:
    step = teller.network.ids[need.step]
    last = max(shut, key=timeline.raised_at)
    raised = int(timeline.raised_at(last))
    if raised < 0:
        message = f"`{step}` fits through none of its ways in"
        fix = "check the sizes; if they are right, the unit needs another way in here"
    else:
        name, way = teller.name(timeline.order[raised]), need.ways[last.way].name
        message = f"`{step}` has no way in left at its turn: {name} has shut the last, “{way}”"
        fix = f"move `{step}` to before {name}"
    return Problem(
        "shut-out",
        "error",
        message,
        step=step,
        path=("steps", step),
        facts=tuple(teller.fact(obstacle) for obstacle in shut),
        why="what shuts it would have to come off again",
        fix=fix,
    )


def _missing(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    for step, name in enumerate(teller.network.ids):
        if step not in timeline.turn:
            yield Problem(
                "step-missing",
                "error",
                f"the order lacks `{name}`",
                step=name,
                path=("steps", name),
                why="the unit would be put together without it",
                fix="put it in",
            )


def unknown(names: Iterable[str], known: Iterable[str]) -> list[Problem]:
    """Return a finding for each name that is no step of the model."""
    from difflib import get_close_matches

    known = list(known)
    found = []
    for name in dict.fromkeys(names):
        if name not in known:
            near = get_close_matches(name, known, n=1)
            hint = f"did you mean {quoted(near)}?" if near else "see `plan` for the steps there are"
            found.append(
                Problem(
                    "unknown",
                    "error",
                    f"the model has no step `{name}`",
                    why="it cannot be put in the order",
                    fix=hint,
                )
            )
    return found
