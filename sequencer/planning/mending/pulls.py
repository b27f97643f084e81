"""What comes out with what: a step that is taken back pulls others out after it.

A set of steps is a whole number in which the step done last is bit 0, so that of two sets the one
that leaves the earlier steps alone is the smaller number. Further bits stand for parts that the
set spoils and parts that it disturbs, each counted once however many steps do so.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.mending.bits import bits_in
from sequencer.planning.mending.closing import Closing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from sequencer.planning.mending.costs import Costs
    from sequencer.planning.mending.history import History
    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Rule


class Cause(NamedTuple):
    """Why a step comes out: of what kind, by which rules, or with which other step and part."""

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
    alone : callable
        For a step, all that comes out with it, as a set.
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
        self.part_numbers: dict[str, int] = {}
        self.part_names: list[str] = []
        self.alone: Callable[[int], int] = Closing(self._pulled_by, self._own).of
        self.weight: Callable[[int], int] = cache(self._weight)

    # Sets.

    def bit(self, step: int) -> int:
        """Return the number of a done step's bit."""
        return self.size - 1 - self.history.turn[step]

    def steps(self, mask: int) -> list[int]:
        """Return the steps of a set, the one done last first."""
        done, last = self.history.done, self.size - 1
        return [done[last - bit] for bit in bits_in(mask & self.every)]

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
        return len({part for step in self.steps(mask) for part in self.costs.handled(step)})

    def cost(self, mask: int) -> int:
        """Return what the steps and the spoiled parts of a set cost."""
        return sum(map(self.weight, bits_in(mask)))

    def _weight(self, bit: int) -> int:
        if bit < self.size:
            step = self.history.done[self.size - 1 - bit]
            again, back = self.costs.again(step), self.costs.back(step)
            return back if step in self.history.again else again + back
        part = self.part_names[bit - self.size]
        return self.costs.price(part, self.count_on(part))

    def count_on(self, part: str) -> int:
        """Return how many of a part were put on."""
        return self.costs.count_on(part, self.history.among_done(self.fitters.get(part, ())))

    # Pulling.

    def _pulled_by(self, step: int) -> list[int]:
        """Return the steps that a step pulls out itself; the quick way of `_following`."""
        turn = self.history.turn
        found = []
        for rules in self.rules:
            for relation in rules.as_before[step]:
                afters = relation[1]
                found += [after for after in afters if after in turn]
        group = self.network.group_of[step]
        if group >= 0:
            found += self.history.among_done(self.network.groups[group].steps)
        if self.costs.is_plain(step):
            return found
        return [*found, *(other for other, _ in self._spoiled_or_afresh(step))]

    def spread(self, starts: Iterable[tuple[int, Cause]]) -> dict[int, Cause]:
        """Return every step that comes out with the first ones, each with the first cause met."""
        found: dict[int, Cause] = {}
        told: set[int] = set()
        waiting = list(starts)
        waiting.reverse()
        while waiting:
            step, cause = waiting.pop()
            if step not in found:
                found[step] = cause
                waiting.extend(self._following(step, told))
        return found

    def _following(self, step: int, told: set[int]) -> Iterator[tuple[int, Cause]]:
        turn = self.history.turn
        for rules in self.rules:
            for relation in rules.as_before[step]:
                afters = relation[1]
                if len(afters) > 1:
                    if id(relation) in told:
                        continue
                    told.add(id(relation))
                for after in afters:
                    if after in turn and after != step:
                        yield after, Cause("after", (relation,), step)
        group = self.network.group_of[step]
        if group >= 0:
            rule = self.network.groups[group]
            for member in self.history.among_done(rule.steps):
                yield member, Cause("together", (rule,), step)
        yield from self._spoiled_or_afresh(step)

    def _spoiled_or_afresh(self, step: int) -> Iterator[tuple[int, Cause]]:
        model, turn = self.costs.steps[step], self.history.turn
        if model.undo is not None:
            index = self.network.index
            for link in model.undo.again:
                if link.to in index and index[link.to] in turn:
                    yield index[link.to], Cause("again", step=step)
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
