"""The rules of a valid order, said once more as plainly as can be, for small models.

Nothing here shares code with the planner: it reads the model's dataclasses and tries every order.
"""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence
    from fractions import Fraction

    from sequencer.model.assembly import Assembly, Link, Size, Step

Dropped = frozenset[tuple[str | int, ...]]
"""Paths of facts that are taken not to hold."""


def size(value: Size | None) -> Fraction | None:
    return None if value is None else to_si(value.value.value, value.value.unit)


def meant(assembly: Assembly, link: Link) -> set[str]:
    if link.kind == "step":
        return {link.to}
    if link.kind == "part":
        return {s.id for s in assembly.steps if any(fit.part == link.to for fit in s.fits)}
    if link.kind == "section":
        return {s.id for s in assembly.steps if s.section == link.to}
    return {s.id for s in assembly.steps if any(check.to == link.to for check in s.check)}


def predecessors(assembly: Assembly, step: Step, dropped: Dropped = frozenset()) -> set[str]:
    """Every step that must be done before this one."""
    found: set[str] = set()
    for field in ("after", "onto", "secures"):
        for item, link in enumerate(getattr(step, field)):
            if ("steps", step.id, field, item) not in dropped:
                found |= _but(step, link, meant(assembly, link))
    for section in assembly.sections:
        for item, link in enumerate(section.after):
            holds = ("sections", section.id, "after", item) not in dropped
            if holds and section.id == step.section:
                found |= _but(step, link, meant(assembly, link))
    for other in assembly.steps:
        for item, link in enumerate(other.before):
            holds = ("steps", other.id, "before", item) not in dropped
            if holds and step.id in meant(assembly, link):
                found |= _but(step, link, {other.id})
    return found


def _but(step: Step, link: Link, others: set[str]) -> set[str]:
    """A step waits for itself only where that is said of the step by name."""
    return others if link.kind == "step" else others - {step.id}


def open_ways(
    assembly: Assembly, done: Collection[str], step: Step, dropped: Dropped = frozenset()
) -> list[str]:
    """The names of the ways in that are open once the steps in `done` are done."""
    handled = {fit.part for fit in step.fits}
    present = {fit.part for s in assembly.steps if s.id in done for fit in s.fits}
    sizes = [size(part.largest) for part in assembly.parts if part.id in handled]
    through = size(step.largest)
    if through is None:
        through = max((s for s in sizes if s is not None), default=None)
    names = []
    for way in step.ways_in:
        path = ("steps", step.id, "ways_in", way.name)
        opening = size(way.opening)
        small = opening is not None and through is not None and through > opening
        if small and (*path, "opening") not in dropped:
            continue
        shut = any(
            link.to in present - handled and (*path, "shut_by", item) not in dropped
            for item, link in enumerate(way.shut_by)
        )
        if not shut:
            names.append(way.name)
    return names


def may_be_done(
    assembly: Assembly, done: Collection[str], step: Step, dropped: Dropped = frozenset()
) -> bool:
    """Whether a step may be done next, by rules 1 to 3."""
    if not predecessors(assembly, step, dropped) <= set(done):
        return False
    for number, group in enumerate(assembly.together):
        members = {link.to for link in group.steps}
        begun = members & set(done)
        foreign = step.id not in members and ("together", number) not in dropped
        if foreign and begun and begun != members:
            return False
    return not step.ways_in or bool(open_ways(assembly, done, step, dropped))


def is_valid(assembly: Assembly, order: Sequence[str], dropped: Dropped = frozenset()) -> bool:
    steps = {step.id: step for step in assembly.steps}
    return sorted(order) == sorted(steps) and all(
        may_be_done(assembly, order[:turn], steps[name], dropped) for turn, name in enumerate(order)
    )


def valid_orders(assembly: Assembly, dropped: Dropped = frozenset()) -> Iterator[tuple[str, ...]]:
    """Every valid order, by growing prefixes; nothing is pruned but what may not be done."""
    steps = {step.id: step for step in assembly.steps}

    def grow(done: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        if len(done) == len(steps):
            yield done
        for name, step in steps.items():
            if name not in done and may_be_done(assembly, done, step, dropped):
                yield from grow((*done, name))

    yield from grow(())


def has_order(assembly: Assembly, dropped: Dropped = frozenset()) -> bool:
    return next(valid_orders(assembly, dropped), None) is not None


def moves(order: Sequence[str], written: Sequence[str]) -> int:
    """Steps outside the longest common subsequence, by trying every pair."""
    rank = {name: number for number, name in enumerate(written)}
    best: dict[int, int] = {}
    ranks = [rank[name] for name in order if name in rank]
    for at, here in enumerate(ranks):
        best[at] = 1 + max((best[b] for b in range(at) if ranks[b] < here), default=0)
    return len(order) - max(best.values(), default=0)


def last_chances(assembly: Assembly, order: Sequence[str]) -> dict[str, list[str]]:
    """For each step that is a last chance, the earlier steps that it is one for."""
    steps = {step.id: step for step in assembly.steps}
    found: dict[str, list[str]] = {}
    for at, name in enumerate(order):
        step = steps[name]
        if not step.ways_in:
            continue
        rest = [other for other in order if other != name]
        met = [bool(open_ways(assembly, rest[:done], step)) for done in range(len(rest) + 1)]
        for turn, other in enumerate(rest):
            if turn >= at and met[turn] and not any(met[turn + 1 :]):
                stands_at = other
                for group in assembly.together:
                    members = [link.to for link in group.steps]
                    if other in members and name not in members:
                        stands_at = next(s for s in order if s in members)
                found.setdefault(stands_at, []).append(name)
    return found


def until(assembly: Assembly, order: Sequence[str], name: str) -> str | None:
    """The last step right after which `name` could be done, all else unchanged."""
    at = order.index(name)
    rest = [other for other in order if other != name]
    for turn in range(len(rest), at, -1):
        if is_valid(assembly, [*rest[:turn], name, *rest[turn:]]):
            return rest[turn - 1]
    return None


def all_orders(assembly: Assembly) -> Iterator[tuple[str, ...]]:
    yield from permutations(step.id for step in assembly.steps)
