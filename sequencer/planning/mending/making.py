"""From a set of steps to the mend itself: the orders, the cost, and what else it means."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from sequencer.planning.decide import decide
from sequencer.planning.mending.costs import MINUTE
from sequencer.planning.mending.left import left_to_do, left_to_take_back
from sequencer.planning.mending.reasons import Reasons
from sequencer.planning.mending.results import Made, Mend, Wait
from sequencer.planning.peel import peel
from sequencer.planning.timing import times_along

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.mending.case import Case, Node
    from sequencer.planning.mending.history import History
    from sequencer.planning.mending.mender import Mender
    from sequencer.planning.mending.search import Found


class Maker:
    """Makes the mends of one history."""

    def __init__(self, mender: Mender, history: History) -> None:
        self.assembly = mender.assembly
        self.steps = mender.assembly.steps
        self.costs = mender.costs
        self.history = history
        self.ranks = mender.ranks
        self.skipped = mender.skipped
        self.says_times = mender.says_times

    def mend(self, found: Found) -> Mend:
        """Return what a set of steps that will do means."""
        case, node = found.case, found.node
        staying = case.staying(node)
        undo = self._but_skipped(self._undo_order(case, node, staying))
        in_place = tuple(step for step in self.history.again if staying[step])
        do = [*in_place, *self._but_skipped(self._do_order(case, node, staying))]
        return Mend(
            self._names(undo),
            self._names(do),
            self._made(case, node, in_place),
            in_place=self._names(in_place),
            spoiled=tuple(case.pulls.spoiled(node.mask)),
            renew=self._renew(case, node, undo),
            prepare=self._names(self._only_prepare(undo)),
            fasteners=tuple(self.costs.fastened.spoiled(undo)),
            waits=tuple(sorted(self._waits(case, staying, do, {*undo, *in_place}), key=_in_turn)),
            void=self._names(step for step in undo if self.steps[step].hold),
            why=Reasons(self.assembly, case).of_all(undo, node),
        )

    def _but_skipped(self, steps: list[int]) -> list[int]:
        """Return steps without those left out with leave: they are neither undone nor done."""
        return [step for step in steps if step not in self.skipped] if self.skipped else steps

    def _names(self, steps: Iterable[int]) -> tuple[str, ...]:
        return tuple(self.steps[step].id for step in steps)

    def _undo_order(self, case: Case, node: Node, staying: bytearray) -> list[int]:
        """Return the steps to take back, the one done last first where that can be."""
        if node.undo is not None:
            return node.undo
        steps = sorted(case.pulls.steps(node.mask))
        left = left_to_take_back(case.undoing, staying, steps, case.finished_trials)
        order = decide(left.network, self._ranked([self.history.turn[s] for s in steps])).order
        if order is None:
            raise ValueError("a set that was found to come out does not")
        return left.in_whole(reversed(order))

    def _do_order(self, case: Case, node: Node, staying: bytearray) -> list[int]:
        if node.do is not None:
            return node.do
        steps = [s for s in range(len(staying)) if case.rules.there[s] and not staying[s]]
        if case.kept < 0 and not case.rules.passing:
            # One peel of the whole: what stays comes off after all that is left to do.
            lowest = -len(staying)
            places = [lowest + s if staying[s] else self.ranks[s] for s in range(len(staying))]
            counters = case.rules.peeling.copied().counters
            order = peel(case.rules.network, places, counters).order
            return [s for s in order if case.rules.there[s] and not staying[s]]
        left = left_to_do(case.rules, staying, steps, case.kept)
        found = decide(left.network, self._ranked([self.ranks[step] for step in steps])).order
        if found is None:
            raise ValueError("a job that was found to have an end has none")
        return left.in_whole(found)

    def _ranked(self, places: Sequence[int]) -> list[int]:
        """Return places without gaps."""
        ranks = [0] * len(places)
        for rank, number in enumerate(sorted(range(len(places)), key=places.__getitem__)):
            ranks[number] = rank
        return ranks

    def _made(self, case: Case, node: Node, in_place: Sequence[int]) -> Made:
        costs, pulls = self.costs, case.pulls
        undone = pulls.steps(node.mask)
        spoiled = [(part, pulls.count_on(part)) for part in pulls.spoiled(node.mask)]
        prices = [
            float(costs.parts[part].price or 0) * count
            for part, count in spoiled
            if part in costs.parts
        ]
        return Made(
            sum(map(costs.back, undone)) / MINUTE,
            sum(map(costs.again, undone)) / MINUTE,
            sum(map(costs.again, in_place)) / MINUTE,
            sum(costs.price(part, count) for part, count in spoiled) / MINUTE,
            sum(prices),
        )

    def _renew(self, case: Case, node: Node, undo: Sequence[int]) -> dict[str, int]:
        parts = dict.fromkeys(case.pulls.spoiled(node.mask))
        renewed = self.costs.renewed
        for step in undo:
            parts.update(dict.fromkeys(renewed.get(step, ())))
        return {part: case.pulls.count_on(part) for part in parts}

    def _only_prepare(self, undo: Sequence[int]) -> Iterator[int]:
        """Yield the steps that have nothing to come off, and that others ask for afresh."""
        asked = {
            link.to
            for step in undo
            if (undone := self.steps[step].undo) is not None
            for link in undone.again
            if link.to != self.steps[step].id
        }
        for step in undo:
            model = self.steps[step]
            if model.id in asked and not (model.fits or model.takes_off or model.tighten):
                yield step

    def _waits(
        self, case: Case, staying: bytearray, do: Sequence[int], repeated: set[int]
    ) -> Iterator[Wait]:
        """Yield the waits from a step that is done once more to one still to be done.

        They are those of the whole order that comes of the mend: what stays, then what is left.
        """
        if not self.says_times:
            return
        left = {*do, *self.skipped}
        order = [step for step in self.history.done if staying[step] and step not in left]
        times = times_along(self.assembly, case.rules.network, [*order, *do])
        again = set(self._names(repeated))
        for step in self._names(do):
            for wait in times.waits.get(step, ()):
                if wait.since in again:
                    yield Wait(step, wait.since, wait.minutes, wait.compound)
            for since, compound in times.uncertain.get(step, ()):
                if since in again:
                    yield Wait(step, since, None, compound)


def _in_turn(wait: Wait) -> tuple[str, str, float, str]:
    """Return what waits are sorted by; those that nobody knows come after those that are known."""
    return wait.step, wait.after, inf if wait.minutes is None else wait.minutes, wait.compound
