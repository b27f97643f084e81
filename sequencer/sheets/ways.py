"""The ways in to a step's place, as its card tells them."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.sheets.figures import in_words
from sequencer.sheets.lines import Line

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.common import Size, WayIn
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job


def ways_in(job: Job, step: Step) -> tuple[str, ...]:
    """Return the way in for each access need of a step: its own, its checks', those of lines.

    For a step that is not in the order, all its ways are told: nobody knows which are open when
    it comes to it.
    """
    if step.id not in job.number:
        return tuple(
            before + " or ".join(_way(job, way) for way in ways)
            for before, ways in _needs(job, step)
        )
    named = list(job.facts_of(step).ways_in)
    told: list[str] = []
    for before, ways in _needs(job, step):
        name = named.pop(0) if named else ""
        found = next((way for way in ways if way.name == name), None)
        if name:
            told.append(before + (_way(job, found) if found is not None else name))
    told += [f"from {end}" for end in named if end]
    return tuple(dict.fromkeys(told))


def tight(job: Job, step: Step) -> tuple[Line, ...]:
    """Return which of a step's alternative tools do not go in by the way taken, and which do."""
    names = job.facts_of(step).ways_in if step.id in job.number else ()
    way = next((way for way in step.ways_in if names and way.name == names[0]), None)
    if way is None or way.room is None:
        return ()
    room = to_si(way.room.value.value, way.room.value.unit)
    told = []
    for entry in step.tools:
        long = [link.to for link in entry if _needed(job, link.to) > room]
        short = [link.to for link in entry if link.to not in long]
        if long and short:
            only = " or ".join(job.tool_name(tool) for tool in short)
            out = " and ".join(job.tool_name(tool) for tool in long)
            do = "do" if len(long) > 1 else "does"
            told.append(Line("Tight access", (f"only {only}: {out} {do} not go in",)))
    return tuple(told)


def _needed(job: Job, tool: str) -> Fraction:
    """Return the room that a tool needs, in metres; nothing where none is stated."""
    needs = job.tools[tool].needs
    return to_si(needs.value.value, needs.value.unit) if needs is not None else Fraction(0)


def _needs(job: Job, step: Step) -> Iterator[tuple[str, Sequence[WayIn]]]:
    """Yield the ways of the step and of its checks, each with what to say before it."""
    if step.ways_in:
        yield "", step.ways_in
    for link in step.check:
        ways = job.checks[link.to].needs_open
        if ways:
            yield "for the check: ", ways


def _way(job: Job, way: WayIn) -> str:
    opening, room = way.opening, way.room
    words = way.name
    if opening is not None:
        words += f", opening {in_words(opening.value, job.assembly.prints)}"
    if room is not None:
        words += f", leaves {in_words(room.value, job.assembly.prints)} for the tool"
    return " – ".join([words, *_whys(opening, room), *filter(None, (way.why,))])


def _whys(*sizes: Size | None) -> Iterator[str]:
    yield from (size.why for size in sizes if size is not None and size.why)
