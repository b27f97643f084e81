"""Orders built from the end, the most promising ends of each length first."""

from __future__ import annotations

import heapq
import sys
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from sequencer.planning.handling.hands import Hands
from sequencer.planning.masks import steps_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.handling.hands import View
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.outlook import Outlook
    from sequencer.planning.handling.rules import Rules

Option: TypeAlias = tuple[int, int]  # a kind, and the one step to begin with (as a set) or 0

_NARROW = 1  # ends of each length gone on from in the first sweep of a dive


class Node(NamedTuple):
    """An end of an order that is settled, and the set of steps left to be done before it.

    Attributes
    ----------
    least : int
        What the whole order costs at least.
    number : int
        Later nodes have higher numbers.
    left : int
        The steps that are left.
    state : int
        What the hands are asked for next.
    turns, price : int
        Counted turns and price of the end.
    outlooks : tuple of int
        What is to come costs at least, part by part.
    parent : Node or None
        The end that this one goes on from.
    first : int
        The step with which it was gone on from there, where that was just one, as a set.
    """

    least: int
    number: int
    left: int
    state: int
    turns: int
    price: int
    outlooks: tuple[int, ...]
    parent: Node | None
    first: int


class Search:
    """A search of all orders with at most so many counted turns, gone on with as long as one likes.

    Going on from an end means taking off all that can be last and is of one kind. Ends that are
    found to cost as much as the best order are dropped; so is one that another outdoes which
    leaves the same steps.

    Attributes
    ----------
    best : int
        Only orders that cost less are looked for.
    leaf : Node or None
        The best order found.
    states : int
        How many ends have been looked at.
    """

    def __init__(
        self, rules: Rules, kinds: Kinds, view: View, outlooks: Sequence[Outlook], limit: int
    ) -> None:
        self.best = 0
        self.leaf: Node | None = None
        self.states = 0
        self._rules = rules
        self._kinds = kinds
        self._limit = limit
        self._hands = Hands(kinds, view, backwards=True)
        self._outlooks = outlooks
        self._seen: list[tuple[int, ...]] = []
        self._open: list[list[Node]] = [[] for _ in range(rules.size + 1)]
        self._known: dict[int, dict[tuple[int, int], int]] = {}
        self._options: dict[int, list[Option]] = {}
        self._ready: dict[int, int] = {}
        self._after: dict[tuple[int, int, int], int] = {}

    def begin(self, best: int) -> None:
        """Start from the end of the order; `best` is the price of an order that is known."""
        self.best = best
        every = self._rules.every
        self._ready[every] = self._rules.open_steps(every)
        self._seen.append(self._sights(0))
        nothing = Node(0, 0, every, 0, -1, 0, (0,) * len(self._outlooks), None, 0)
        outlooks = self._looked_ahead(nothing, every, 0, 0, best)
        if outlooks is not None:
            root = nothing._replace(least=sum(outlooks), turns=0, outlooks=outlooks)
            self._open[-1].append(root)

    @property
    def bound(self) -> int:
        """What any order not yet found costs at least; at most the price of the best."""
        return min((nodes[0].least for nodes in self._open if nodes), default=self.best)

    def dive(self, states: int) -> None:
        """Look for better orders: sweep down all lengths, wider each time, for so many states."""
        until = self.states + states
        width = _NARROW
        while self.states < until and self.bound < self.best:
            self._sweep(width, self.best, until)
            width *= 2

    def climb(self, states: int) -> None:
        """Raise the bound: go on from all ends that could cost the least, for so many states."""
        until = self.states + states
        while self.states < until and self.bound < self.best:
            self._sweep(sys.maxsize, self.bound, until)

    def _sweep(self, width: int, most: int, until: int) -> None:
        """Go on from the best `width` ends of each length that may cost `most` or less."""
        for nodes in reversed(self._open):
            for _ in range(width):
                while nodes and nodes[0].least >= self.best:
                    nodes.clear()
                if not nodes or nodes[0].least > most:
                    break
                self._go_on(heapq.heappop(nodes))
                if self.states >= until:
                    return

    def _go_on(self, node: Node) -> None:
        left = node.left
        if not left:
            self.best, self.leaf = node.least, node
            return
        if node.parent is not None and self._is_outdone(node):
            return
        row = self._hands.rows[node.state]
        for kind, first in self._options_of(left):
            turns, price, state = row[kind]
            self.states += 1
            turns += node.turns
            price += node.price
            if turns > self._limit or price >= self.best:
                continue
            after = self._after.get((left, state, first))
            if after is None:
                after = self._after[left, state, first] = self._left_after(left, state, first)
            self._offer(node, (after, state, turns, price), first)

    def _is_outdone(self, node: Node) -> bool:
        """Tell whether from another end that leaves the same steps one can go on for no more."""
        states = self._hands.states
        for (state, turns), price in self._known[node.left].items():
            if turns > node.turns or price > node.price:
                continue
            if state == node.state:
                if price < node.price or turns < node.turns:
                    return True
                continue
            more, extra = self._hands.gap(states[state], states[node.state])
            if turns + more <= node.turns and price + extra <= node.price:
                return True
        return False

    def _offer(self, node: Node, to: tuple[int, int, int, int], first: int) -> None:
        """Add an end unless the same one is known, or the whole order would cost too much."""
        left, state, turns, price = to
        known = self._known.setdefault(left, {})
        cheapest = known.get((state, turns))
        if cheapest is not None and cheapest <= price:
            return
        while len(self._seen) <= state:
            self._seen.append(self._sights(len(self._seen)))
        outlooks = self._looked_ahead(node, left, state, turns, self.best - price)
        if outlooks is None:
            return
        known[state, turns] = price
        least = price + sum(outlooks)
        heapq.heappush(
            self._open[left.bit_count()],
            Node(least, self.states, left, state, turns, price, outlooks, node, first),
        )

    def _sights(self, state: int) -> tuple[int, ...]:
        """Return the numbers of a state in the outlooks."""
        asked = self._hands.states[state]
        return tuple(outlook.number(asked) for outlook in self._outlooks)

    def _looked_ahead(
        self, node: Node, left: int, state: int, turns: int, most: int
    ) -> tuple[int, ...] | None:
        """Return what is to come at least, part by part; None if it is `most` or more in all.

        Where a part sees no turn and the same in hand as before, what is to come stays the same:
        the steps taken off cost nothing there, and leaving them would have saved nothing.
        """
        found = list(node.outlooks)
        now, before = self._seen[state], self._seen[node.state]
        afresh = turns != node.turns
        turns = self._limit - turns
        for part, outlook in enumerate(self._outlooks):
            price = found[part]
            if afresh or now[part] != before[part]:
                known = price - outlook.step(now[part], before[part])
                least = outlook.least(left, now[part], turns, known)
                if least is None:
                    return None
                found[part] = price = least
            most -= price
            if most <= 0:
                return None
        return tuple(found)

    def _options_of(self, left: int) -> list[Option]:
        """Return what can be done last of a set: kinds, or single steps that stand for themselves.

        Whatever else of a kind can be done last is done along with it.
        """
        options = self._options.get(left)
        if options is None:
            found: dict[Option, None] = {}
            rules = self._rules
            for step in steps_in(self._ready[left] & rules.scope(left)):
                if rules.may_be_last(step, left):
                    first = rules.single & 1 << step
                    for kind in self._kinds.of[step]:
                        found[kind, first] = None
            options = self._options[left] = sorted(found)
        return options

    def _left_after(self, left: int, state: int, first: int) -> int:
        """Return what is left of a set once one step, and all that is then free, is taken off."""
        rules = self._rules
        after = rules.settled(left & ~first, self._hands.free(state))
        if after not in self._ready:
            self._ready[after] = rules.opened(self._ready[left], left & ~after, after)
        return after

    def order(self) -> tuple[int, ...]:
        """Return the best order found."""
        order: list[int] = []
        node = self.leaf
        while node is not None and node.parent is not None:
            free = self._hands.free(node.state)
            taken = self._rules.settling(node.parent.left & ~node.first, free)
            order.extend(reversed([*steps_in(node.first), *taken]))
            node = node.parent
        return tuple(order)
