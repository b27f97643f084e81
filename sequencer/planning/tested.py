"""Judge an order: every step that breaks a rule at its turn, and by which facts."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.telling import quoted, told_no_way
from sequencer.planning.timeline import Timeline
from sequencer.planning.variants import fallbacks
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.network import Need, Obstacle, Relation
    from sequencer.planning.telling import Teller

_FEW, _SEVERAL = 6, 2


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
        *_barred(teller, timeline),
    ]
    turn = teller.network.index
    found.sort(key=lambda one: timeline.turns[turn[one.step]] if one.step is not None else inf)
    return [*found, *_missing(teller, timeline)]


def _too_early(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    held: dict[int, list[tuple[Relation, list[int]]]] = {}

    def turn_of(step: int) -> float:
        turn = timeline.turns[step]
        return turn if turn < inf else -1  # a missing step is told as such, once

    for relation in teller.network.relations:
        last = max(map(turn_of, relation.befores))
        if last < timeline.first(relation.afters):
            continue
        for after in relation.afters:
            turn = timeline.turns[after]
            itself = relation.befores == relation.afters == (after,)
            tardy = [
                before
                for before in relation.befores
                if turn <= turn_of(before) and (before != after or itself)
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
        members = [step for step in group.steps if timeline.turns[step] < inf]
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
        turn = timeline.turns[need.step]
        if turn < inf and not need.barred:
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
    still = next((one for one in shut if one.clearers), None)
    if raised >= 0:
        name, way = teller.name(timeline.order[raised]), need.ways[last.way].name
        message = f"`{step}` has no way in left at its turn: {name} has shut the last, “{way}”"
        fix = f"move `{step}` to before {name}"
        fix += f" or after {teller.names(last.clearers)}" if last.clearers else ""
    elif still is not None:
        message = f"`{step}` has no way in yet at its turn: `{still.part}` is still on"
        fix = f"move `{step}` to after {teller.names(still.clearers)}"
    else:
        message, fix = told_no_way(f"`{step}`", shut)
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


def _barred(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    for need in teller.network.needs:
        turn = timeline.turns[need.step]
        if turn == inf or not need.barred:
            continue
        bar = timeline.shutter(need.ways[0], turn)
        if bar is not None:
            yield _told_barred(teller, timeline, bar)


def _told_barred(teller: Teller, timeline: Timeline, bar: Obstacle) -> Problem:
    step = teller.network.needs[bar.need].step
    name, begins = teller.name(step), timeline.order[int(timeline.raised_at(bar))]
    ends = teller.names(bar.clearers)
    turned = bar.path[2] == "position"
    if turned:
        message = f"{name} turns the unit over {teller.still(bar)}"
        why = "what is loose or must lie still would fall out or shift"
    else:
        message = (
            f"{name} is barred while `{bar.part}` lasts, which {teller.name(begins)} has begun"
        )
        why = "the model says that it must not be done then"
    return Problem(
        "falls-out" if turned else "not-yet",
        "error",
        message,
        step=teller.network.ids[step],
        path=bar.path,
        facts=(teller.fact(bar),),
        why=why,
        fix=f"move {name} to before {teller.name(begins)} or after {ends}",
    )


def _missing(teller: Teller, timeline: Timeline) -> Iterator[Problem]:
    for step, name in enumerate(teller.network.ids):
        if timeline.turns[step] == inf:
            others = fallbacks(teller.assembly, name)
            instead = f", or {quoted(others, 'or')} in its place" if others else ""
            yield Problem(
                "step-missing",
                "error",
                f"the order lacks `{name}`{instead}",
                step=name,
                path=("steps", name),
                why="the unit would be put together without it",
                fix="put one of them in" if others else "put it in",
            )


def gathered(found: Sequence[Problem]) -> tuple[Problem, ...]:
    """Return findings with those of missing steps told in one, at the end, if there are several.

    Where a name is no step, the step that was meant is among them, and others say little more.
    """
    missing = [one for one in found if one.code == "step-missing"]
    if len(missing) < _SEVERAL:
        return tuple(found)
    names = [one.step for one in missing if one.step is not None]
    listed = quoted(names)
    if len(names) > _FEW:
        listed = f"{len(names)} steps, from `{names[0]}` to `{names[-1]}`"
    whole = Problem(
        "step-missing",
        "error",
        f"the order lacks {listed}",
        why="the unit would be put together without them",
        fix="put every name right first, then put in what is still missing",
    )
    return (*(one for one in found if one.code != "step-missing"), whole)


def one_too_many(step: str) -> Problem:
    """Return the finding for a second step of those of which one is to be done."""
    return Problem(
        "one-too-many",
        "error",
        f"`{step}` is one of several steps of which exactly one is done, and another is there",
        step=step,
        path=("steps", step),
        why="the work would be done twice",
        fix=f"take `{step}` out of the list, or the other",
    )


def _there(known: Sequence[str], sort: str) -> str:
    """Return what may be named: all, where they are few."""
    if not known:
        return "use one that is there"
    if len(known) <= _FEW:
        return f"use {quoted(known, 'or')}"
    return (
        f"see the {sort}s in the file: there are {len(known)}, from `{known[0]}` to `{known[-1]}`"
    )


def unknown(names: Iterable[str], known: Iterable[str], sort: str = "step") -> list[Problem]:
    """Return a finding for each name that is no step (or other `sort` of thing) of the model."""
    from difflib import get_close_matches

    known = list(known)
    there = set(known)
    found = []
    for name in dict.fromkeys(names):
        if name not in there:
            near = get_close_matches(name, known, n=1)
            fix = f"did you mean {quoted(near)}?" if near else _there(known, sort)
            message = f"the model has no {sort} `{name}`"
            why = "the question cannot be answered as it stands"
            found.append(Problem("unknown", "error", message, why=why, fix=fix))
    return found
