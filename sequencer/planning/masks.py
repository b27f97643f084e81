"""The rules of a network as bit masks over sets of steps, for work that goes from set to set.

A set of steps is an int: bit n is step n. Validity depends only on the set of steps done, so
counting and dynamic programming over such sets are exact.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.planning.network import Network

# An obstacle: the steps that raise it, and the steps that take it away when all are done.
_Bar: TypeAlias = tuple[int, int]


class Masks:
    """Tells which steps may be done next, given the set of steps done.

    Attributes
    ----------
    size : int
        How many steps there are.
    every : int
        The set of all steps.
    before, after : list of int
        For each step the set of steps that must be done before it, or after it.
    group : list of int
        For each step its group as a set; 0 without one.
    passing : bool
        Whether something that shuts a way is ever cleared again.
    """

    def __init__(self, network: Network) -> None:
        self.size = len(network.ids)
        self.every = (1 << self.size) - 1
        self.before = [0] * self.size
        self.after = [0] * self.size
        for relation in network.relations:
            befores = mask_of(relation.befores)
            alone = len(relation.befores) == 1 == len(relation.afters)
            afters = mask_of(relation.afters)
            for step in relation.afters:
                self.before[step] |= befores if alone else befores & ~(1 << step)
            for step in relation.befores:
                self.after[step] |= afters if alone else afters & ~(1 << step)
        self.groups = [mask_of(group.steps) for group in network.groups]
        self.group = [self.groups[number] if number >= 0 else 0 for number in network.group_of]
        self.passing = any(obstacle.clearers for obstacle in network.obstacles())
        self.needs: list[list[list[list[_Bar]]]] = [[] for _ in range(self.size)]
        for need in network.needs:
            ways = [
                [(mask_of(bar.blockers), mask_of(bar.clearers)) for bar in way.obstacles]
                for way in need.ways
            ]
            self.needs[need.step].append(ways)

    def open_group(self, done: int) -> int:
        """Return the group that is begun and not finished, as a set; 0 if there is none."""
        for group in self.groups:
            part = done & group
            if part and part != group:
                return group
        return 0

    def may_do(self, step: int, done: int) -> bool:
        """Tell whether a step may be done next, leaving aside which group is open."""
        return not self.before[step] & ~done and self._is_reached(step, done)

    def may_follow(self, step: int, done: int) -> bool:
        """Tell whether a step may be done next, minding a group that is open."""
        group = self.open_group(done)
        return (not group or bool(group >> step & 1)) and self.may_do(step, done)

    def last_steps(self, left: int) -> Iterator[int]:
        """Yield every step of a set that may be done last of it, the others being done.

        Going back like this from the set of all steps meets no dead end between groups where the
        rules only shut ways: what can be last may be taken off, and the rest can still be done.
        """
        for step in steps_in(left):
            rest = left & ~(1 << step)
            if self.after[step] & left:
                continue
            group = self.open_group(rest)
            if (not group or group >> step & 1) and self._is_reached(step, rest):
                yield step

    def _is_reached(self, step: int, done: int) -> bool:
        return all(any(_is_open(way, done) for way in ways) for ways in self.needs[step])


def _is_open(way: Iterable[_Bar], done: int) -> bool:
    for raised, cleared in way:
        stands = not raised or raised & done
        if stands and not (cleared and not cleared & ~done):
            return False
    return True


def mask_of(steps: Iterable[int]) -> int:
    """Return a set of steps as an int."""
    mask = 0
    for step in steps:
        mask |= 1 << step
    return mask


def steps_in(mask: int) -> Iterator[int]:
    """Yield the steps of a set, lowest first."""
    while mask:
        lowest = mask & -mask
        yield lowest.bit_length() - 1
        mask ^= lowest
