"""One view of the handling, solved for itself: how far an order can get at which price."""

from __future__ import annotations

import heapq
from typing import TYPE_CHECKING

from sequencer.planning.handling.hands import Hands

if TYPE_CHECKING:
    from sequencer.planning.handling.hands import View
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.rules import Rules
    from sequencer.planning.handling.turning import Turning


class Relaxed:
    """Beginnings of orders, with only what precedes what regarded, and only what a view shows.

    Whatever costs nothing is done at once, so that a beginning is a largest set of steps done,
    with its turns, its price and its state of the hands. One that another outdoes in all of
    these is dropped, and one from which the rest takes too many turns.

    Attributes
    ----------
    hands : Hands
        The states of the hands in this view.
    limit : int
        How many counted turns an order may have.
    found : list of tuple
        Beginnings in order of price: price, turns, steps done, state of the hands.
    worked : int
        How many states have been looked at.
    """

    def __init__(
        self, rules: Rules, kinds: Kinds, view: View, turning: Turning, limit: int, spare: int
    ) -> None:
        self._rules = rules
        self.hands = Hands(kinds, view)
        self.limit = limit
        self._left_over = (
            [turning.left_over(limit - turns) for turns in range(limit + 1)] if view.counted else []
        )
        self.found: list[tuple[int, int, int, int]] = []
        self.worked = 0
        self._whole: int | None = None
        self._dearest = 1 + rules.size * (kinds.turn + sum(kinds.prices))
        self._spare = max(spare, 0)
        self._kept: dict[tuple[int, int], list[int]] = {}
        self._met: dict[tuple[int, int], list[tuple[int, int]]] = {}
        self._grown: dict[tuple[int, int], int] = {}
        self._heap: list[tuple[int, int, int, int]] = []
        self._offer(0, 0, rules.grown(0, self.hands.free(0)), 0)

    @property
    def beyond(self) -> int | None:
        """What any beginning not yet found costs at least; None if there is no other."""
        return self._heap[0][0] if self._heap else None

    @property
    def bound(self) -> int:
        """What a whole order costs at least in this view; beyond all prices if there is none."""
        if self._whole is not None:
            return self._whole
        return self._heap[0][0] if self._heap else self._dearest

    def run(self, states: int, *, to_the_end: bool = False) -> None:
        """Find beginnings until one is whole or, to the end, none is left.

        Stops once so many states in all have been looked at.
        """
        every = self._rules.every
        while self._heap and self.worked < states and (to_the_end or self._whole is None):
            price, turns, done, state = heapq.heappop(self._heap)
            if self._is_outdone(turns, done, state):
                continue
            self.found.append((price, turns, done, state))
            if done != every:
                self._go_on(price, turns, done, state)
            elif self._whole is None:
                self._whole = price

    def _is_outdone(self, turns: int, done: int, state: int) -> bool:
        """Tell whether what has been found holds as much with as few turns; else keep it.

        What has more than the spare turns less cannot hold as much: with an end that is possible
        it would make an order of fewer turns than the fewest.
        """
        for fewer in range(turns - self._spare, turns + 1):
            kept = self._kept.get((state, fewer), ())
            self.worked += 1 + len(kept) // 4
            for lacking in kept:
                if not done & lacking:
                    return True
        self._kept.setdefault((state, turns), []).append(self._rules.every & ~done)
        return False

    def _go_on(self, price: int, turns: int, done: int, state: int) -> None:
        hands, rules = self.hands, self._rules
        row = hands.rows[state]
        for kind, members in enumerate(hands.members):
            if not members & ~done:
                continue
            more, extra, then = row[kind]
            if then == state or turns + more > self.limit:
                continue
            grown = self._grown.get((done, then))
            if grown is None:
                grown = self._grown[done, then] = rules.grown(done, hands.free(then))
            if grown & members & ~done:
                self._offer(price + extra, turns + more, grown, then)

    def _offer(self, price: int, turns: int, done: int, state: int) -> None:
        self.worked += 1
        met = self._met.setdefault((done, state), [])
        for cheaper, fewer in met:
            if cheaper <= price and fewer <= turns:
                return
        if self._left_over and not self._can_end(turns, done, state):
            return
        met.append((price, turns))
        heapq.heappush(self._heap, (price, turns, done, state))

    def _can_end(self, turns: int, done: int, state: int) -> bool:
        """Tell whether the turns that are left are enough for what is not yet done."""
        rest = self._rules.every & ~done
        place = self.hands.states[state][0][0]
        return any(not rest & left for left in self._left_over[turns][place])
