"""Must-precede relations: those written, and those that follow from parts, units and states.

Kinds beyond the fields `after`, `before`, `onto` and `secures`: `takes_off` (what fits a part
comes before what takes it off), `again` (and that before what fits it once more), `under` (what
builds on a part comes before that part goes), `uncovered` and `covered` (nothing is taken off
under a part that is on), `loosens`, `needs`, `state`, `unit`, `one_of`, `upset_by`, `in_order`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.planning.network import Relation

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.model.common import Link
    from sequencer.model.steps import Step
    from sequencer.planning.lookups import Lookups, Stay
    from sequencer.planning.network import Steps
    from sequencer.problem import Path


def relations(lookups: Lookups) -> list[Relation]:
    """Return every must-precede relation of a model, the written ones step by step first."""
    found: list[Relation] = []
    for alone, step in zip(lookups.alone, lookups.steps, strict=True):
        for kind, links in (
            ("after", step.after),
            ("before", step.before),
            ("secures", step.secures),
        ):
            if links:
                _relate(lookups, found, kind, links, alone, ("steps", step.id))
        if step.onto:
            found.extend(_built_on(lookups, alone[0], step))
        if step.takes_off or step.loosens or step.needs:
            found.extend(_binding(_for_a_time(lookups, alone[0], step)))
    found.extend(_of_sections(lookups))
    found.extend(_of_lines(lookups))
    found.extend(_binding(_of_units_and_states(lookups)))
    found.extend(_binding(_of_one_of_and_checks(lookups)))
    return found


def _binding(relations: Iterable[Relation]) -> Iterator[Relation]:
    """Leave out relations of which one side is not there."""
    return (relation for relation in relations if relation.befores and relation.afters)


def _relate(  # one call a link list, in the loop that counts
    lookups: Lookups,
    found: list[Relation],
    kind: str,
    links: tuple[Link, ...],
    owners: Steps,
    owner_path: tuple[str, str],
) -> None:
    for item, link in enumerate(links):
        sort = link.kind
        others = lookups.steps_of[sort].get(link.to, ()) if sort != "all" else _all(lookups, owners)
        if sort != "step" and len(owners) == 1 and owners[0] in others:
            others = tuple(other for other in others if other != owners[0])
        if others:
            befores, afters = (owners, others) if kind == "before" else (others, owners)
            path = (*owner_path, kind, item)
            found.append(Relation(befores, afters, kind, sort, link.to, path, link.why))


def _all(lookups: Lookups, owners: Steps) -> Steps:
    """Return all steps of the owners' unit that fit or tighten something."""
    units = dict.fromkeys(lookups.steps[owner].unit for owner in owners)
    steps = ((number, lookups.steps[number]) for unit in units for number in lookups.of_unit[unit])
    return tuple(
        number for number, step in steps if step.fits or step.tighten or step.torque is not None
    )


def _built_on(lookups: Lookups, number: int, step: Step) -> Iterator[Relation]:
    for item, link in enumerate(step.onto):
        path = ("steps", step.id, "onto", item)
        yield from _onto(lookups, number, link, path, "onto")


def _onto(lookups: Lookups, number: int, link: Link, path: Path, kind: str) -> Iterator[Relation]:
    """Yield what follows from a step that builds on a part: it is on, and stays on."""
    part, alone = link.to, lookups.alone[number]
    trial = lookups.trials.number.get(number, -1)
    own = lookups.trials.fits.get((trial, part), ())
    stay = lookups.stay_of(part, number)
    fits = own or (stay.fits if stay is not None else ())
    others = fits if number not in fits else tuple(other for other in fits if other != number)
    if others:
        yield Relation(others, alone, kind, "part", part, path, link.why)
    if own or trial >= 0 or stay is None or stay.off in (-1, number):
        return
    off = (stay.off,)
    yield Relation(alone, off, "under", "part", part, path, link.why)
    known = lookups.parts.get(part)
    if known is not None and known.aid:
        return
    for upper in dict.fromkeys(fit.part for fit in lookups.steps[number].fits):
        above = _off_again(lookups, upper, number)
        if upper != part and above != stay.off:
            kind = "covered" if above < 0 else "uncovered"
            before = off if above < 0 else (above,)
            yield Relation(before, off, kind, "part", upper, path, link.why)


def _off_again(lookups: Lookups, part: str, fitter: int) -> int:
    """Return the step that takes a part off in the stay that a step fits it for, or -1."""
    stays: list[Stay] = lookups.stays.get(part, [])
    return next((stay.off for stay in stays if fitter in stay.fits), -1)


