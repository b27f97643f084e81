"""Taking steps off the end while some of them stay, by what only ever shuts a way.

It goes on from where it stopped when fewer steps stay, so that a search can try one more and one
more: what could come off before still can.
"""

from __future__ import annotations

from copy import copy
from typing import TYPE_CHECKING

from sequencer.planning.counters import Counters

if TYPE_CHECKING:
    from sequencer.planning.network import Network


class Peeling:
    """A peel in which units (steps, or groups as one) that stay are passed over.

    Attributes
    ----------
    is_off : bytearray
        For each step 1 if it has come off.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self.counters = Counters(network)
        self.is_off = bytearray(len(network.ids))
        self.left_in_group = [len(group.steps) for group in network.groups]
        self.held: list[int] = []  # units that could come off, but stay

    def copied(self) -> Peeling:
        """Return a copy to go on with."""
        other = copy(self)
        other.counters = counters = copy(self.counters)
        counters.counts = counters.counts[:]
        counters.free = counters.free[:]
        counters.is_open = counters.is_open[:]
        counters.left = counters.left[:]
        other.is_off = self.is_off[:]
        other.left_in_group = self.left_in_group[:]
        other.held = self.held[:]
        return other

    def take_off(self, staying: bytearray) -> None:
        """Take off all that can come off one after the other, but for what stays."""
        held, self.held = self.held, []
        for unit in held:
            self._take(unit, staying)
        counters, group_of = self.counters, self.network.group_of
        free = counters.free
        while free:
            step = free.pop()
            group = group_of[step]
            if group < 0:
                self._take(step, staying)
                continue
            counters.off_inside(step)
            self.left_in_group[group] -= 1
            if not self.left_in_group[group]:
                self._take(counters.size + group, staying)

    def _take(self, unit: int, staying: bytearray) -> None:
        size = self.counters.size
        members = (unit,) if unit < size else self.network.groups[unit - size].steps
        if any(staying[member] for member in members):
            self.held.append(unit)
            return
        for member in members:
            self.is_off[member] = 1
            self.counters.off(member)
