"""Makes mends: what a model has to say is looked up once, for as many mistakes as are asked of."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from sequencer.planning.endings import bad_endings
from sequencer.planning.mending.case import Case
from sequencer.planning.mending.costs import Costs
from sequencer.planning.mending.history import History, fitters_of
from sequencer.planning.mending.pulls import Pulls
from sequencer.planning.mending.rules import Rules
from sequencer.planning.mending.search import Outcome, search
from sequencer.planning.timing import says_times
from sequencer.planning.variants import left_out, variants

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from sequencer.model.assembly import Assembly

_WORK = 3_000_000  # steps looked at in all
_MOST_STATES = 20_000
_LEAST_STATES = 200


def usual_budget(steps: int) -> int:
    """Return how many sets may be looked into: a few seconds' worth."""
    return min(_MOST_STATES, max(_LEAST_STATES, _WORK // max(steps, 1)))


class Mender:
    """One model with its rules, for each choice of `one_of` under which the job can end well.

    `order` is the one that what is left keeps to where it can; `skipped` are steps left out with
    leave, of whatever history is asked about.
    """

    def __init__(
        self, assembly: Assembly, order: Sequence[str] | None = None, skipped: Iterable[str] = ()
    ) -> None:
        self.assembly = assembly
        self.index = {step.id: number for number, step in enumerate(assembly.steps)}
        self.skipped = frozenset(map(self.index.__getitem__, skipped))
        self.costs = Costs(assembly, self.skipped)
        self.fitters = fitters_of(assembly, self.skipped)
        self.choices = [one for one in variants(assembly) if not any(bad_endings(one))]
        self.never = [
            number
            for number, step in enumerate(assembly.steps)
            if step.undo is not None and step.undo.never and number not in self.skipped
        ]
        self.says_times = says_times(assembly)
        self.ranks = _ranks(assembly, order)
        self.wanted = sorted(self.index.values(), key=self.ranks.__getitem__, reverse=True)
        self._there = [frozenset(self.index[s.id] for s in one.steps) for one in self.choices]
        self._rules: dict[frozenset[int], Rules] = {}

    def history(
        self, done: Iterable[str], redo: Iterable[str] = (), again: Iterable[str] = ()
    ) -> History:
        """Return what was done, and what to do again, by the numbers of the steps.

        What tightens fasteners that serve once cannot be done again where it is.
        """
        number = self.index.__getitem__
        afresh = [number(name) for name in again]
        out = [step for step in afresh if self.costs.fastened.serve_once(step)]
        out += map(number, redo)
        return History(
            len(self.index), list(map(number, done)), out, [s for s in afresh if s not in out]
        )

    def search(
        self, history: History, budget: int, wanted: int = 1, costs: Costs | None = None
    ) -> Outcome:
        """Return the cheapest mends; with `costs` of one's own nothing counts as no return."""
        size = len(history.done)
        never = history.among_done(self.never) if costs is None else []
        barred = sum(1 << size - 1 - history.turn[step] for step in never)
        firsts = [
            self._first(history, number, costs or self.costs) for number in range(len(self.choices))
        ]
        return search(firsts, budget, wanted, barred)

    def _first(
        self, history: History, number: int, costs: Costs
    ) -> tuple[int, Callable[[], Sequence[Case]]]:
        """Return what leaving out the steps of other choices costs, and what makes the cases."""
        there = self._there[number]
        spare = [step for step in history.done if step not in there] if number else []
        least = sum(map(costs.back_and_again, spare))
        for step in spare:
            if step in history.again:
                least -= costs.again(step)
        return least, partial(self._cases, history, number, costs)

    def _cases(self, history: History, number: int, costs: Costs) -> Sequence[Case]:
        rules = self.rules_of(number)
        undoing = rules
        if not self._there[number].issuperset(history.done):
            undoing = self._rules_with(self._there[number].union(history.done))
        both = (rules,) if undoing is rules else (rules, undoing)
        pulls = Pulls(both, history, costs, self.fitters)
        first = Case(number, rules, undoing, pulls, self.wanted)
        return [first, *map(first.carrying_on, first.begun_groups)]

    def rules_of(self, number: int) -> Rules:
        """Return the rules of one choice, looked up once."""
        there = self._there[number]
        if there not in self._rules:
            self._rules[there] = Rules(self.assembly, self.choices[number], self.skipped)
        return self._rules[there]

    def _rules_with(self, steps: frozenset[int]) -> Rules:
        """Return the rules of only some steps."""
        if steps not in self._rules:
            gone = (name for name, number in self.index.items() if number not in steps)
            chosen = left_out(self.assembly, frozenset(gone))
            self._rules[steps] = Rules(self.assembly, chosen, self.skipped)
        return self._rules[steps]


def _ranks(assembly: Assembly, order: Sequence[str] | None) -> Sequence[int]:
    """Return for each step where it is wanted, what an order lacks last."""
    if order is None:
        return range(len(assembly.steps))
    rank = {name: at for at, name in enumerate(order)}
    return [rank.get(step.id, len(rank) + at) for at, step in enumerate(assembly.steps)]