def _for_a_time(lookups: Lookups, number: int, step: Step) -> Iterator[Relation]:
    alone = lookups.alone[number]
    for item, link in enumerate(step.takes_off):
        path = ("steps", step.id, "takes_off", item)
        yield from _taken_off(lookups, number, link, path)
    for item, link in enumerate(step.loosens):
        path = ("steps", step.id, "loosens", item)
        for other in fasteners_again(lookups, number, link):
            about = (alone, (other,), "loosens", link.kind, link.to)
            yield Relation(*about, path, link.why)
    states = {state.id: state for state in lookups.assembly.states}
    for item, link in enumerate(step.needs):
        if link.to not in states:
            continue
        path = ("steps", step.id, "needs", item)
        for begins in states[link.to].begins:
            yield Relation(lookups.named(begins), alone, "needs", "state", link.to, path, link.why)
        for ends in states[link.to].ends:
            yield Relation(alone, lookups.named(ends), "needs", "state", link.to, path, link.why)


def _taken_off(lookups: Lookups, number: int, link: Link, path: Path) -> Iterator[Relation]:
    part, alone = link.to, lookups.alone[number]
    trial = lookups.trials.number.get(number, -1)
    if trial >= 0:
        own = lookups.trials.fits.get((trial, part), ())
        if own:
            yield Relation(own, alone, "takes_off", "part", part, path, link.why)
        return
    stays = lookups.stays.get(part, [])
    for at, stay in enumerate(stays):
        if stay.off != number:
            continue
        if stay.fits:
            yield Relation(stay.fits, alone, "takes_off", "part", part, path, link.why)
        for following in stays[at + 1 : at + 2]:
            yield Relation(alone, following.fits, "again", "part", part, path, link.why)


def fasteners_again(lookups: Lookups, number: int, link: Link) -> Steps:
    """Return the steps written later that make fast what a step loosens."""
    by_name = lookups.tightened_by if link.kind == "joint" else lookups.secured_by
    return tuple(other for other in by_name.get(link.to, ()) if other > number)


def _of_sections(lookups: Lookups) -> Iterator[Relation]:
    for section in lookups.assembly.sections:
        steps = lookups.steps_of["section"].get(section.id, ())
        path = ("sections", section.id)
        if section.after and steps:
            found: list[Relation] = []
            _relate(lookups, found, "after", section.after, steps, path)
            yield from found
        if section.in_order:
            for before, after in pairwise(steps):
                yield Relation(
                    lookups.alone[before],
                    lookups.alone[after],
                    "in_order",
                    "section",
                    section.id,
                    (*path, "in_order"),
                    "",
                )


def _of_lines(lookups: Lookups) -> Iterator[Relation]:
    for line in lookups.assembly.lines:
        steps = lookups.fitting(link.to for place in line.order for link in place.part)
        for field, links in (("shaft", line.shaft), ("bore", line.bore)):
            for item, link in enumerate(links):
                path = ("lines", line.id, field, item)
                for number in steps:
                    yield from _onto(lookups, number, link, path, "line")


def _of_units_and_states(lookups: Lookups) -> Iterator[Relation]:
    for unit in lookups.assembly.units:
        steps = tuple(lookups.of_unit.get(unit.id, ()))
        fits = tuple(n for n in lookups.fitters.get(unit.id, ()) if n not in steps)
        if steps and fits:
            yield Relation(steps, fits, "unit", "unit", unit.id, ("units", unit.id), "")
    for state in lookups.assembly.states:
        begins = [step for link in state.begins for step in lookups.named(link)]
        ends = [step for link in state.ends for step in lookups.named(link)]
        if begins and ends:
            path = ("states", state.id, "ends")
            about = (tuple(begins), tuple(ends), "state", "state", state.id)
            yield Relation(*about, path, state.why)


def _of_one_of_and_checks(lookups: Lookups) -> Iterator[Relation]:
    for number, choice in enumerate(lookups.assembly.one_of):
        path = ("one_of", number, "before")
        for link in choice.steps:
            for before in choice.before:
                steps, by = lookups.named(link), lookups.named(before)
                if steps and by:
                    yield Relation(steps, by, "one_of", "step", before.to, path, choice.why)
    for check in lookups.assembly.checks:
        takers = lookups.steps_of["check"].get(check.id, ())
        for item, link in enumerate(check.upset_by):
            upsets = tuple(step for step in lookups.named(link) if takers and step != takers[-1])
            if upsets:
                upset = ("checks", check.id, "upset_by", item)
                last = lookups.alone[takers[-1]]
                yield Relation(upsets, last, "upset_by", "check", check.id, upset, link.why)
