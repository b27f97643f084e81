"""What a valid order tells: the way in used, last chances, and how late each step may be."""

from __future__ import annotations

from collections import defaultdict
from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.results import StepFacts
from sequencer.planning.timeline import Timeline

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.planning.network import Network


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
    shut = _access_ends(timeline)
    chances = _last_chances(timeline, shut)
    follower = _first_followers(timeline)
    used = _ways_used(timeline)
    return {
        network.ids[step]: StepFacts(
            tuple(used.get(step, ())),
            tuple(network.ids[earlier] for earlier in chances.get(step, ())),
            _until(timeline, step, min(shut.get(step, inf), follower.get(step, inf))),
        )
        for step in order
    }


def _access_ends(timeline: Timeline) -> dict[int, float]:
    """Return for each step with an access need the turn that shuts its last way in."""
    ends: dict[int, float] = {}
    for need in timeline.network.needs:
        end = max(map(timeline.way_shut_at, need.ways))
        ends[need.step] = min(ends.get(need.step, inf), end)
    return ends


def _last_chances(timeline: Timeline, shut: Mapping[int, float]) -> dict[int, list[int]]:
    network, order = timeline.network, timeline.order
    chances: defaultdict[int, list[int]] = defaultdict(list)
    for step in order:
        end = shut.get(step, inf)
        if end != inf:
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


def _ways_used(timeline: Timeline) -> dict[int, list[str]]:
    used: defaultdict[int, list[str]] = defaultdict(list)
    for need in timeline.network.needs:
        turn = timeline.turn[need.step]
        used[need.step].append(
            next(way.name for way in need.ways if timeline.way_shut_at(way) > turn)
        )
    return used


def _until(timeline: Timeline, step: int, end: float) -> str | None:
    """Return the last step before turn `end` right after which this one could still be done."""
    network, order = timeline.network, timeline.order
    here = timeline.turn[step]
    own = network.group_of[step]
    last = len(order) - 1 if own < 0 else timeline.group_turns(own)[1]
    turn = int(min(last, end - 1))
    while turn > here:
        group = network.group_of[order[turn]]
        if group < 0 or group == own:
            return network.ids[order[turn]]
        first, final = timeline.group_turns(group)
        if turn == final:
            return network.ids[order[turn]]
        turn = first - 1
    return None
