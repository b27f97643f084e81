"""An order laid out in turns: when each part comes on, and when each way in shuts."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.planning.network import Need, Network, Obstacle, Steps, Way


class Timeline:
    """Turns count from 0 in the order given; a step that the order lacks has no turn."""

    def __init__(self, network: Network, order: Sequence[int]) -> None:
        self.network = network
        self.order = order
        self.turn = {step: turn for turn, step in enumerate(order)}
        self._firsts: dict[int, tuple[float, float]] = {}

    def first(self, steps: Steps, besides: int = -1) -> float:
        """Return the turn of the first of the steps but one; infinite if none has a turn."""
        if len(steps) == 1:
            return inf if steps[0] == besides else self.turn.get(steps[0], inf)
        firsts = self._firsts.get(id(steps))
        if firsts is None:
            turns = sorted(self.turn.get(step, inf) for step in steps)
            firsts = self._firsts[id(steps)] = (turns[0], turns[1])
        return firsts[1] if firsts[0] == self.turn.get(besides, -1) else firsts[0]

    def stands(self, obstacle: Obstacle, turn: float) -> bool:
        """Tell whether an obstacle stands just before a turn."""
        if obstacle.blockers and self.first(obstacle.blockers) >= turn:
            return False
        return not obstacle.clearers or self.last(obstacle.clearers) >= turn

    def last(self, steps: Steps) -> float:
        """Return the turn of the last of the steps; infinite if one of them has none."""
        return max(self.turn.get(step, inf) for step in steps)

    def raised_at(self, obstacle: Obstacle) -> float:
        """Return the turn that raises an obstacle; -1 if it stands from the start."""
        return self.first(obstacle.blockers) if obstacle.blockers else -1

    def shutter(self, way: Way, turn: float) -> Obstacle | None:
        """Return the obstacle that shuts a way just before a turn, the first raised; else None."""
        standing = [obstacle for obstacle in way.obstacles if self.stands(obstacle, turn)]
        return min(standing, key=self.raised_at, default=None)

    def last_open(self, way: Way, turn: float) -> float:
        """Return the last turn up to the one given at which a way is open; -1 if it never was."""
        while turn >= 0:
            standing = [obstacle for obstacle in way.obstacles if self.stands(obstacle, turn)]
            if not standing:
                return turn
            turn = min(map(self.raised_at, standing))
        return -1

    def last_reached(self, needs: Iterable[Need], turn: float) -> float:
        """Return the last turn up to the one given at which all the needs are met; else -1."""
        needs = tuple(needs)
        while True:
            before = turn
            for need in needs:
                turn = max(self.last_open(way, turn) for way in need.ways)
            if turn in (before, -1):
                return turn

    def group_turns(self, group: int) -> tuple[int, int]:
        """Return the first and the last turn of a group."""
        turns = [self.turn[step] for step in self.network.groups[group].steps if step in self.turn]
        return min(turns), max(turns)
