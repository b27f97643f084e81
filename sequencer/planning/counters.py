"""Counters over a network: which steps nothing holds any more, as steps are taken off the end.

A slot is a counter of what still stands in the way, one for each step and one for each way in.
A step is free when its counter is at nought: all that must follow it is off, and each access need
has an open way. What a step of the same group holds up is counted apart (inner), because a group
comes off as one unit: within it a step may be off while outside it still stands.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.planning.network import Need, Network, Steps


class Counters:
    """The state of one run; `free` collects steps as they come free, in no set order."""

    def __init__(self, network: Network) -> None:
        size = len(network.ids)
        self.size = size
        self.group_of = network.group_of
        self.counts = [0] * size
        self.free: list[int] = []
        # The slots that wait for a step to be off for good, or to be off inside its group.
        self.outer: list[list[int]] = [[] for _ in range(size)]
        self.inner: defaultdict[int, list[int]] = defaultdict(list)
        self.inner_counts: defaultdict[int, int] = defaultdict(int)
        # Ways: each slot from `size` on belongs to a need.
        self.need_of: list[int] = []
        self.step_of_need: list[int] = []
        self.is_open: list[bool] = []
        self.needs_of: dict[int, list[int]] = {}
        self.slots_of: list[range] = []
        # Sets of steps that are waited for as a whole: slots fire when it falls to a number.
        self.outer_sets: defaultdict[int, list[int]] = defaultdict(list)
        self.inner_sets: defaultdict[int, list[int]] = defaultdict(list)
        self.left: list[int] = []
        self.fires: list[defaultdict[int, list[int]]] = []
        self.known_sets: dict[tuple[int, int], int] = {}
        self._load(network)

    def _load(self, network: Network) -> None:
        counts, outer, group_of = self.counts, self.outer, self.group_of
        for relation in network.relations:
            befores, afters = relation[0], relation[1]
            if len(befores) > 1 or len(afters) > 1:
                for before in befores:
                    self._wait_for_set(before, before, afters)
                continue
            before, after = befores[0], afters[0]
            if group_of[before] < 0 or group_of[before] != group_of[after]:
                counts[before] += 1
                outer[after].append(before)
            else:
                self._wait_inside(before, after)
        for need in network.needs:
            self._load_need(need)
        self.free.extend(step for step in range(self.size) if not counts[step])

    def _load_need(self, need: Need) -> None:
        counts, step, ways = self.counts, need.step, need.ways
        number, first = len(self.is_open), len(counts)
        last = first + len(ways)
        counts.extend([0] * len(ways))
        self.need_of.extend([number] * len(ways))
        self.step_of_need.append(step)
        self.needs_of.setdefault(step, []).append(number)
        self.slots_of.append(range(first, last))
        for slot, way in enumerate(ways, first):
            for obstacle in way[1]:
                self._load_obstacle(slot, step, obstacle[3])
        is_open = 0 in counts[first:last]
        self.is_open.append(is_open)
        if not is_open:
            counts[step] += 1

    def _load_obstacle(self, slot: int, step: int, blockers: Steps) -> None:
        if len(blockers) > 1:
            self._wait_for_set(slot, step, blockers)
        elif not blockers:
            self.counts[slot] += 1  # too small: nothing will ever take it away
        elif self.group_of[step] < 0 or self.group_of[step] != self.group_of[blockers[0]]:
            self.counts[slot] += 1
            self.outer[blockers[0]].append(slot)
        else:
            self._wait_inside(slot, blockers[0])

    def _wait_inside(self, slot: int, step: int) -> None:
        self.counts[slot] += 1
        self.inner_counts[slot] += 1
        self.inner[step].append(slot)

    def _wait_for_set(self, slot: int, step: int, awaited: Steps) -> None:
        """Let the slot of `step` wait until `awaited` is off, but for the step itself."""
        group = self.group_of[step]
        own = 1 if step in awaited else 0
        inside = sum(self.group_of[other] == group for other in awaited) if group >= 0 else own
        if len(awaited) > inside:
            number = self._set_of(awaited, -1)
            self.counts[slot] += 1
            self.fires[number][inside].append(slot)
        if inside > own:
            number = self._set_of(awaited, group)
            self.counts[slot] += 1
            self.inner_counts[slot] += 1
            self.fires[number][own].append(slot)

    def _set_of(self, awaited: Steps, group: int) -> int:
        """Return the counter of a set, or of its part in a group; made once for each tuple."""
        number = self.known_sets.get((id(awaited), group))
        if number is None:
            number = self.known_sets[id(awaited), group] = len(self.left)
            members = [s for s in awaited if group < 0 or self.group_of[s] == group]
            table = self.outer_sets if group < 0 else self.inner_sets
            for member in members:
                table[member].append(number)
            self.left.append(len(members))
            self.fires.append(defaultdict(list))
        return number

    # Taking steps off.

    def off_inside(self, step: int) -> None:
        """Take the step off within its group."""
        for slot in self.inner.get(step, ()):
            self._lower(slot)
        for number in self.inner_sets.get(step, ()):
            self._lower_set(number)

    def off(self, step: int) -> None:
        """Take the step off for good."""
        counts = self.counts
        for slot in self.outer[step]:
            counts[slot] -= 1
            if not counts[slot]:
                self._nought(slot)
        for number in self.outer_sets.get(step, ()):
            self._lower_set(number)

    def _lower_set(self, number: int) -> None:
        self.left[number] -= 1
        for slot in self.fires[number].get(self.left[number], ()):
            self._lower(slot)

    def _lower(self, slot: int) -> None:
        self.counts[slot] -= 1
        if not self.counts[slot]:
            self._nought(slot)

    def _nought(self, slot: int) -> None:
        if slot < self.size:
            self.free.append(slot)
            return
        need = self.need_of[slot - self.size]
        if not self.is_open[need]:
            self.is_open[need] = True
            self._lower(self.step_of_need[need])

    def stand_again(self, members: Steps) -> None:
        """Put the steps of a group back, as far as the group itself goes, and refill `free`.

        Only for a group whose steps are all off inside it: then every inner count has run down,
        and each slot holds just what still stands outside.
        """
        for number in {number for member in members for number in self.inner_sets.get(member, ())}:
            self.left[number] = sum(number in self.inner_sets[member] for member in members)
        for member in members:
            self.counts[member] += self.inner_counts.get(member, 0)
            for need in self.needs_of.get(member, ()):
                for slot in self.slots_of[need]:
                    self.counts[slot] += self.inner_counts.get(slot, 0)
                self.is_open[need] = not all(self.counts[slot] for slot in self.slots_of[need])
                self.counts[member] += not self.is_open[need]
        self.free.extend(member for member in members if not self.counts[member])
