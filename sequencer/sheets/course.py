"""What the printed order makes of a model: what is on, loose, lasting or taken again, and when.

Everything is told by the numbers of steps, from 1 in the order of print. Only steps of that
order count: what a model says about others falls away.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import Step

Numbers = tuple[int, ...]
_Thing = tuple[str, str]
_Placed = Sequence[tuple[int, "Step", Sequence["Step"]]]  # with those that may be done instead


@dataclass(frozen=True, slots=True)
class Course:
    """What becomes of things along the printed order.

    Attributes
    ----------
    counts, taken : mapping of str to tuple of int
        For each step, how many of each part it fits (what it says, or all that is not yet on),
        and how many of each part come off in it; 0 where none is known to be on.
    fitted_in, off_in : mapping of str to tuple of int
        For each part, the steps that fit it and those that take it off.
    off_again : mapping of (str, str) to int
        For a step and a part that it fits, where that comes off again.
    built_in : mapping of str to tuple of int
        For each unit, the steps that build it.
    movements : mapping of str to tuple of int
        For each step of a group or trial, all steps of that.
    secured_in : mapping of str to tuple of int
        For each step that leaves something loose, the steps that make it fast.
    fast_again : mapping of (str, str) to tuple of int
        For a step and a joint or step that it loosens, where that is made fast again.
    loosened_in : mapping of str to tuple of int
        For each step that makes fast what was loosened, the steps that loosened it.
    lasting : mapping of str to (int, int)
        For each state, the step that begins it and the step that ends it.
    taken_in : mapping of str to tuple of int
        For each check, the steps that take it.
    rests : mapping of int to int
        The last steps after which the job may be left for a while, each with the next such step;
        0 stands for the start of the job.
    """

    counts: Mapping[str, Numbers]
    taken: Mapping[str, Numbers]
    fitted_in: Mapping[str, Numbers]
    off_in: Mapping[str, Numbers]
    off_again: Mapping[_Thing, int]
    built_in: Mapping[str, Numbers]
    movements: Mapping[str, Numbers]
    secured_in: Mapping[str, Numbers]
    fast_again: Mapping[_Thing, Numbers]
    loosened_in: Mapping[str, Numbers]
    lasting: Mapping[str, tuple[int, int]]
    taken_in: Mapping[str, Numbers]
    rests: Mapping[int, int]


def course_of(
    assembly: Assembly,
    steps: Sequence[Step],
    fallbacks: Mapping[str, Sequence[str]],
    rest_after: Iterable[str],
) -> Course:
    """Follow a model along the steps in printed order.

    `fallbacks` gives for a step those that may be done instead; what is told of these is how it
    would be if they were.
    """
    number = {step.id: at for at, step in enumerate(steps, start=1)}
    by_id = {step.id: step for step in assembly.steps}
    placed = [
        (at, step, [by_id[other] for other in fallbacks.get(step.id, ())])
        for at, step in _numbered(steps)
    ]
    counts, taken = _Counting(assembly).along(placed)
    fast_again, loosened_in = _loosened(placed)
    return Course(
        counts=counts,
        taken=taken,
        fitted_in=_by_name((fit.part, at) for at, step in _numbered(steps) for fit in step.fits),
        off_in=_by_name((link.to, at) for at, step in _numbered(steps) for link in step.takes_off),
        off_again=_off_again(assembly, placed),
        built_in=_by_name((step.unit, at) for at, step in _numbered(steps) if step.unit),
        movements=_movements(assembly, number),
        secured_in=_by_name(
            (link.to, at) for at, step in _numbered(steps) for link in step.secures
        ),
        fast_again=fast_again,
        loosened_in=loosened_in,
        lasting=_lasting(assembly, number),
        taken_in=_by_name((link.to, at) for at, step in _numbered(steps) for link in step.check),
        rests=_rests(number[step] for step in rest_after if step in number),
    )


def _numbered(steps: Sequence[Step]) -> Iterable[tuple[int, Step]]:
    return enumerate(steps, start=1)


def _by_name(pairs: Iterable[tuple[str, int]]) -> dict[str, Numbers]:
    """Gather the numbers that stand with each name, each once."""
    found: defaultdict[str, dict[int, None]] = defaultdict(dict)
    for name, number in pairs:
        found[name][number] = None
    return {name: tuple(numbers) for name, numbers in found.items()}


def _trial_of(assembly: Assembly) -> dict[str, str]:
    return {link.to: trial.id for trial in assembly.trials for link in trial.steps}


class _Counting:
    """Counts the parts that are on, step by step; what a trial fits counts for that trial only."""

    def __init__(self, assembly: Assembly) -> None:
        self.quantity = {part.id: part.quantity for part in assembly.parts}
        self.trial_of = _trial_of(assembly)
        self.on = {("", part.id): part.quantity for part in assembly.parts if part.at_start}

    def along(self, placed: _Placed) -> tuple[dict[str, Numbers], dict[str, Numbers]]:
        """Return how many of each part the steps fit, and how many they take off."""
        counts: dict[str, Numbers] = {}
        taken: dict[str, Numbers] = {}
        for _, step, others in placed:
            for other in others:
                before = dict(self.on)
                taken[other.id], counts[other.id] = self._done(other)
                self.on = before
            taken[step.id], counts[step.id] = self._done(step)
        return counts, taken

    def _done(self, step: Step) -> tuple[Numbers, Numbers]:
        trial = self.trial_of.get(step.id, "")
        off = tuple(self.on.pop((trial, link.to), 0) for link in step.takes_off)
        fitted: list[int] = []
        for fit in step.fits:
            here = (trial, fit.part)
            left = self.quantity[fit.part] - self.on.get(here, 0)
            fitted.append(fit.count if fit.count is not None else max(left, 1))
            self.on[here] = self.on.get(here, 0) + fitted[-1]
        return off, tuple(fitted)


def _off_again(assembly: Assembly, placed: _Placed) -> dict[_Thing, int]:
    trial_of = _trial_of(assembly)
    found: dict[_Thing, int] = {}
    later: dict[_Thing, int] = {}
    for at, step, others in reversed(placed):
        trial = trial_of.get(step.id, "")
        for one in (step, *others):
            for fit in one.fits:
                if (trial, fit.part) in later:
                    found[one.id, fit.part] = later[trial, fit.part]
        for link in step.takes_off:
            later[trial, link.to] = at
    return found


def _movements(assembly: Assembly, number: Mapping[str, int]) -> dict[str, Numbers]:
    """Return the steps of each group of which several are there, and of each trial."""
    found: dict[str, Numbers] = {}
    groups = [(group.steps, 2) for group in assembly.together]
    for links, fewest in (*groups, *((trial.steps, 1) for trial in assembly.trials)):
        members = tuple(sorted(number[link.to] for link in links if link.to in number))
        if len(members) >= fewest:
            found |= {link.to: members for link in links if link.to in number}
    return found


def _loosened(placed: _Placed) -> tuple[dict[_Thing, Numbers], dict[str, Numbers]]:
    """Return where what is loosened is made fast again, and from there what was loosened where.

    Of all later steps that tighten or secure it those count that come before it is loosened
    once more.
    """
    fast: defaultdict[_Thing, list[tuple[int, str]]] = defaultdict(list)
    loose: defaultdict[_Thing, list[int]] = defaultdict(list)
    for at, step, _ in placed:
        for link in (*step.tighten, *step.secures):
            fast[link.kind, link.to].append((at, step.id))
        for link in step.loosens:
            loose[link.kind, link.to].append(at)
    again: dict[_Thing, Numbers] = {}
    back: list[tuple[str, int]] = []
    for at, step, others in placed:
        for one in (step, *others):
            for link in one.loosens:
                thing = link.kind, link.to
                following = next((number for number in loose[thing] if number > at), inf)
                found = [made for made in fast[thing] if at < made[0] < following]
                again[one.id, link.to] = tuple(number for number, _ in found)
                back += [(name, at) for _, name in found if one is step]
    return again, _by_name(back)


def _lasting(assembly: Assembly, number: Mapping[str, int]) -> dict[str, tuple[int, int]]:
    def of(links: Sequence[Link]) -> list[int]:
        return [number[link.to] for link in links if link.to in number]

    spans = ((state.id, of(state.begins), of(state.ends)) for state in assembly.states)
    return {state: (min(begins), max(ends)) for state, begins, ends in spans if begins and ends}


def _rests(marked: Iterable[int]) -> dict[int, int]:
    """Return the rest points that the next step is not one after, each with the next.

    Examples
    --------
    >>> _rests([1, 2, 3, 6, 7])
    {3: 6}
    >>> _rests([2, 3])
    {0: 2}
    """
    return {at: then for at, then in pairwise((0, *sorted(marked))) if then - at > 1}
