"""An order laid out in turns: when each part comes on, and when each way in shuts."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.network import Network, Obstacle, Steps, Way


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

    def shut_at(self, obstacle: Obstacle) -> float:
        """Return the turn at which an obstacle comes to stand; a way too small never was open."""
        return self.first(obstacle.blockers) if obstacle.blockers else -1

    def way_shut_at(self, way: Way) -> float:
        """Return the turn that shuts a way in; infinite if none does."""
        return min(map(self.shut_at, way.obstacles), default=inf)

    def group_turns(self, group: int) -> tuple[int, int]:
        """Return the first and the last turn of a group."""
        turns = [self.turn[step] for step in self.network.groups[group].steps if step in self.turn]
        return min(turns), max(turns)
