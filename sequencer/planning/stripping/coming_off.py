"""Which steps can be taken back where some cannot, and in which order."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.network import Need, Obstacle, Relation, Way
from sequencer.planning.peel import peel

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

    from sequencer.planning.network import Network


class ComingOff:
    """One valid order of building, and what of it can be taken back.

    Notes
    -----
    A step comes off when none that must follow it is left and one of its ways is open with what
    is left. What only clears a way again is settled as the order has it: a step that came after
    what cleared its way keeps to that, any other has that way shut. So the order itself is valid
    under these rules, and taking off backwards is exact for them.
    """

    def __init__(self, network: Network, order: Sequence[int], has_something: Collection[int]):
        self.ranks = [0] * len(network.ids)
        for rank, step in enumerate(order):
            self.ranks[step] = rank
        relations = list(network.relations)
        needs = tuple(_settled(network.needs, self.ranks, relations, has_something))
        self.network = replace(network, relations=tuple(relations), needs=needs)

    def order_without(self, never: Iterable[int]) -> tuple[int, ...]:
        """Return the steps that come off although some never do, in the order of building."""
        network = self.network
        stuck = tuple(Need(step, (Way("", (Obstacle(0, 0, "", (), (), ""),)),)) for step in never)
        return peel(replace(network, needs=(*network.needs, *stuck)), self.ranks).order


def _settled(
    needs: Iterable[Need],
    ranks: Sequence[int],
    relations: list[Relation],
    has_something: Collection[int],
) -> Iterator[Need]:
    """Yield the needs with nothing cleared again in them; what keeps behind a clearing is added."""
    for need in needs:
        if need.barred or need.step not in has_something:
            continue
        rank = ranks[need.step]
        ways: list[Way] = []
        for way in need.ways:
            standing: list[Obstacle] = []
            for obstacle in way.obstacles:
                after = obstacle.clearers and all(ranks[step] < rank for step in obstacle.clearers)
                if after:
                    relations.append(
                        Relation(obstacle.clearers, (need.step,), "cleared", "part", "", (), "")
                    )
                else:
                    standing.append(obstacle._replace(clearers=()))
            ways.append(Way(way.name, tuple(standing)))
        yield Need(need.step, tuple(ways))


def needs_by_step(network: Network) -> dict[int, list[Need]]:
    """Return the access needs of each step that has any."""
    found: dict[int, list[Need]] = {}
    for need in network.needs:
        if not need.barred:
            found.setdefault(need.step, []).append(need)
    return found


def open_ways(needs: Iterable[Need], done: Collection[int]) -> tuple[str, ...] | None:
    """Return the first open way of each need of a step; None if one of them has none."""
    found = []
    for need in needs:
        name = next((way.name for way in need.ways if not _is_shut(way, done)), None)
        if name is None:
            return None
        found.append(name)
    return tuple(found)


def _is_shut(way: Way, done: Collection[int]) -> bool:
    return any(_stands(obstacle, done) for obstacle in way.obstacles)


def _stands(obstacle: Obstacle, done: Collection[int]) -> bool:
    raised = not obstacle.blockers or any(step in done for step in obstacle.blockers)
    cleared = bool(obstacle.clearers) and all(step in done for step in obstacle.clearers)
    return raised and not cleared
