"""The findings of an order about times and compounds, and the times that a sheet prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.results import NotBefore, Times, Window
from sequencer.planning.tested import judged
from sequencer.planning.timing.along import Along
from sequencer.planning.timing.clock import timed, timed_links, typed
from sequencer.planning.timing.curing import loaded, told_loading
from sequencer.planning.timing.heating import (
    hot_over,
    told_hot_over,
    told_hot_parts,
    told_hot_shop,
)
from sequencer.planning.timing.preparing import (
    not_together,
    told_not_together,
    told_unprepared,
    unprepared,
)
from sequencer.planning.timing.sooner import Tries, could_go_before
from sequencer.planning.timing.windows import (
    in_time,
    opened,
    told_open_too_long,
    told_too_late,
    too_late,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.network import Network
    from sequencer.planning.telling import Teller
    from sequencer.problem import Problem

ALONG = frozenset(
    (
        "unprepared",
        "not-together",
        "open-too-long",
        "too-late",
        "loaded-too-soon",
        "cure-unknown",
        "too-hot",
    )
)
"""The codes of findings that hold for one order, and may not for another."""


def timing_findings(teller: Teller, order: Sequence[int]) -> tuple[Problem, ...]:
    """Return what is wrong with the times and the compounds of an order, turn by turn.

    Parameters
    ----------
    teller : Teller
        The model, with its rules.
    order : sequence of int
        Steps, each at most once; those that it lacks are passed over.

    Returns
    -------
    tuple of Problem
        With the codes of `ALONG`: `not-together` is an error, all others are warnings.
    """
    if not says_times(teller.assembly):
        return ()
    along = Along(timed(teller.assembly, teller.network), order)
    turns = along.clock.turns
    found = list(_found(teller, along))
    index = teller.network.index
    found.sort(key=lambda one: turns[index[one.step]] if one.step is not None else -1)
    return tuple(found)


def timing_as_written(tellers: Sequence[Teller]) -> tuple[Problem, ...]:
    """Return what is wrong with the times and the compounds of the written order.

    Where `one_of` leaves choices, of the first whose written order works; else of the first.
    """
    orders = [range(len(teller.network.ids)) for teller in tellers]
    every = zip(tellers, orders, strict=True)
    several = len(tellers) > 1 and says_times(tellers[0].assembly)
    works = (pair for pair in every if not several or not judged(*pair))
    return timing_findings(*next(works, (tellers[0], orders[0])))


def says_times(assembly: Assembly) -> bool:
    """Tell whether a model says anything about compounds, heat or times between steps."""
    return (
        bool(assembly.compounds)
        or any(step.heat is not None for step in assembly.steps)
        or next(timed_links(assembly), None) is not None
    )


def _found(teller: Teller, along: Along) -> Iterator[Problem]:
    for first, second in not_together(along):
        yield told_not_together(along, first, second)
    for coat in unprepared(along):
        yield told_unprepared(along, coat)
    tries = Tries(len(along.order))
    for bead in opened(along):
        if bead.is_over:
            sooner = could_go_before(teller, along, bead, _broken, tries)
            yield told_open_too_long(along, bead, sooner)
    for late in too_late(along):
        yield told_too_late(along, late)
    for one in loaded(along):
        yield from told_loading(along, one)
    for hot in hot_over(along):
        yield told_hot_over(along, hot)
    yield from told_hot_shop(along)
    yield from told_hot_parts(along)


def _broken(along: Along) -> set[object]:
    """Return a key for each thing that is wrong with the times and compounds of an order."""
    meeting = (
        ("meet", two.step, two.surface, frozenset((one.compound.id, two.compound.id)))
        for one, two in not_together(along)
    )
    beads = (("open", bead.since, bead.coat.compound.id) for bead in opened(along) if bead.is_over)
    loads = loaded(along)
    return {
        *meeting,
        *(("unprepared", found.coat.path) for found in unprepared(along)),
        *beads,
        *(("late", late.stated.path) for late in too_late(along)),
        *(("soon", one.step, one.coat.compound.id) for one in loads if one.is_too_soon),
        *(("unknown", one.step, one.coat.compound.id) for one in loads if one.setting.unknown),
        *(("hot", hot.step, hot.coat.compound.id) for hot in hot_over(along)),
    }


def times_along(assembly: Assembly, network: Network, order: Sequence[int]) -> Times:
    """Return when the steps of an order begin and end, and what runs between them.

    Times are in minutes from the start, of one person who serves each wait where it stands.
    """
    along = Along(timed(assembly, network), order)
    clock = along.clock
    return Times(
        begins={along.id(step): float(at / 60) for step, at in clock.begins.items()},
        ends={along.id(step): float(at / 60) for step, at in clock.ends.items()},
        waits=_waits(along),
        uncertain=_uncertain(along),
        windows=tuple(_windows(along)),
        hot_over={
            (along.id(hot.step), hot.coat.compound.id): along.id(hot.coat.step)
            for hot in hot_over(along)
        },
    )


def _waits(along: Along) -> dict[str, tuple[NotBefore, ...]]:
    """Return what each step has to wait for; of one earlier step the longest wait."""
    longest: dict[tuple[int, int], NotBefore] = {}
    for wait in along.clock.waits:
        text = typed(wait.stated.link.wait)
        told = NotBefore(
            along.id(wait.since), float(wait.seconds / 60), text, why=wait.stated.link.why
        )
        _keep(longest, (wait.step, wait.since), told)
    for one in loaded(along):
        if one.passed is not None and one.setting.seconds:
            minutes = float(one.setting.seconds / 60)
            told = NotBefore(along.id(one.since), minutes, one.setting.text, one.coat.compound.id)
            _keep(longest, (one.step, one.since), told)
    found: dict[str, tuple[NotBefore, ...]] = {}
    for (step, _), told in longest.items():
        found[along.id(step)] = (*found.get(along.id(step), ()), told)
    return found


def _uncertain(along: Along) -> dict[str, tuple[tuple[str, str], ...]]:
    """Return what each step loads of which nobody can say when it has cured."""
    found: dict[str, tuple[tuple[str, str], ...]] = {}
    for one in loaded(along):
        if one.passed is not None and one.setting.unknown:
            step, told = along.id(one.step), (along.id(one.since), one.coat.compound.id)
            found[step] = (*found.get(step, ()), told)
    return found


def _keep(longest: dict[tuple[int, int], NotBefore], key: tuple[int, int], told: NotBefore) -> None:
    """Keep the longer of two waits for one step; of equal ones both reasons."""
    known = longest.get(key)
    if known is None or told.minutes > known.minutes:
        longest[key] = told
    elif told.minutes == known.minutes:
        compound, why = known.compound or told.compound, known.why or told.why
        longest[key] = NotBefore(known.since, known.minutes, known.text, compound, why)


def _windows(along: Along) -> Iterator[Window]:
    for bead in opened(along):
        if bead.since != bead.until:
            compound = bead.coat.compound
            yield Window(
                along.id(bead.since),
                along.id(bead.until),
                float(bead.allowed / 60),
                float(bead.passed / 60),
                typed(compound.open),
                compound.id,
                path=bead.coat.path,
            )
    for late in in_time(along):
        link = late.stated.link
        yield Window(
            along.id(late.since),
            along.id(late.until),
            float(late.allowed / 60),
            float(late.passed / 60),
            typed(link.within),
            why=link.why,
            path=late.stated.path,
        )
