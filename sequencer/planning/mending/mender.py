"""Makes mends: what a model has to say is looked up once, for as many mistakes as are asked of."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from sequencer.planning.endings import bad_endings
from sequencer.planning.mending.case import Case
from sequencer.planning.mending.costs import Costs
from sequencer.planning.mending.history import fitters_of
from sequencer.planning.mending.pulls import Pulls
from sequencer.planning.mending.rules import Rules
from sequencer.planning.mending.search import Outcome, search
from sequencer.planning.variants import left_out, variants

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending.history import History

_WORK = 3_000_000  # steps looked at in all
_MOST_STATES = 20_000
_LEAST_STATES = 200


def usual_budget(steps: int) -> int:
    """Return how many sets may be looked into: a few seconds' worth."""
    return min(_MOST_STATES, max(_LEAST_STATES, _WORK // max(steps, 1)))


class Mender:
    """One model with its rules, for each choice of `one_of` under which the job can end well."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.index = {step.id: number for number, step in enumerate(assembly.steps)}
        self.costs = Costs(assembly)
        self.fitters = fitters_of(assembly)
        self.choices = [one for one in variants(assembly) if not any(bad_endings(one))]
        self.never = [
            number
            for number, step in enumerate(assembly.steps)
            if step.undo is not None and step.undo.never
        ]
        self._rules: dict[frozenset[str], Rules] = {}

    def search(
        self, history: History, budget: int, wanted: int = 1, costs: Costs | None = None
    ) -> Outcome:
        """Return the cheapest mends; with `costs` of one's own nothing counts as no return."""
        size = len(history.done)
        never = history.among_done(self.never) if costs is None else []
        barred = sum(1 << size - 1 - history.turn[step] for step in never)
        firsts = [
            self._first(history, number, choice, costs or self.costs)
            for number, choice in enumerate(self.choices)
        ]
        return search(firsts, budget, wanted, barred)

    def _first(
        self, history: History, number: int, choice: Assembly, costs: Costs
    ) -> tuple[int, Callable[[], Sequence[Case]]]:
        """Return what leaving out the steps of other choices costs, and what makes the cases."""
        there = {step.id for step in choice.steps}
        names = [step.id for step in self.assembly.steps]
        spare = [step for step in history.done if names[step] not in there] if number else []
        least = sum(costs.again(step) + costs.back(step) for step in spare)
        for step in spare:
            if step in history.again:
                least -= costs.again(step)
        return least, partial(self._cases, history, number, choice, costs)

    def _cases(
        self, history: History, number: int, choice: Assembly, costs: Costs
    ) -> Sequence[Case]:
        rules = self.rules_of(choice)
        undoing = rules
        done = {self.assembly.steps[step].id for step in history.done}
        there = {step.id for step in choice.steps}
        if not done <= there:
            gone = {step.id for step in self.assembly.steps} - there - done
            undoing = self.rules_of(left_out(self.assembly, frozenset(gone)))
        both = (rules,) if undoing is rules else (rules, undoing)
        pulls = Pulls(both, history, costs, self.fitters)
        first = Case(number, rules, undoing, pulls)
        return [first, *map(first.carrying_on, first.begun_groups())]

    def rules_of(self, choice: Assembly) -> Rules:
        """Return the rules of one choice, looked up once."""
        there = frozenset(step.id for step in choice.steps)
        if there not in self._rules:
            self._rules[there] = Rules(self.assembly, choice)
        return self._rules[there]
