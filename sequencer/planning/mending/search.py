"""The least that must come out: best first over sets of steps, with a proven bound."""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from itertools import count
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from sequencer.planning.mending.case import Node
from sequencer.planning.mending.conditions import Lacks

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from sequencer.planning.mending.case import Case, Option
    from sequencer.planning.mending.conditions import Clause

_Key: TypeAlias = tuple[int, int, int, int, int]
_DIVES = 400  # how many sets are tried for any plan at all once the budget is spent


class Found(NamedTuple):
    """A set of steps that will do."""

    case: Case
    node: Node


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a search found.

    Attributes
    ----------
    plans : tuple of Found
        The best first.
    bound : int
        What any plan costs at least, as far as it is proved.
    proved : bool
        Where there is no plan: whether it is proved that there is none.
    dead : tuple of Case and Node, or None
        The first set met for which nothing more could come out to mend it.
    """

    plans: tuple[Found, ...]
    bound: int
    proved: bool
    dead: tuple[Case, Node] | None = None


def search(
    firsts: Iterable[tuple[int, Callable[[], Sequence[Case]]]],
    budget: int,
    wanted: int = 1,
    barred: int = 0,
) -> Outcome:
    """Return the cheapest sets of steps that will do, none of which holds another.

    Parameters
    ----------
    firsts : iterable of (int, callable)
        For each choice of `one_of` a cost that nothing under it goes below, and what makes its
        cases.
    budget : int
        How many sets may be looked into; the result depends on nothing else.
    wanted : int
        How many plans.
    barred : int
        Steps done (by turn, as a set) that must not be taken back.

    Notes
    -----
    Branch and bound: a set that lacks something names options, of which one has to be taken (see
    `conditions`). Lacks without a step in common add up to a bound on what is still to come.
    Equal costs go by the parts disturbed, then by the steps done last, then by the choice written
    first; all of these only grow from a set to one that holds it, so the first that will do is
    the best.
    """
    return _Search(budget, wanted, barred).run(firsts)


class _Search:
    def __init__(self, budget: int, wanted: int, barred: int) -> None:
        self.budget = budget
        self.wanted = wanted
        self.barred = barred
        self.ticket = count()
        self.heap: list[tuple[_Key, Case | None, Node | Callable[[], Sequence[Case]]]] = []
        self.seen: set[tuple[int, int, int]] = set()
        self.plans: list[Found] = []
        self.dead: tuple[Case, Node] | None = None
        self.doubtful: int | None = None  # the cost of the first set that was not decided

    def run(self, firsts: Iterable[tuple[int, Callable[[], Sequence[Case]]]]) -> Outcome:
        for number, (least, make) in enumerate(firsts):
            key = (least, 0, 0, number, next(self.ticket))
            heapq.heappush(self.heap, (key, None, make))
        spent = 0
        while self.heap and len(self.plans) < self.wanted:
            key, case, node = heapq.heappop(self.heap)
            if not isinstance(node, Node):
                for one in node():
                    self._push(one, one.root(), key[0])
                continue
            if case is None or self._is_more_than_a_plan(case, node):
                continue
            if spent >= self.budget:
                if not self.plans:
                    self._dive(case, node)
                    return self._outcome(key[0], proved=False)
                break
            spent += 1
            self._look_into(case, node, key[0])
        least = self.plans[0].node.cost if self.plans else 0
        return self._outcome(least, proved=self.doubtful is None)

    def _outcome(self, bound: int, *, proved: bool) -> Outcome:
        if self.doubtful is not None:
            bound = min(bound, self.doubtful)
        return Outcome(tuple(self.plans), bound, proved, self.dead)

    def _is_more_than_a_plan(self, case: Case, node: Node) -> bool:
        steps = case.pulls.real
        return any(plan.node.mask & ~node.mask & steps == 0 for plan in self.plans)

    def _push(self, case: Case, node: Node, least: int) -> None:
        pulls = case.pulls
        where = (case.number, case.kept, node.mask)
        if where in self.seen or node.mask & (case.kept_mask | self.barred):
            return
        self.seen.add(where)
        disturbed, steps = pulls.disturbed(node.mask), node.mask & pulls.every
        key = (max(least, node.cost), disturbed, steps, case.number, next(self.ticket))
        heapq.heappush(self.heap, (key, case, node))

    def _look_into(self, case: Case, node: Node, least: int) -> None:
        lacks = Lacks(case, node)
        if lacks.doubtful and self.doubtful is None:
            self.doubtful = node.cost
        if not lacks.clauses:
            self.plans.append(Found(case, node))
            return
        if not all(lacks.clauses):
            self.dead = self.dead or (case, node)
            return
        bound, options = _best(case, node, lacks.clauses)
        for option in options:
            self._push(case, _with(case, node, option), max(least, node.cost + bound))

    def _dive(self, case: Case, node: Node) -> None:
        """Take the cheapest option of what is lacking, again and again, for a plan unproved."""
        stack = [(case, node)]
        for _ in range(_DIVES):
            if not stack:
                return
            case, node = stack.pop()
            lacks = Lacks(case, node)
            if not lacks.clauses:
                self.plans.append(Found(case, node))
                return
            if all(lacks.clauses):
                children = [_with(case, node, one) for one in _best(case, node, lacks.clauses)[1]]
                children = [c for c in children if not c.mask & (case.kept_mask | self.barred)]
                children.sort(key=lambda child: child.cost, reverse=True)
                stack.extend((case, child) for child in children)


def _with(case: Case, node: Node, option: Option) -> Node:
    new = option.mask & ~node.mask
    return Node(node.mask | new, node.cost + case.pulls.cost(new), node, option)


def _best(case: Case, node: Node, clauses: Sequence[Clause]) -> tuple[int, Clause]:
    """Return a bound on what a set still takes, and the clause to branch on.

    The clause whose cheapest option costs most comes first; others add to the bound if none of
    their options shares a step with those counted already.
    """
    weighed = []
    for clause in clauses:
        news = [option.mask & ~node.mask for option in clause]
        weighed.append((min(map(case.pulls.cost, news)), -len(clause), news, clause))
    weighed.sort(key=lambda one: one[:2], reverse=True)
    counted, bound = 0, 0
    for cost, _, news, _ in weighed:
        union = 0
        for new in news:
            union |= new
        if not union & counted:
            counted |= union
            bound += cost
    return bound, weighed[0][3]
