"""One way to go about a mend: a choice of `one_of`, and a half-done group that is carried on."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.mending.pulls import Cause, Pulls

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.mending.peeling import Peeling
    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Obstacle

_Starts = list[tuple[int, Cause]]


class Option(NamedTuple):
    """Steps to take back for a cause; as a set, with all that they pull out."""

    mask: int
    steps: tuple[int, ...]
    cause: Cause


@dataclass(slots=True)
class Node:
    """A set of steps taken back, closed under what pulls what, on the way to one that will do.

    `unmet` are the needs that still have no way in left because of what stays. `undo` and `do`
    are orders in which the steps can be taken back, and the rest be done, where they were found
    at once.
    """

    mask: int
    cost: int
    parent: Node | None = None
    option: Option | None = None
    peeling: Peeling | None = None
    unmet: tuple[int, ...] | None = None
    undo: list[int] | None = None
    do: list[int] | None = None

    def last_peeling(self) -> Peeling | None:
        """Return the peel of the nearest set on the way here that has one."""
        node = self.parent
        while node is not None and node.peeling is None:
            node = node.parent
        return None if node is None else node.peeling

    def starts(self) -> _Starts:
        """Return the steps taken back for a cause of their own, in the order found."""
        found = [] if self.parent is None else self.parent.starts()
        if self.option is not None:
            found += [(step, self.option.cause) for step in self.option.steps]
        return found


class Case:
    """The rules, the history, and what has to come out from the first.

    Attributes
    ----------
    begun_groups : list of int
        The groups that were begun and not finished.
    number : int
        Which choice of `one_of`, as written.
    rules, undoing : Rules
        Those that an order must keep; those by which steps are taken back.
    wanted : sequence of int
        All steps of the model in the order that is wanted of what is left, the last one first.
    kept : int
        The group that was half done and is carried on, or -1; `kept_mask` is what was done of it.
    finished_trials : frozenset of int
        The steps of trials that were run to their end.
    strays : list of (int, tuple of int)
        Steps done in between those of a group, each with the steps of that group.
    bars : list of Obstacle
        The stretches in which a done step must not lie.
    """

    def __init__(
        self,
        number: int,
        rules: Rules,
        undoing: Rules,
        pulls: Pulls,
        wanted: Sequence[int],
    ) -> None:
        self.number = number
        self.rules = rules
        self.undoing = undoing
        self.pulls = pulls
        self.wanted = wanted
        self.history = pulls.history
        self.kept = -1
        self.kept_mask = 0
        self.strays: list[tuple[int, tuple[int, ...]]] = []
        self.bars: list[Obstacle] = []
        self._note_strays_and_bars()
        self.out_anyhow = list(self._out_anyhow())
        self.out_mask = pulls.out_anyhow(step for step, _ in self.out_anyhow)
        self.begun_groups = self._begun_groups()
        self.first_starts = [*self.out_anyhow, *self._half_done()]
        done = self.history.turn
        self.finished_trials = frozenset(self._finished_trials())
        self.not_done = [s for s in range(len(rules.there)) if rules.there[s] and s not in done]

    def _begun_groups(self) -> list[int]:
        """Return the groups that were begun and not finished."""
        turn = self.history.turn
        return [
            number
            for number, group in enumerate(self.rules.network.groups)
            if 0 < sum(step in turn for step in group.steps) < len(group.steps)
        ]

    def root(self) -> Node:
        """Return the set of what has to come out whatever else does."""
        mask = self.out_mask | self.pulls.all_of(step for step, _ in self.first_starts)
        again = sum(map(self.pulls.costs.again, self.history.again))
        return Node(mask, again + self.pulls.cost(mask))

    def causes(self, node: Node) -> dict[int, Cause]:
        """Return every step of a set with why it comes out."""
        return self.pulls.spread(chain(self.first_starts, node.starts()))

    def option(self, steps: Iterable[int], cause: Cause) -> Option:
        """Return what it means to take some steps back."""
        chosen = tuple(dict.fromkeys(steps))
        return Option(self.pulls.all_of(chosen), chosen, cause)

    def staying(self, node: Node) -> bytearray:
        """Return for each step 1 if it is done and stays."""
        flags = self.history.flags[:]
        for step in self.pulls.steps(node.mask):
            flags[step] = 0
        return flags

    def carrying_on(self, group: int) -> Case:
        """Return the same with a half-done group carried on at once."""
        other = copy(self)
        begun = self.history.among_done(self.rules.network.groups[group].steps)
        other.kept = group
        other.kept_mask = sum(1 << self.pulls.bit(step) for step in begun)
        other.first_starts = [*self.out_anyhow, *self._half_done(group)]
        return other

    def _out_anyhow(self) -> Iterator[tuple[int, Cause]]:
        for step in self.history.done:
            if step in self.history.redo:
                yield step, Cause("redo")
            if not self.rules.there[step]:
                yield step, Cause("spare")
        yield from self._too_early()

    def _half_done(self, kept: int = -1) -> Iterator[tuple[int, Cause]]:
        """Yield the steps of half-done groups; of one carried on, all that was done after it."""
        for number in self.begun_groups:
            group = self.rules.network.groups[number]
            begun = self.history.among_done(group.steps)
            if number == kept:
                first = min(self.history.turn[step] for step in begun)
                begun = [step for step in self.history.done[first:] if step not in begun]
            yield from ((step, Cause("half done", (group,))) for step in begun)

    def _finished_trials(self) -> Iterator[int]:
        """Yield the steps of trials that were run to their end: nothing of them is on."""
        index, there = self.rules.network.index, self.rules.there
        for trial in self.pulls.costs.assembly.trials:
            members = [index[link.to] for link in trial.steps if link.to in index]
            members = [step for step in members if there[step]]
            if all(step in self.history.turn for step in members):
                yield from members

    def _too_early(self) -> Iterator[tuple[int, Cause]]:
        """Yield the steps done before something that must come first, or without it."""
        turns = self.history.turns
        for here, step in enumerate(self.history.done):
            for relation in self.rules.as_after[step]:
                befores = relation[0]
                if turns[befores[0]] < here and len(befores) == 1:
                    continue
                alone = len(befores) == 1 == len(relation[1])
                if any(turns[b] >= here for b in befores if alone or b != step):
                    yield step, Cause("early", (relation,))
                    break

    def _note_strays_and_bars(self) -> None:
        turn, network = self.history.turn, self.rules.network
        for group in network.groups:
            members = self.history.among_done(group.steps)
            if len(members) == len(group.steps):
                turns = [turn[step] for step in members]
                between = self.history.done[min(turns) : max(turns)]
                strays = [step for step in between if step not in members]
                self.strays.extend((step, group.steps) for step in strays)
        for need in network.needs:
            if need.barred and need.step in turn:
                self.bars.extend(need.ways[0].obstacles)
