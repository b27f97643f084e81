"""An order made better by moving stretches of it; small moves for the worse are let through."""

from __future__ import annotations

from collections import defaultdict
from random import Random
from typing import TYPE_CHECKING, TypeAlias

from sequencer.planning.handling.hands import Hands
from sequencer.planning.masks import steps_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.handling.hands import View
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.rules import Rules

Move: TypeAlias = tuple[int, int, int]  # the stretch from, up to; before which place it goes

_SEED = 1
_LONGEST = 8  # steps of a stretch
_EVEN = 0.5  # how often a stretch is moved beside a step that shares a thing with it; which side
_ROUND = 100_000  # tries over which less and less is let through


class Polish:
    """Moves stretches of an order about and keeps what does not cost more than is let through.

    Threshold accepting [1]_: what is let through sinks from most of the price of the cheapest
    thing to nothing, again and again. The moves are drawn from a fixed seed and prices are whole
    numbers, so that the result is the same on every machine.

    Attributes
    ----------
    best : tuple of int
        The best order so far.

    References
    ----------
    .. [1] G. Dueck, T. Scheuer, "Threshold accepting: a general purpose optimization algorithm
       appearing superior to simulated annealing", Journal of Computational Physics 90(1), 1990,
       pp. 161-175 (from memory).
    """

    def __init__(self, rules: Rules, kinds: Kinds, view: View, order: Sequence[int]) -> None:
        size = rules.size
        self._rules = rules
        self._hands = Hands(kinds, view)
        self._kind = _chosen(self._hands, kinds, order)
        self._near = self._sharing()
        self._most = min(kinds.prices, default=kinds.turn) * 3 // 4
        self._random = Random(_SEED).random  # noqa: S311  # the same numbers each time are wanted
        self._tried = 0
        self._order = list(order)
        self._at = [0] * size  # where each step stands
        self._done = [0] * (size + 1)  # the steps done before each place
        self._state = [-1] * (size + 1)  # the state of the hands there
        self._state[0] = 0
        self._price = [0] * size  # what the step there costs
        self._set(0, self._order)
        self._more = 0  # how much more the order costs than the best one
        self.best = tuple(order)

    def _sharing(self) -> list[list[list[int]]]:
        """Return for each step, thing by thing, those that share it in the same position."""
        members: defaultdict[tuple[int, int, int], list[int]] = defaultdict(list)
        near: list[list[list[int]]] = []
        for step, number in enumerate(self._kind):
            kind = self._hands.kinds[number]
            mine = [members[kind.unit, kind.place, thing] for thing in steps_in(kind.things)]
            for sharing in mine:
                sharing.append(step)
            near.append(mine)
        return near

    def run(self, tries: int) -> None:
        """Try so many moves."""
        for tried in range(self._tried, self._tried + tries):
            move = self._drawn()
            if move is not None:
                self._try(move, self._most - self._most * (tried % _ROUND) // _ROUND)
        self._tried += tries

    def _drawn(self) -> Move | None:
        """Draw a stretch and a place for it, or nothing if what must precede what forbids it."""
        order, done, random = self._order, self._done, self._random
        size = len(order)
        step = int(random() * size)
        start = self._at[step]
        near = self._near[step]
        if near and random() < _EVEN:
            sharing = near[int(random() * len(near))]
            to = self._at[sharing[int(random() * len(sharing))]] + (random() < _EVEN)
        else:
            to = int(random() * (size + 1))
        start, stop = self._stretch(start, to)
        if start <= to <= stop:
            return None
        if to < start:
            bound, passed = self._rules.before, done[start] ^ done[to]
        else:
            bound, passed = self._rules.after, done[to] ^ done[stop]
        for moved in order[start:stop]:
            if bound[moved] & passed:
                return None
        return start, stop, to

    def _stretch(self, start: int, to: int) -> tuple[int, int]:
        """Draw how long a stretch is, away from where it goes; a group often goes as a whole."""
        length = 1 + int(self._random() * self._random() * _LONGEST)
        group = self._rules.masks.group[self._order[start]]
        if group and length > 1:
            places = [self._at[other] for other in steps_in(group)]
            return min(places), max(places) + 1
        if to < start:
            return start, min(start + length, len(self._order))
        return max(start + 1 - length, 0), start + 1

    def _try(self, move: Move, let_through: int) -> None:
        start, stop, to = move
        order = self._order
        if to < start:
            first, span = to, order[start:stop] + order[to:start]
        else:
            first, span = start, order[stop:to] + order[start:stop]
        change = self._change(first, span)
        if change > let_through or not self._is_valid(first, span):
            return
        order[first : first + len(span)] = span
        self._set(first, span)
        self._more += change
        if self._more < 0:
            self._more = 0
            self.best = tuple(order)

    def _change(self, first: int, span: Sequence[int]) -> int:
        """Return how much dearer the order gets with a span of it laid anew."""
        kind, rows = self._kind, self._hands.rows
        state, price = self._state[first], 0
        for step in span:
            _, extra, state = rows[state][kind[step]]
            price += extra
        place = first + len(span)
        while place < len(self._order) and state != self._state[place]:
            _, extra, state = rows[state][kind[self._order[place]]]
            price += extra
            place += 1
        return price - sum(self._price[first:place])

    def _is_valid(self, first: int, span: Sequence[int]) -> bool:
        """Tell whether a span may be laid anew, as far as that is not known yet."""
        rules = self._rules
        if not rules.careful and not rules.grouped:
            return True
        done = self._done[first]
        within = rules.scope(done)
        for step in span:
            if not within >> step & 1 or not rules.masks.may_do(step, done):
                return False
            done |= 1 << step
            within = rules.masks.group[step] & ~done or rules.every
        return True

    def _set(self, first: int, span: Sequence[int]) -> None:
        """Note a span of the order that has been laid anew, and what follows from it."""
        done = self._done[first]
        for place, step in enumerate(span, first):
            self._at[step] = place
            done |= 1 << step
            self._done[place + 1] = done
        state, place = self._state[first], first
        while place < first + len(span) or (
            place < len(self._order) and state != self._state[place]
        ):
            self._state[place] = state
            step = self._order[place]
            _, self._price[place], state = self._hands.rows[state][self._kind[step]]
            place += 1
        self._state[place] = state


def _chosen(hands: Hands, kinds: Kinds, order: Sequence[int]) -> list[int]:
    """Return the kind of each step with which an order costs least."""
    reached = {0: 0}  # the least price at which each state of the hands is reached
    came_by: list[dict[int, tuple[int, int]]] = []  # by which kind, and from which state
    for step in order:
        after: dict[int, int] = {}
        by: dict[int, tuple[int, int]] = {}
        for state, price in reached.items():
            for kind in kinds.of[step]:
                _, extra, then = hands.rows[state][kind]
                if then not in after or price + extra < after[then]:
                    after[then], by[then] = price + extra, (kind, state)
        reached = after
        came_by.append(by)
    state = min(reached, key=reached.__getitem__)
    chosen = [0] * len(order)
    for step, by in zip(reversed(order), reversed(came_by), strict=True):
        chosen[step], state = by[state]
    return chosen
