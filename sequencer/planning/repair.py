"""Mend an order that does not work, moving few steps, and prove it the fewest where that can be."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.planning.decide import Decision, decide
from sequencer.planning.moves import count_moves
from sequencer.planning.network import Relation

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.planning.network import Network

# How many steps may be looked at, over all peels, in search of fewer moves.
WORK = 400_000


@dataclass(frozen=True, slots=True)
class Repaired:
    """A valid order near the one wanted; `fewest` where no valid order is nearer."""

    order: tuple[int, ...]
    moves: int
    fewest: bool


def repair(network: Network, wanted: Sequence[int], work: int = WORK) -> Repaired | None:
    """Return a valid order that moves few steps of the wanted one, or None if none is found.

    Parameters
    ----------
    network : Network
        The rules.
    wanted : sequence of int
        Steps, each at most once; a step that is missing counts as moved.
    work : int
        Bound on the search for fewer moves, in steps looked at; the result depends on nothing
        else, so it is the same on every machine.

    Returns
    -------
    Repaired or None

    Notes
    -----
    The peel that prefers the wanted order is a first answer. Which steps may keep their places
    is then an implicit hitting set problem: of every smallest set of steps that cannot all keep
    them, one must move. Sets are found as they are run into, and branched on by depth first,
    one move more at a time, from the proven least upwards.
    """
    ranks = _ranks(network, wanted)
    order = decide(network, ranks).order
    if order is None:
        return None
    first = Repaired(order, count_moves(order, wanted), fewest=False)
    return _Search(network, ranks, wanted, work).run(first)


def _ranks(network: Network, wanted: Sequence[int]) -> list[int]:
    """Rank the steps as wanted; a missing one goes right behind its nearest written forerunner."""
    position = {step: at for at, step in enumerate(wanted)}
    places: list[tuple[int, int]] = []
    nearest = -1
    for step in range(len(network.ids)):
        nearest = position.get(step, nearest)
        places.append((nearest, -1 if step in position else step))
    ranks = [0] * len(places)
    for rank, step in enumerate(sorted(range(len(places)), key=places.__getitem__)):
        ranks[step] = rank
    return ranks


def _keeping(network: Network, ranks: Sequence[int], kept: Iterable[int]) -> Decision:
    """Decide whether a valid order exists in which the kept steps follow each other by rank."""
    chain = sorted(kept, key=ranks.__getitem__)
    bound = tuple(
        Relation((before,), (after,), "kept", "step", "", (), "")
        for before, after in pairwise(chain)
    )
    return decide(replace(network, relations=network.relations + bound), ranks)


class _WorkSpentError(Exception):
    """The bound on work is reached."""


class _Search:
    """Iterative deepening over which steps move; `conflicts` are sets that cannot all stay."""

    def __init__(
        self, network: Network, ranks: Sequence[int], wanted: Sequence[int], work: int
    ) -> None:
        self.network = network
        self.ranks = ranks
        self.wanted = wanted
        self.peels = work // max(len(ranks), 1)
        self.conflicts: list[frozenset[int]] = []
        self.seen: set[frozenset[int]] = set()
        self.doubtful = False  # whether some set was given up undecided

    def run(self, first: Repaired) -> Repaired:
        """Return the nearest order found; `first` is one to better."""
        missing = len(self.ranks) - len(self.wanted)
        try:
            for depth in range(first.moves - missing):
                self.seen.clear()
                order = self._deepen(frozenset(self.wanted), depth)
                if order is not None:
                    moves = count_moves(order, self.wanted)
                    return Repaired(order, moves, fewest=not self.doubtful)
        except _WorkSpentError:
            return first
        return replace(first, fewest=not self.doubtful)

    def _deepen(self, stay: frozenset[int], depth: int) -> tuple[int, ...] | None:
        """Return an order in which all of `stay` but `depth` steps keep their places."""
        if stay in self.seen:
            return None
        self.seen.add(stay)
        conflict = next((known for known in self.conflicts if known <= stay), None)
        if conflict is None:
            order = self._try(stay)
            if order is not None:
                return order
            conflict = self._conflict(stay)
            self.conflicts.append(conflict)
        if self._apart(stay) > depth:
            return None
        for step in sorted(conflict, key=self.ranks.__getitem__):
            order = self._deepen(stay - {step}, depth - 1)
            if order is not None:
                return order
        return None

    def _apart(self, stay: frozenset[int]) -> int:
        """Count known conflicts that share no step: each costs a move of its own."""
        used: set[int] = set()
        count = 0
        for conflict in self.conflicts:
            if conflict <= stay and used.isdisjoint(conflict):
                used |= conflict
                count += 1
        return count

    def _try(self, stay: Iterable[int]) -> tuple[int, ...] | None:
        if self.peels <= 0:
            raise _WorkSpentError
        self.peels -= 1
        decision = _keeping(self.network, self.ranks, stay)
        self.doubtful |= decision.undecided
        return decision.order

    def _conflict(self, stay: frozenset[int]) -> frozenset[int]:
        """Leave out of a set that cannot stay whatever it cannot stay without, piece by piece."""
        kept = sorted(stay, key=self.ranks.__getitem__)
        piece = max(len(kept) // 2, 1)
        while True:
            at = 0
            while at < len(kept):
                rest = kept[:at] + kept[at + piece :]
                if self._try(rest) is None:
                    kept = rest
                else:
                    at += piece
            if piece == 1:
                return frozenset(kept)
            piece //= 2
