"""Mend an order that does not work, moving few steps, and prove it the fewest where that can be."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, replace
from itertools import count, pairwise
from typing import TYPE_CHECKING

from sequencer.planning.decide import Decision, decide
from sequencer.planning.forced import forced_before, largest_unforced
from sequencer.planning.moves import count_moves
from sequencer.planning.network import Relation

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.planning.network import Network

# Up to so many steps the fewest moves are proved, but for orders that defy all reason.
PROVED_UP_TO = 60
_LARGEST = 2_000  # steps; beyond, only the first answer and the plain bound on it are tried


@dataclass(frozen=True, slots=True)
class Repaired:
    """A valid order near the one wanted; `fewest` where no valid order is nearer."""

    order: tuple[int, ...]
    moves: int
    fewest: bool


def repair(network: Network, wanted: Sequence[int], work: int | None = None) -> Repaired | None:
    """Return a valid order that moves few steps of the wanted one, or None if none is found.

    Parameters
    ----------
    network : Network
        The rules.
    wanted : sequence of int
        Steps, each at most once; a step that is missing counts as moved.
    work : int, optional
        Bound on the search for fewer moves, in peels and matchings; the result depends on nothing
        else, so it is the same on every machine. The default shrinks with the size of the model.

    Returns
    -------
    Repaired or None

    Notes
    -----
    The peel that prefers the wanted order is a first answer. Which steps can keep their places at
    the most is bounded by the pairs that are forced against the wanted order: a largest antichain
    (see `forced`). If all of it can keep its places the answer is proved. If not, a smallest part
    of it that cannot is found, one of whose steps must move: branch on which, the largest bound
    first.
    """
    ranks = _ranks(network, wanted)
    order = decide(network, ranks).order
    if order is None:
        return None
    first = Repaired(order, count_moves(order, wanted), fewest=False)
    if first.moves == len(network.ids) - len(wanted):
        return replace(first, fewest=True)
    if len(network.ids) > _LARGEST:
        # The wanted order itself is invalid, or it would have been the answer.
        return replace(first, fewest=first.moves == 1)
    return _Search(network, ranks, wanted, _work(len(ranks)) if work is None else work).run(first)


def _work(steps: int) -> int:
    """Return the usual bound on work: generous up to 60 steps, a few seconds' worth beyond."""
    return 6_000 if steps <= PROVED_UP_TO else max(20, 2_000_000 // steps**2)


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
        Relation((before,), (after,), "asked", "step", "", (), "")
        for before, after in pairwise(chain)
    )
    return decide(replace(network, relations=network.relations + bound), ranks)


class _WorkSpentError(Exception):
    """The bound on work is reached."""


class _Search:
    """Best first over sets of steps that may still keep their places."""

    def __init__(
        self, network: Network, ranks: Sequence[int], wanted: Sequence[int], work: int
    ) -> None:
        self.network = network
        self.ranks = ranks
        self.wanted = wanted
        self.before = forced_before(network)
        self.work = work
        self.conflicts: list[frozenset[int]] = []
        self.doubtful = False  # whether some set was given up undecided

    def run(self, first: Repaired) -> Repaired:
        """Return the nearest order found; `first` is one to better."""
        steps = len(self.ranks)
        ticket = count()
        everyone = frozenset(self.wanted)
        waiting: list[tuple[int, int, frozenset[int], frozenset[int]]] = []
        seen = {everyone}
        try:
            waiting.append(self._entry(everyone, ticket))
            while waiting:
                most, _, may_stay, kept = heapq.heappop(waiting)
                if steps + most >= first.moves:
                    break
                order = self._try(kept)
                if order is not None:
                    moves = count_moves(order, self.wanted)
                    return Repaired(order, moves, fewest=not self.doubtful)
                for step in self._conflict(kept):
                    fewer = may_stay - {step}
                    if fewer not in seen:
                        seen.add(fewer)
                        heapq.heappush(waiting, self._entry(fewer, ticket))
        except _WorkSpentError:
            return first
        return replace(first, fewest=not self.doubtful)

    def _entry(
        self, may_stay: frozenset[int], ticket: count[int]
    ) -> tuple[int, int, frozenset[int], frozenset[int]]:
        """Return a place in the queue: the most that can stay comes first, then the oldest."""
        self._spend()
        kept = largest_unforced(self.before, self.ranks, sorted(may_stay))
        return -len(kept), next(ticket), may_stay, kept

    def _try(self, stay: Iterable[int]) -> tuple[int, ...] | None:
        self._spend()
        decision = _keeping(self.network, self.ranks, stay)
        self.doubtful |= decision.undecided
        return decision.order

    def _spend(self) -> None:
        if self.work <= 0:
            raise _WorkSpentError
        self.work -= 1

    def _conflict(self, kept: frozenset[int]) -> list[int]:
        """Return steps that cannot all keep their places, while without any one of them they can.

        Whatever a set cannot stay without is left out piece by piece; sets that were found before
        are taken as they are.
        """
        known = next((conflict for conflict in self.conflicts if conflict <= kept), None)
        if known is not None:
            return sorted(known, key=self.ranks.__getitem__)
        steps = sorted(kept, key=self.ranks.__getitem__)
        piece = max(len(steps) // 2, 1)
        while True:
            at = 0
            while at < len(steps):
                rest = steps[:at] + steps[at + piece :]
                if self._try(rest) is None:
                    steps = rest
                else:
                    at += piece
            if piece == 1:
                self.conflicts.append(frozenset(steps))
                return steps
            piece //= 2
