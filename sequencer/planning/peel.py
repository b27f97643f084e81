"""Decide backwards whether an order exists: take steps off the end while any can be last.

Removing a step only opens ways, so whatever can be last may be taken and nothing is lost by
choosing it: the sets that can be left form an antimatroid. A group is one unit: it can be last
when its own steps can be taken off one by one while the rest of the job still stands.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.planning.counters import Counters

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.network import Network


@dataclass(frozen=True, slots=True)
class Peeled:
    """What a peel found.

    Attributes
    ----------
    order : tuple of int
        The steps taken off, in the order in which they are to be done; all of them if an order
        exists.
    stuck : frozenset of int
        The steps that could not be taken off; empty if an order exists.
    loosened : frozenset of int
        Steps of `stuck` that came free within their group while the group as a whole did not.
    """

    order: tuple[int, ...]
    stuck: frozenset[int]
    loosened: frozenset[int] = frozenset()


def peel(
    network: Network, ranks: Sequence[int] | None = None, counters: Counters | None = None
) -> Peeled:
    """Take the steps of the network off the end, those of highest rank first.

    Parameters
    ----------
    network : Network
        The rules, as `network.compile_network` gives them.
    ranks : sequence of int, optional
        For each step where it should stand; the default is the written order. Of all that can be
        last, the step of highest rank is taken, a group counting as its highest step. If the
        order by rank is valid, it is the order returned.
    counters : Counters, optional
        Those of the network as they are before anything is taken off; they are used up. The
        default are new ones.

    Returns
    -------
    Peeled
        A valid order, or the steps that are stuck.

    Notes
    -----
    Kahn's method [1]_ run from the end, on the counters of an antimatroid [2]_ instead of those
    of a partial order. O(r + n log n) for n steps and r entries in the rules.

    References
    ----------
    .. [1] A. B. Kahn, "Topological sorting of large networks", Communications of the ACM 5(11),
       1962, pp. 558-562.
    .. [2] B. Korte, L. Lovász, R. Schrader, "Greedoids", Springer, 1991 (from memory).
    """
    run = _Run(network, range(len(network.ids)) if ranks is None else ranks, counters)
    run.take_off()
    order = tuple(reversed(run.taken))
    stuck = frozenset(range(len(network.ids))).difference(order)
    return Peeled(order, stuck, frozenset(run.loosened & stuck))


class _Run:
    def __init__(self, network: Network, ranks: Sequence[int], counters: Counters | None) -> None:
        self.groups = network.groups
        self.group_of = network.group_of
        self.ranks = ranks
        self.counters = Counters(network) if counters is None else counters
        self.units: list[tuple[int, int]] = []  # what can be last: minus its rank, step or group
        self.taken: list[int] = []
        self.left_in_group = [len(group.steps) for group in network.groups]
        self.loosened: set[int] = set()

    def take_off(self) -> None:
        """Take units off until none can be last."""
        counters, units = self.counters, self.units
        size = counters.size
        self._sort_free()
        while units:
            unit = heapq.heappop(units)[1]
            if unit < size:
                self.taken.append(unit)
                counters.off(unit)
            else:
                members = self._inner_order(unit - size)
                self.taken.extend(members)
                for member in members:
                    counters.off(member)
            if counters.free:
                self._sort_free()

    def _sort_free(self) -> None:
        """Make units of the steps that came free; a group is one once all its steps have."""
        free, ranks, group_of = self.counters.free, self.ranks, self.group_of
        units, push = self.units, heapq.heappush
        while free:
            step = free.pop()
            group = group_of[step]
            if group < 0:
                push(units, (-ranks[step], step))
                continue
            self.loosened.add(step)
            self.counters.off_inside(step)
            self.left_in_group[group] -= 1
            if not self.left_in_group[group]:
                rank = max(ranks[member] for member in self.groups[group].steps)
                push(units, (-rank, self.counters.size + group))

    def _inner_order(self, group: int) -> list[int]:
        """Return the steps of a group that can be last, from its last one to its first."""
        counters = self.counters
        counters.stand_again(self.groups[group].steps)
        inside: list[tuple[int, int]] = []
        order: list[int] = []
        while counters.free or inside:
            while counters.free:
                step = counters.free.pop()
                heapq.heappush(inside, (-self.ranks[step], step))
            order.append(heapq.heappop(inside)[1])
            counters.off_inside(order[-1])
        return order
