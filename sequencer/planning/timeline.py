"""An order laid out in turns: when each part comes on, and when each way in shuts."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.network import Need, Network, Obstacle, Steps, Way


# Turns between which something stands: raised at the first, cleared at the last.
_Stretch: TypeAlias = tuple[float, float]


class Timeline:
    """Turns count from 0 in the order given; a step that the order lacks has no turn.

    Something stands just before turn t if it was raised before t and is not cleared before t.
    """

    def __init__(self, network: Network, order: Sequence[int]) -> None:
        self.network = network
        self.order = order
        self.turns: list[float] = [inf] * len(network.ids)
        for turn, step in enumerate(order):
            self.turns[step] = turn
        self._firsts: dict[int, tuple[float, float]] = {}
        self._stretches: dict[int, tuple[_Stretch, ...]] = {}

    def first(self, steps: Steps, besides: int = -1) -> float:
        """Return the turn of the first of the steps but one; infinite if none has a turn."""
        if len(steps) == 1:
            return inf if steps[0] == besides else self.turns[steps[0]]
        firsts = self._firsts.get(id(steps))
        if firsts is None:
            turns = sorted(self.turns[step] for step in steps)
            firsts = self._firsts[id(steps)] = (turns[0], turns[1])
        leave_out = besides >= 0 and firsts[0] == self.turns[besides] != inf
        return firsts[1] if leave_out else firsts[0]

    def last(self, steps: Steps) -> float:
        """Return the turn of the last of the steps; infinite if one of them has none."""
        return max(self.turns[step] for step in steps)

    def raised_at(self, obstacle: Obstacle) -> float:
        """Return the turn that raises an obstacle; -1 if it stands from the start."""
        return self.first(obstacle.blockers) if obstacle.blockers else -1

    def cleared_at(self, obstacle: Obstacle) -> float:
        """Return the turn that clears an obstacle; infinite if none does."""
        return self.last(obstacle.clearers) if obstacle.clearers else inf

    def shutter(self, way: Way, turn: float) -> Obstacle | None:
        """Return the obstacle that shuts a way just before a turn, the first raised; else None."""
        standing = [
            obstacle
            for obstacle in way.obstacles
            if self.raised_at(obstacle) < turn <= self.cleared_at(obstacle)
        ]
        return min(standing, key=self.raised_at, default=None)

    def stretches(self, way: Way) -> tuple[_Stretch, ...]:
        """Return the stretches in which a way is shut; those for good are one."""
        found = self._stretches.get(id(way))
        if found is None:
            for_good = inf
            passing: list[_Stretch] = []
            for obstacle in way.obstacles:
                blockers = obstacle.blockers
                raised = self.first(blockers) if blockers else -1
                if obstacle.clearers:
                    passing.append((raised, self.last(obstacle.clearers)))
                elif raised < for_good:
                    for_good = raised
            found = ((for_good, inf), *passing) if for_good < inf else tuple(passing)
            self._stretches[id(way)] = found
        return found

    def is_open(self, way: Way, turn: float) -> bool:
        """Tell whether a way is open just before a turn."""
        return not any(raised < turn <= cleared for raised, cleared in self.stretches(way))

    def last_open(self, way: Way, turn: float) -> float:
        """Return the last turn up to the one given at which a way is open; -1 if it never was."""
        stretches = self.stretches(way)
        before = inf
        while turn < before:
            before = turn
            for raised, cleared in stretches:
                if raised < turn <= cleared:
                    turn = raised
        return turn

    def last_reached(self, needs: Sequence[Need], turn: float) -> float:
        """Return the last turn up to the one given at which all the needs are met; else -1."""
        before = inf
        while turn < before:
            before = turn
            for need in needs:
                ways = need.ways
                if len(ways) == 1:
                    turn = self.last_open(ways[0], turn)
                else:
                    turn = max([self.last_open(way, turn) for way in ways])
            if len(needs) == 1:
                break
        return turn

    def group_turns(self, group: int) -> tuple[int, int]:
        """Return the first and the last turn of a group."""
        turns = [self.turns[step] for step in self.network.groups[group].steps]
        there = [int(turn) for turn in turns if turn < inf]
        return min(there), max(there)
