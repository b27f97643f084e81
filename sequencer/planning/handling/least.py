"""The order with the least handling, and the proof of how near to the least it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.planning.handling.budget import Budget
from sequencer.planning.handling.cost import Prices, Weights, handling_of
from sequencer.planning.handling.greedy import greedy_order
from sequencer.planning.handling.hands import whole_view
from sequencer.planning.handling.kinds import Kinds
from sequencer.planning.handling.level import Level
from sequencer.planning.handling.parts import Parts
from sequencer.planning.handling.polish import Polish
from sequencer.planning.handling.rules import Rules

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from sequencer.planning.handling.cost import Attributes
    from sequencer.planning.masks import Masks

# One part in so many of the budget goes ...
_SOLVING = 5  # into solving the parts for the fewest turns,
_DIVING = 6  # into looking for a good order,
_TURN = 20  # into each turn of raising the bound or polishing the order.

_LARGE = 1000  # the order of more steps is only polished, without a search
_TRY = 3  # a move tried counts for so many states: the order before, between and after


@dataclass(frozen=True, slots=True)
class Handled:
    """An order, what its handling takes, and what that of any valid order takes at least.

    No order is better where `bound` is the same as `seconds`.
    """

    order: tuple[int, ...]
    turns: int
    tools: int
    seconds: float
    bound: float


def least_handling(
    masks: Masks,
    steps: Sequence[Attributes],
    weights: Weights | None = None,
    *,
    budget: int = 5_000_000,
    start: Sequence[int] | None = None,
    tell: Callable[[Handled, int], None] | None = None,
) -> Handled:
    """Return an order with the least handling, or the best that a budget of states allows.

    Parameters
    ----------
    masks : Masks
        The rules, of which all are kept.
    steps : sequence of Attributes
        What each step asks, by its number.
    weights : Weights, optional
        What a turn, a tool and a compound cost.
    budget : int
        How many states may be looked at; the result depends on nothing else, so it is the same
        on every machine.
    start : sequence of int, optional
        A valid order to start from; without it one is looked for.
    tell : callable, optional
        Called with the best so far, and how many states have been looked at, from time to time.

    Returns
    -------
    Handled
        Never worse than `start`. `bound` is proved.

    Raises
    ------
    ValueError
        If there is no valid order, or `start` is not one.

    Notes
    -----
    A step costs by what the hands held before it, so that with the set of steps done the last
    step's tools and compounds and how each unit lies are enough to go on from. Orders are built
    from the end, where rules that only shut ways leave no dead ends. What is to come is bounded
    by the same problem with fewer rules (only what precedes what) seen through parts of the
    handling: each thing with the position of the busiest unit. Each part has few states, as
    whatever costs nothing in it is done at once; their least costs add up [1]_. Orders are looked
    for by their number of turns, the fewest first, since a turn is dear.

    Ends of orders are gone on from length by length, the most promising of each, then wider; then
    wherever the bound is least, which proves the best order the best once nothing is below it.
    In between the best order is polished by moving stretches of it.

    References
    ----------
    .. [1] On adding up lower bounds from a partition of the cost: A. Felner, R. E. Korf,
       S. Hanan, "Additive pattern database heuristics", Journal of Artificial Intelligence
       Research 22, 2004, pp. 279-318 (from memory).
    """
    run = _Run(masks, steps, weights or Weights(), budget, tell)
    run.start(start)
    run.improve()
    return run.handled()


class _Run:
    """One call: the best order so far, and the levels whose bounds hold together."""

    def __init__(
        self,
        masks: Masks,
        steps: Sequence[Attributes],
        weights: Weights,
        budget: int,
        tell: Callable[[Handled, int], None] | None,
    ) -> None:
        self._steps = steps
        self._weights = weights
        self._prices = Prices(weights)
        self._rules = Rules(masks)
        self._kinds = Kinds(steps, self._prices)
        self._budget = Budget(budget, masks.size)
        self._tell = tell
        self._levels: list[Level] = []
        self._best: tuple[int, ...] = ()
        self._price = 0
        self._floor = self._kinds.floor()

    def start(self, order: Sequence[int] | None) -> None:
        """Take a valid order to start from."""
        if order is None:
            self._best = self._rules.any_order()
        elif self._rules.is_valid(order):
            self._best = tuple(order)
        else:
            raise ValueError("the order to start from is not valid")
        self._price = self._priced(self._best)

    def _priced(self, order: Sequence[int]) -> int:
        return self._prices.of(handling_of(order, self._steps, self._weights))

    @property
    def _bound(self) -> int:
        """What any order costs at least."""
        return min((level.bound for level in self._levels), default=self._floor)

    def handled(self) -> Handled:
        """Return the best order so far."""
        handling = handling_of(self._best, self._steps, self._weights)
        bound = self._prices.seconds(min(self._bound, self._price))
        return Handled(self._best, handling.turns, handling.tools, handling.seconds, bound)

    def improve(self) -> None:
        """Better the order and raise the bound until they meet or the budget is spent."""
        whole = whole_view(self._kinds)
        self._take(greedy_order(self._rules, self._kinds, whole))
        parts = None
        if self._rules.size <= _LARGE and self._bound < self._price:
            parts = Parts(self._rules, self._kinds, self._budget)
            self._begin(parts)
        if self._bound < self._price:
            self._go_on(parts, Polish(self._rules, self._kinds, whole, self._best))

    def _begin(self, parts: Parts) -> None:
        """Look for good orders where there are the fewest turns."""
        level = Level(self._rules, self._kinds, parts, parts.fewest)
        self._levels.append(level)
        if parts.counted:
            self._levels.append(Level(self._rules, self._kinds, parts, parts.fewest + 1))
        if self._bound < self._price:
            level.solve(self._budget, self._budget.share(_SOLVING))
        if self._bound < self._price:
            self._take(level.dive(self._price, self._budget, self._budget.share(_DIVING)))

    def _go_on(self, parts: Parts | None, polish: Polish) -> None:
        """Raise the bound and polish the order in turns."""
        raising, polishing = _Effort(), _Effort()
        while self._budget.left and self._bound < self._price:
            if parts is not None and raising.is_due():
                raising.note(fruitful=self._raise(parts))
            if polishing.is_due() and self._bound < self._price:
                polishing.note(fruitful=self._polish(polish))

    def _raise(self, parts: Parts) -> bool:
        """Raise the bound of the level where it is least; tell whether that was possible."""
        level = min(self._levels, key=lambda level: level.bound)
        if parts.counted and level is self._levels[-1]:
            self._levels.append(Level(self._rules, self._kinds, parts, level.limit + 1))
        before = level.bound
        self._take(level.climb(self._price, self._budget, self._budget.share(_TURN)))
        return level.bound > before

    def _polish(self, polish: Polish) -> bool:
        """Polish the best order; tell whether that bettered it."""
        before = self._price
        tries = max(self._budget.share(_TURN) // _TRY, 1)
        polish.run(tries)
        self._budget.spend(tries * _TRY)
        self._take(polish.best)
        return self._price < before

    def _take(self, order: tuple[int, ...] | None) -> None:
        """Take an order if it is better, and tell how things stand."""
        price = self._price if order is None else self._priced(order)
        if order is not None and price < self._price:
            self._best, self._price = order, price
        if self._tell is not None:
            self._tell(self.handled(), self._budget.spent)


class _Effort:
    """Something done in turns; when it bears no fruit it rests, each time about twice as long."""

    def __init__(self) -> None:
        self._pause = 0
        self._rest = 0

    def is_due(self) -> bool:
        """Tell whether it is to be done in this turn."""
        if self._rest:
            self._rest -= 1
            return False
        return True

    def note(self, *, fruitful: bool) -> None:
        """Note how it went."""
        self._pause = 0 if fruitful else 2 * self._pause + 1
        self._rest = self._pause
