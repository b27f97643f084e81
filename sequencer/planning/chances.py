"""What a valid order tells: the way in used, last chances, and how late each step may be."""

from __future__ import annotations

from collections import defaultdict
from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.results import StepFacts
from sequencer.planning.timeline import Timeline

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sequencer.planning.network import Need, Network, Obstacle


def told_by_order(network: Network, order: Sequence[int]) -> dict[str, StepFacts]:
    """Return for each step, in the order given, what that order tells about it.

    Parameters
    ----------
    network : Network
        The rules.
    order : sequence of int
        A valid order of all steps.

    Returns
    -------
    dict of str to StepFacts

    Notes
    -----
    Step y is the last chance for an earlier x if, going down the order with x left out, the
    access needs of x are met just before y and never again after it; where y is in a group
    without x, the line stands at the group's first step. Linear in the size of the rules.
    """
    timeline = Timeline(network, order)
    needs = _needs_of(network)
    chances = _last_chances(timeline, needs)
    follower = _first_followers(timeline)
    waiting = _first_waiting(timeline)
    facts: dict[str, StepFacts] = {}
    for step in order:
        end = min(follower.get(step, inf), waiting.get(step, inf), len(order))
        facts[network.ids[step]] = StepFacts(
            _ways_used(timeline, needs.get(step, ()), step),
            tuple(network.ids[earlier] for earlier in chances.get(step, ())),
            _until(timeline, step, needs.get(step, ()), int(end)),
        )
    return facts


def _needs_of(network: Network) -> dict[int, list[Need]]:
    needs: defaultdict[int, list[Need]] = defaultdict(list)
    for need in network.needs:
        needs[need.step].append(need)
    return needs


def _last_chances(timeline: Timeline, needs: Mapping[int, list[Need]]) -> dict[int, list[int]]:
    network, order = timeline.network, timeline.order
    chances: defaultdict[int, list[int]] = defaultdict(list)
    for step in order:
        routes = [need for need in needs.get(step, ()) if not need.barred]
        end = timeline.last_reached(routes, len(order)) if routes else len(order)
        if end == len(order):
            continue
        last = order[int(end)]
        group = network.group_of[last]
        if group >= 0 and group != network.group_of[step]:
            last = order[timeline.group_turns(group)[0]]
        chances[last].append(step)
    return chances


def _first_followers(timeline: Timeline) -> dict[int, float]:
    """Return for each step the turn of the first one that must come after it."""
    firsts: dict[int, float] = {}
    for relation in timeline.network.relations:
        for before in relation.befores:
            turn = timeline.first(relation.afters, besides=before)
            if turn < firsts.get(before, inf):
                firsts[before] = turn
    return firsts


def _first_waiting(timeline: Timeline) -> dict[int, float]:
    """Return for each step the turn of the first one that needs what it has cleared away."""
    cleared_for: defaultdict[int, set[int]] = defaultdict(set)
    needs = timeline.network.needs
    for number, need in enumerate(needs):
        for way in need.ways:
            for obstacle in way.obstacles:
                for clearer in obstacle.clearers:
                    cleared_for[clearer].add(number)
    firsts: dict[int, float] = {}
    for clearer, numbers in cleared_for.items():
        for turn, number in sorted((timeline.turn[needs[n].step], n) for n in numbers):
            late = turn > timeline.turn[clearer]
            if late and not _is_met(timeline, needs[number], turn, without=clearer):
                firsts[clearer] = turn
                break
    return firsts


def _is_met(timeline: Timeline, need: Need, turn: int, without: int) -> bool:
    """Tell whether a need would be met at a turn if one earlier step were not done yet."""
    return any(
        not any(_stands_without(timeline, obstacle, turn, without) for obstacle in way.obstacles)
        for way in need.ways
    )


def _stands_without(timeline: Timeline, obstacle: Obstacle, turn: int, without: int) -> bool:
    if obstacle.blockers and timeline.first(obstacle.blockers, besides=without) >= turn:
        return False
    cleared = obstacle.clearers and without not in obstacle.clearers
    return not cleared or timeline.last(obstacle.clearers) >= turn


def _ways_used(timeline: Timeline, needs: Iterable[Need], step: int) -> tuple[str, ...]:
    turn = timeline.turn[step]
    return tuple(
        next(way.name for way in need.ways if timeline.shutter(way, turn) is None)
        for need in needs
        if not need.barred
    )


def _until(timeline: Timeline, step: int, needs: Iterable[Need], end: int) -> str | None:
    """Return the last step before turn `end` right after which this one could still be done."""
    network, order = timeline.network, timeline.order
    here = timeline.turn[step]
    own = network.group_of[step]
    if own >= 0:
        end = min(end, timeline.group_turns(own)[1] + 1)
    while True:
        end = int(timeline.last_reached(needs, end))
        if end - 1 <= here:
            return None
        group = network.group_of[order[end - 1]]
        if group < 0 or group == own or timeline.group_turns(group)[1] == end - 1:
            return network.ids[order[end - 1]]
        end = timeline.group_turns(group)[0]
