"""What comes out with what: a step that is taken back pulls others out after it.

A set of steps is a whole number in which the step done last is bit 0, so that of two sets the one
that leaves the earlier steps alone is the smaller number. Further bits stand for parts that the
set spoils and parts that it disturbs, each counted once however many steps do so.
"""

from __future__ import annotations

from itertools import compress
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.mending.bits import bits_in, flags_of, set_of
from sequencer.planning.mending.closing import Closing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from sequencer.planning.mending.costs import Costs
    from sequencer.planning.mending.history import History
    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Rule


class Cause(NamedTuple):
    """Why a step comes out: by which rules, or with which other step and part (or joint)."""

    kind: str
    rules: tuple[Rule, ...] = ()
    step: int = -1
    part: str = ""


class Pulls:
    """What the steps of one history pull out, under the rules of one choice.

    Attributes
    ----------
    size : int
        How many steps were done: the bits above stand for parts.
    every, real : int
        All of them, as a set; and without those left out with leave.
    alone : callable
        For a step, all that comes out with it, as a set; but for what comes out anyhow.
    """

    def __init__(
        self,
        rules: Sequence[Rules],
        history: History,
        costs: Costs,
        fitters: dict[str, list[int]],
    ) -> None:
        self.rules = rules
        self.network = rules[0].network
        self.history = history
        self.costs = costs
        self.fitters = fitters
        self.size = len(history.done)
        self.every = (1 << self.size) - 1
        self.real = self.every - sum(1 << self.bit(s) for s in history.among_done(costs.skipped))
        self.part_numbers: dict[str, int] = {}
        self.part_names: list[str] = []
        self.last_first = self.history.done[::-1]
        self.weights = self._weights()
        self.out_anyhow(())

    def out_anyhow(self, steps: Iterable[int]) -> int:
        """Return all that comes out with some steps, and count on its being out from now on.

        What comes out with others is worked out step by step and kept; these are only gone
        through once.
        """
        out = self._all_pulled(steps)
        turn = self.history.turn
        passed_over = [step for step in range(len(self.network.ids)) if step not in turn]
        passed_over += out
        self.alone: Callable[[int], int] = Closing(self._pulled_by, self._own, passed_over).of
        flags = bytearray(self.size)
        for step in out:
            flags[self.size - 1 - turn[step]] = 1
        mask = set_of(flags)
        for step in out:
            if not self.costs.plain[step]:
                mask |= self._own(step)
        return mask

    # Sets.

    def bit(self, step: int) -> int:
        """Return the number of a done step's bit."""
        return self.size - 1 - self.history.turn[step]

    def steps(self, mask: int) -> list[int]:
        """Return the steps of a set, the one done last first."""
        return list(compress(self.last_first, flags_of(mask & self.every)))

    def all_of(self, steps: Iterable[int]) -> int:
        """Return all that comes out with some steps, as a set."""
        mask = 0
        for step in steps:
            mask |= self.alone(step)
        return mask

    def spoiled(self, mask: int) -> list[str]:
        """Return the parts that a set spoils."""
        return [self.part_names[bit] for bit in bits_in(mask >> self.size)]

    def disturbed(self, mask: int) -> int:
        """Return how many parts a set fits or takes off."""
        return len(set().union(*map(self.costs.handled, self.steps(mask))))

    def cost(self, mask: int) -> int:
        """Return what the steps and the spoiled parts of a set cost."""
        steps = sum(compress(self.weights, flags_of(mask & self.every)))
        return steps + sum(self.costs.price(p, self.count_on(p)) for p in self.spoiled(mask))

    def _weights(self) -> list[int]:
        """Return what each step done costs, the last one first."""
        costs = self.costs
        weights = list(map(costs.back_and_again, self.last_first))
        for step in self.history.again:
            weights[self.bit(step)] = costs.back(step)
        return weights

    def count_on(self, part: str) -> int:
        """Return how many of a part were put on."""
        return self.costs.count_on(part, self.history.among_done(self.fitters.get(part, ())))

    # Pulling.

    def _pulled_by(self, step: int) -> list[int]:
        """Return the steps that a step pulls out itself; the quick way of `_following`."""
        found = self._pulled_alone(step)
        for rules in self.rules:
            for relation in rules.wide.get(step, ()):
                found = [*found, *relation[1]]
        return found

    def _pulled_alone(self, step: int) -> list[int]:
        """Return the same without those that several steps pull out in the same way."""
        group = self.network.group_of[step]
        found = self.rules[0].followers[step]
        if group < 0 and len(self.rules) == 1 and self.costs.plain[step]:
            return found
        found = [other for rules in self.rules for other in rules.followers[step]]
        if group >= 0:
            found += self.network.groups[group].steps
        if not self.costs.plain[step]:
            found += [other for other, _ in self._spoiled_or_afresh(step)]
        return found

    def _all_pulled(self, starts: Iterable[int]) -> list[int]:
        """Return every step that comes out with some steps, in no set order."""
        fresh = bytearray(len(self.network.ids))
        for step in self.history.done:
            fresh[step] = 1
        told: set[int] = set()
        found: list[int] = []
        waiting: list[Sequence[int]] = [list(starts)]
        while waiting:
            for step in waiting.pop():
                if fresh[step]:
                    fresh[step] = 0
                    found.append(step)
                    waiting.append(self._pulled_alone(step))
                    for rules in self.rules:
                        for relation in rules.wide.get(step, ()):
                            if id(relation) not in told:
                                told.add(id(relation))
                                waiting.append(relation[1])
        return found

    def spread(self, starts: Iterable[tuple[int, Cause]]) -> dict[int, Cause]:
        """Return every step that comes out with the first ones, each with the first cause met."""
        found: dict[int, Cause] = {}
        told: set[int] = set()
        flags = self.history.flags
        waiting = list(starts)
        waiting.reverse()
        while waiting:
            step, cause = waiting.pop()
            if step not in found:
                found[step] = cause
                for rules in self.rules:
                    for relation in rules.as_before[step]:
                        afters = relation[1]
                        if len(afters) > 1:
                            if id(relation) in told:
                                continue
                            told.add(id(relation))
                        waiting += [
                            (after, Cause("after", (relation,), step))
                            for after in afters
                            if flags[after] and after not in found
                        ]
                waiting.extend(self._with_group(step))
                if not self.costs.plain[step]:
                    waiting.extend(self._spoiled_or_afresh(step))
        return found

    def _with_group(self, step: int) -> Iterator[tuple[int, Cause]]:
        """Yield the steps of the same group that were done."""
        group = self.network.group_of[step]
        if group >= 0:
            rule = self.network.groups[group]
            for member in self.history.among_done(rule.steps):
                yield member, Cause("together", (rule,), step)

    def _spoiled_or_afresh(self, step: int) -> Iterator[tuple[int, Cause]]:
        model, turn = self.costs.steps[step], self.history.turn
        if model.undo is not None:
            index = self.network.index
            for link in model.undo.again:
                if link.to in index and index[link.to] in turn:
                    yield index[link.to], Cause("again", step=step)
        for joint, members in self.costs.fastened.together.get(step, ()):
            for member in self.history.among_done(members):
                if member != step:
                    yield member, Cause("fasteners", step=step, part=joint)
        for part in self.costs.spoiled_by(step):
            for fitter in self.history.among_done(self.fitters.get(part, ())):
                yield fitter, Cause("spoiled", step=step, part=part)

    def _own(self, step: int) -> int:
        """Return the bits of a step and of the parts that it spoils."""
        mask = 1 << self.size - 1 - self.history.turn[step]
        for part in self.costs.spoiled_by(step):
            mask |= 1 << self.size + self._number(part)
        return mask

    def _number(self, part: str) -> int:
        if part not in self.part_numbers:
            self.part_numbers[part] = len(self.part_names)
            self.part_names.append(part)
        return self.part_numbers[part]
