"""What is still to come, from below: tables of what the beginning of an order costs at least."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.handling.hands import narrowed

if TYPE_CHECKING:
    from sequencer.planning.handling.hands import State, View
    from sequencer.planning.handling.relaxed import Relaxed


class Table(NamedTuple):
    """What can be done before a certain end of an order, with a number of turns.

    Attributes
    ----------
    prices : list of int
        Prices in rising order.
    lacking : list of int
        For each price steps that cannot be done for it, as a set.
    """

    prices: list[int]
    lacking: list[int]


class Outlook:
    """For one part of the handling, what is to come before an end of an order, at least.

    Ends are told apart by how the part sees what they begin with; each such sight has a number.

    Parameters
    ----------
    relaxed : Relaxed
        The part, solved.
    every : int
        All steps, as a set.
    whole : View
        The view in which ends are told.
    spare : int
        How many turns more than the fewest an order may have.
    """

    def __init__(self, relaxed: Relaxed, every: int, whole: View, spare: int) -> None:
        self._relaxed = relaxed
        self._beyond = relaxed.beyond
        self._every = every
        self._whole = whole
        self._spare = spare
        self._numbers: dict[State, int] = {}
        self._sights: list[State] = []
        self._tables: list[list[Table | None]] = []
        self._by_turns: list[list[list[tuple[int, int]]]] = []
        self._steps: dict[tuple[int, int], int] = {}

    def number(self, state: State) -> int:
        """Return the number of what follows, a state of the whole view, as this part sees it."""
        seen = narrowed(state, self._whole, self._relaxed.hands.view)
        number = self._numbers.get(seen)
        if number is None:
            number = self._numbers[seen] = len(self._sights)
            self._sights.append(seen)
            self._tables.append([None] * (self._relaxed.limit + 1))
            self._by_turns.append(self._sorted(seen))
        return number

    def _sorted(self, asked: State) -> list[list[tuple[int, int]]]:
        """Return the beginnings by the turns that they and going on from them take."""
        hands, limit = self._relaxed.hands, self._relaxed.limit
        ways = [hands.joined(state, asked) for state in hands.states]
        by_turns: list[list[tuple[int, int]]] = [[] for _ in range(limit + 1)]
        for price, turns, done, state in self._relaxed.found:
            more, extra = ways[state]
            known = self._beyond is None or price + extra < self._beyond
            if known and turns + more <= limit:
                by_turns[turns + more].append((price + extra, self._every & ~done))
        return by_turns

    def least(self, left: int, sight: int, turns: int, known: int) -> int | None:
        """Return what it costs at least to do a set of steps before what follows.

        Parameters
        ----------
        left : int
            The steps, as a set.
        sight : int
            The number of what follows.
        turns : int
            How many counted turns it may take.
        known : int
            It is known to cost so much.

        Returns
        -------
        int or None
            The price; None if it cannot be done with so many turns.
        """
        table = self._tables[sight][turns]
        if table is None:
            table = self._tables[sight][turns] = self._table(sight, turns)
        prices, lacking = table
        for place in range(bisect_left(prices, known), len(prices)):
            if not left & lacking[place]:
                return prices[place]
        return self._beyond

    def _table(self, sight: int, turns: int) -> Table:
        """Return the table for what follows and a number of turns.

        Beginnings with so few turns that with the end they would make an order of fewer turns
        than the fewest are left out: they never hold all that is left.
        """
        fewest = max(turns - self._spare, 0)
        entries = sorted(
            entry
            for beginnings in self._by_turns[sight][fewest : turns + 1]
            for entry in beginnings
        )
        table = Table([], [])
        for price, lacking in entries:
            if all(other & ~lacking for other in table.lacking):
                table.prices.append(price)
                table.lacking.append(lacking)
        return table

    def step(self, sight: int, then: int) -> int:
        """Return what it costs to go on from what is seen to what is asked for then."""
        price = self._steps.get((sight, then))
        if price is None:
            sights = self._sights
            price = self._relaxed.hands.joined(sights[sight], sights[then])[1]
            self._steps[sight, then] = price
        return price
