"""All orders with at most so many turns: what they cost at least, and the search among them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.handling.outlook import Outlook
from sequencer.planning.handling.parts import Solving
from sequencer.planning.handling.search import Search

if TYPE_CHECKING:
    from sequencer.planning.handling.budget import Budget
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.parts import Parts
    from sequencer.planning.handling.rules import Rules

_EACH = 10  # an end that is looked at counts for so many: it is looked up in so many tables
_JOINING = 10  # one part in so many of the budget may go into joining parts


class Level:
    """Orders with at most `limit` counted turns; all orders where turns are priced.

    Attributes
    ----------
    limit : int
        How many turns.
    bound : int
        What any such order not yet found costs at least, taken as if it used all of its turns.
    """

    def __init__(self, rules: Rules, kinds: Kinds, parts: Parts, limit: int) -> None:
        self.limit = limit
        self.bound = kinds.turn * limit + sum(parts.floors.values())
        self._rules = rules
        self._kinds = kinds
        self._parts = parts
        self._base = kinds.turn * limit if parts.counted else 0
        self._solving: Solving | None = None
        self._search: Search | None = None

    def solve(self, budget: Budget, states: int) -> bool:
        """Raise the bound by solving the parts; tell whether they are solved to the end."""
        if self._solving is None:
            self._solving = Solving(self._parts, self.limit)
        budget.spend(self._solving.work(states))
        self._raise_to(self._solving.bound)
        return self._solving.complete

    def dive(self, best: int, budget: Budget, states: int) -> tuple[int, ...] | None:
        """Return the best order met within so many states, if it costs less than `best`."""
        search = self._ready(best, budget)
        before = search.states
        search.dive(-(-states // _EACH))
        budget.spend((search.states - before) * _EACH)
        return self._met(search)

    def climb(self, best: int, budget: Budget, states: int) -> tuple[int, ...] | None:
        """Raise the bound within so many states; return an order that costs less if one is met."""
        if self._search is None and not self.solve(budget, states):
            return None
        search = self._ready(best, budget)
        before = search.states
        search.climb(-(-states // _EACH))
        budget.spend((search.states - before) * _EACH)
        return self._met(search)

    def _ready(self, best: int, budget: Budget) -> Search:
        """Return the search, ready to look for orders that cost less than `best`."""
        if self._search is None:
            self._search = self._opened(budget)
            self._search.begin(best - self._base)
        self._search.best = best - self._base
        self._search.leaf = None
        return self._search

    def _opened(self, budget: Budget) -> Search:
        solving = self._solving or Solving(self._parts, self.limit)
        budget.spend(solving.join(budget.share(_JOINING)))
        self._raise_to(solving.bound)
        every, whole = self._rules.every, self._parts.whole
        spare = self.limit - self._parts.fewer
        outlooks = [Outlook(part, every, whole, spare) for part in solving.solved]
        limit = self.limit if self._parts.counted else 0
        return Search(self._rules, self._kinds, whole, outlooks, limit)

    def _met(self, search: Search) -> tuple[int, ...] | None:
        self._raise_to(search.bound)
        return None if search.leaf is None else search.order()

    def _raise_to(self, price: int) -> None:
        self.bound = max(self.bound, self._base + price)
