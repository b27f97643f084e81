"""What a valid order tells: the way in used, last chances, and how late each step may be."""

from __future__ import annotations

from collections import defaultdict
from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.results import StepFacts
from sequencer.planning.timeline import Timeline

if TYPE_CHECKING:
    from collections.abc import Sequence

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
    access = _Access(timeline)
    chances = _last_chances(timeline, access)
    follower = _first_followers(timeline)
    waiting = _first_waiting(timeline)
    ids, nothing = network.ids, ()
    facts: dict[str, StepFacts] = {}
    for turn, step in enumerate(order):
        end = min(follower[step], waiting.get(step, inf), len(order))
        facts[ids[step]] = StepFacts(
            access.used.get(step, nothing),
            tuple(ids[earlier] for earlier in chances[step]) if step in chances else nothing,
            _until(timeline, turn, access, int(end)) if end - 1 > turn else None,
        )
    return facts


class _Access:
    """For each step with needs: the ways it uses at its turn, and until when it can be reached.

    `for_good` holds the turn that shuts the last way of a step nothing of which is cleared again;
    the other steps are asked of the timeline each time.
    """

    def __init__(self, timeline: Timeline) -> None:
        self.timeline = timeline
        self.needs: defaultdict[int, list[Need]] = defaultdict(list)
        self.for_good: dict[int, float] = {}
        self.used: dict[int, tuple[str, ...]] = {}
        passing: set[int] = set()
        for need in timeline.network.needs:
            step = need.step
            self.needs[step].append(need)
            end = self._end(need)
            if end is None:
                passing.add(step)
            elif end < self.for_good.get(step, inf):
                self.for_good[step] = end
            else:
                self.for_good.setdefault(step, end)
        for step in passing:
            self.for_good.pop(step, None)

    def _end(self, need: Need) -> float | None:
        """Note the way that is used; return the turn that shuts the last way for good."""
        first, step = self.timeline.first, need.step
        turn = self.timeline.turns[step]
        end, used, passing = -1.0, "", False
        for way in need.ways:
            shut = inf
            for obstacle in way[1]:
                if obstacle.clearers:
                    passing = True
                elif not obstacle[3]:
                    shut = -1.0
                else:
                    shut = min(shut, first(obstacle[3]))
            if not used and shut > turn and (not passing or self.timeline.is_open(way, turn)):
                used = way[0]
            end = max(end, shut)
        if not need.barred:
            self.used[step] = (*self.used.get(step, ()), used)
        return None if passing else end

    def until(self, step: int, end: float, *, routes_only: bool = False) -> float:
        """Return the last turn up to `end` at which a step can be reached (and is not barred)."""
        if step in self.for_good:
            return min(end, self.for_good[step])
        needs = self.needs.get(step, [])
        if routes_only:
            needs = [need for need in needs if not need.barred]
        return self.timeline.last_reached(needs, end) if needs else end


def _last_chances(timeline: Timeline, access: _Access) -> dict[int, list[int]]:
    network, order = timeline.network, timeline.order
    chances: defaultdict[int, list[int]] = defaultdict(list)
    for step in order:
        if step not in access.needs:
            continue
        end = access.until(step, len(order), routes_only=True)
        if end == len(order):
            continue
        last = order[int(end)]
        group = network.group_of[last]
        if group >= 0 and group != network.group_of[step]:
            last = order[timeline.group_turns(group)[0]]
        chances[last].append(step)
    return chances


def _first_followers(timeline: Timeline) -> list[float]:
    """Return for each step the turn of the first one that must come after it."""
    turns = timeline.turns
    firsts = [inf] * len(turns)
    for relation in timeline.network.relations:
        befores, afters = relation[0], relation[1]
        if len(befores) == 1 == len(afters):
            before, turn = befores[0], turns[afters[0]]
            firsts[before] = min(firsts[before], turn)
            continue
        for before in befores:
            firsts[before] = min(firsts[before], timeline.first(afters, besides=before))
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
        for turn, number in sorted((timeline.turns[needs[n].step], n) for n in numbers):
            late = turn > timeline.turns[clearer]
            if late and not _is_met(timeline, needs[number], turn, without=clearer):
                firsts[clearer] = turn
                break
    return firsts


def _is_met(timeline: Timeline, need: Need, turn: float, without: int) -> bool:
    """Tell whether a need would be met at a turn if one earlier step were not done yet."""
    return any(
        not any(_stands_without(timeline, obstacle, turn, without) for obstacle in way.obstacles)
        for way in need.ways
    )


def _stands_without(timeline: Timeline, obstacle: Obstacle, turn: float, without: int) -> bool:
    if obstacle.blockers and timeline.first(obstacle.blockers, besides=without) >= turn:
        return False
    cleared = obstacle.clearers and without not in obstacle.clearers
    return not cleared or timeline.last(obstacle.clearers) >= turn


def _until(timeline: Timeline, here: int, access: _Access, end: int) -> str | None:
    """Return the last step before turn `end` right after which this one could still be done."""
    network, order = timeline.network, timeline.order
    group_of, step = network.group_of, order[here]
    own = group_of[step]
    if own >= 0:
        end = min(end, timeline.group_turns(own)[1] + 1)
    while True:
        if step in access.needs:
            end = int(access.until(step, end))
        if end - 1 <= here:
            return None
        group = group_of[order[end - 1]]
        if group < 0 or group == own or timeline.group_turns(group)[1] == end - 1:
            return network.ids[order[end - 1]]
        end = timeline.group_turns(group)[0]
