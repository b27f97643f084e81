"""The order in which a finished unit comes apart, from the order in which it goes together."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.model.complete import step_minutes
from sequencer.planning.compiling import compile_network
from sequencer.planning.mending.costs import Costs
from sequencer.planning.plan import plan, plan_by_handling
from sequencer.planning.stripping.coming_off import ComingOff, needs_by_step, open_ways
from sequencer.planning.stripping.left_behind import left_behind
from sequencer.planning.stripping.results import PointOfNoReturn, Strip, TakenBack
from sequencer.planning.telling import quoted
from sequencer.planning.variants import variants
from sequencer.problem import Fact, Problem
from sequencer.trade.buying import is_spoiled_by_removal

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.planning.network import Network
    from sequencer.planning.results import Plan
    from sequencer.planning.stripping.left_behind import LeftBehind


def strip(assembly: Assembly, by: str = "written") -> Strip:
    """Return the order in which a finished unit comes apart.

    Parameters
    ----------
    assembly : Assembly
        The model of how it goes together, completed.
    by : str
        ``written`` or ``handling``: the order of building that it is the reverse of.

    Returns
    -------
    Strip
        With `order` None where no order of building exists.

    Notes
    -----
    A valid order of building is taken from the end: whatever stands last can be taken back, for
    that it could be done at its turn, and what was on then is on now. Of the reverse those steps
    are left that have something on the finished unit (see `left_behind`); leaving out the others
    shuts no way, because parts that they put back stay off instead. A step that can never be
    undone keeps on what has to precede it, and what it or that shuts in; everything else is
    peeled off all the same.
    """
    planned = plan_by_handling(assembly) if by == "handling" else plan(assembly)
    if planned.order is None:
        return Strip(None, planned, findings=planned.findings)
    there = set(planned.order)
    model = next(one for one in variants(assembly) if {step.id for step in one.steps} == there)
    return _Stripping(model, planned, planned.order).strip()


class _Stripping:
    """One model with one order of all its steps."""

    def __init__(self, model: Assembly, planned: Plan, building: Sequence[str]) -> None:
        self.model = model
        self.planned = planned
        self.building = building
        self.network: Network = compile_network(model)
        self.steps: Mapping[str, Step] = {step.id: step for step in model.steps}
        self.parts = {part.id: part for part in model.parts}
        self.left: Mapping[str, LeftBehind] = left_behind(model, building)
        self.rank = {name: at for at, name in enumerate(building)}
        self.costs = Costs(model)
        self.needs = needs_by_step(self.network)
        index = self.network.index
        numbers = [index[name] for name in building]
        has_something = {index[name] for name in building if self.left[name]}
        self.off = ComingOff(self.network, numbers, has_something)
        self.never = [name for name in building if self.left[name] and self._never(name)]

    def _never(self, name: str) -> str:
        undo = self.steps[name].undo
        return undo.never if undo is not None else ""

    def strip(self) -> Strip:
        coming = self._coming_off(self.never)
        order = tuple(name for name in reversed(coming) if self.left[name])
        free = set(coming)
        stays = tuple(name for name in self.building if self.left[name] and name not in free)
        points = tuple(self._points(order, stays))
        steps = dict(self._taken_back(order))
        return Strip(
            order,
            self.planned,
            steps,
            stays,
            points,
            self._buy(steps),
            tuple(map(self._told, points)),
        )

    def _coming_off(self, never: Sequence[str]) -> Sequence[str]:
        """Return the steps that come off although some never do, in the order of building."""
        if not never:
            return self.building
        index, ids = self.network.index, self.network.ids
        return [ids[step] for step in self.off.order_without(index[name] for name in never)]

    def _points(self, order: Sequence[str], stays: Sequence[str]) -> Iterator[PointOfNoReturn]:
        for name in reversed(self.never):
            free = set(self._coming_off([name]))
            held = tuple(one for one in stays if one not in free and one != name)
            before = next((one for one in order if self.rank[one] < self.rank[name]), None)
            yield PointOfNoReturn(name, self._never(name), held, before)

    def _taken_back(self, order: Sequence[str]) -> Iterator[tuple[str, TakenBack]]:
        index = self.network.index
        done = set(index.values())
        to_read, silent = dict(self._to_read()), {name: name for name in self._silent()}
        for name in order:
            reads = [
                check
                for check, taker in self._met(to_read, name)
                if self._ways(taker, done) is not None
            ]
            mind = [one for one, _ in self._met(silent, name)]
            found = self._of_itself(name, self._ways(name, done) or ())
            yield name, replace(found, reads=tuple(reads), mind=tuple(mind))
            done.discard(index[name])

    def _ways(self, name: str, done: Collection[int]) -> tuple[str, ...] | None:
        return open_ways(self.needs.get(self.network.index[name], ()), done)

    def _met(self, waiting: dict[str, str], name: str) -> list[tuple[str, str]]:
        """Take out what belongs to a step that is built with or after this one."""
        met = [one for one in waiting.items() if self.rank[one[1]] >= self.rank[name]]
        for what, _ in met:
            del waiting[what]
        return met

    def _of_itself(self, name: str, ways: tuple[str, ...]) -> TakenBack:
        left = self.left[name]
        minutes, is_guess = self._minutes(self.steps[name])
        return TakenBack(
            comes_off=left.on,
            goes_on=left.aids_off,
            loosens=tuple(left.tight),
            frees=tuple(left.secured),
            spoils=tuple(self._spoiled_by(name)),
            renews=tuple(part for part in left.on if self.parts[part].renew),
            ways=ways,
            minutes=minutes,
            is_guess=is_guess,
        )

    def _silent(self) -> Iterator[str]:
        """Yield the steps that have a place in the unit, and leave nothing that is known of."""
        for name in reversed(self.building):
            step = self.steps[name]
            does = step.takes_off or step.check or step.cleans or step.hold
            if (step.onto or step.ways_in) and not (
                does or self.left[name] or name in self.costs.in_trial
            ):
                yield name

    def _minutes(self, step: Step) -> tuple[float, bool]:
        if step.undo is not None and step.undo.time is not None:
            return float(step.undo.time.si / 60), False
        return step_minutes(step, self.model)

    def _spoiled_by(self, name: str) -> Iterator[str]:
        """Yield the parts that taking a step back spoils, of those that are on."""
        on, once = self.left[name].on, self.costs.once
        for part in self.costs.spoiled_by(self.network.index[name]):
            if part in on or (part not in once and self._count_on(part)):
                yield part

    def _count_on(self, part: str) -> int:
        return sum(left.on.get(part, 0) for left in self.left.values())

    def _to_read(self) -> Iterator[tuple[str, str]]:
        """Yield what is measured on the whole unit: the check, and the step that takes it last.

        What the condition of a single part is judged by is read when that lies on the bench.
        """
        on_the_bench = {link.to for part in self.model.parts for link in part.inspect}
        in_trials = self.costs.in_trial
        checks = {check.id: check for check in self.model.checks}
        told = set(on_the_bench)
        for name in reversed(self.building):
            for link in self.steps[name].check if name not in in_trials else ():
                if link.to not in told and is_measured(checks[link.to]):
                    told.add(link.to)
                    yield link.to, name

    def _buy(self, steps: Mapping[str, TakenBack]) -> dict[str, int]:
        """Return what is needed new: what comes off and is not used again, and what is spoiled."""
        found: dict[str, int] = {}
        for taken in steps.values():
            for part, count in taken.comes_off.items():
                if is_spoiled_by_removal(self.parts[part]):
                    found[part] = found.get(part, 0) + count
        for taken in steps.values():
            for part in taken.spoils:
                if part not in found:
                    found[part] = self._count_on(part)
        return found

    def _told(self, point: PointOfNoReturn) -> Problem:
        path = ("steps", point.step, "undo", "never")
        verb = "stays" if len(point.stays) == 1 else "stay"
        held = f": {quoted(point.stays)} {verb} on with it" if point.stays else ""
        return Problem(
            "no-return",
            "warning",
            f"`{point.step}` cannot be undone{held}",
            step=point.step,
            path=("steps", point.step),
            facts=(Fact(point.why, path),),
            why="whoever takes the unit apart further breaks something there",
            fix="stop there, or plan for what it breaks: then say `undo: {spoils: …}` instead",
        )


def is_measured(check: Check) -> bool:
    """Tell whether a check gives a figure."""
    return bool(check.limit or check.measure or check.readings)
