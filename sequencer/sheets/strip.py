"""The strip packet: its front, the cards in the order of taking apart, and what to buy then."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING

from sequencer.sheets.buying import Buying, buying
from sequencer.sheets.condition import condition_view
from sequencer.sheets.isolation import isolation_view
from sequencer.sheets.labels import strip_labels_view
from sequencer.sheets.names import worded
from sequencer.sheets.packet import document_html
from sequencer.sheets.strip_cards import Cards, StripCard, StripStop
from sequencer.sheets.strip_words import tools_off
from sequencer.sheets.torques import about
from sequencer.sheets.words import counted, duration, shortened

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping
    from pathlib import Path

    from sequencer.planning.stripping import Strip
    from sequencer.sheets.job import Job

STRIP_SHEETS = ("front", "isolation", "strip", "labels", "condition", "buy")
"""Every kind of sheet, in the order in which a strip packet holds them."""

_HEAD_LENGTH = 36
# Common practice, no source.
_RULES = (
    "Photograph the unit from every side before anything comes off, and again before each cover.",
    "What will not come: stop, and look for a fixing that is still in. Never pry.",
    "One bag for each step, with its label, as soon as the parts are off.",
)


@dataclass(frozen=True, slots=True)
class Noted:
    """Something to mark or to read before it is too late, and the step that it is due in."""

    what: str
    step: int


@dataclass(frozen=True, slots=True)
class Front:
    """The first page of a strip packet."""

    title: str
    notice: str
    wear: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    draft: tuple[str, ...]
    counts: tuple[str, ...]
    rules: tuple[str, ...]
    noted: tuple[Noted, ...]
    points: tuple[StripStop, ...]
    tools: tuple[str, ...]
    stays: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StripRun:
    """Cards of one section that follow one another."""

    title: str
    head: str
    cards: tuple[StripCard, ...]


@dataclass(frozen=True, slots=True)
class StripSheet:
    """All cards, and the points of no return that are met when they are done."""

    runs: tuple[StripRun, ...]
    last_stops: tuple[StripStop, ...]


@dataclass(frozen=True, slots=True)
class Shopping:
    """What to buy after the strip."""

    buying: Buying

    def __bool__(self) -> bool:
        """Tell whether anything has to be bought, or may have to be."""
        return bool(self.buying)


def strip_html(job: Job, found: Strip, *, paper: str = "A4", layouts: Path | None = None) -> str:
    """Return the strip packet as one HTML document.

    Parameters
    ----------
    job : Job
        The model with the numbers of its packet, and the `sheets` asked for, of `STRIP_SHEETS`.
    found : Strip
        The order of taking apart.
    paper : str
        The size of the pages.
    layouts : Path or None
        A folder whose files stand in for the layouts of the same name.

    Raises
    ------
    LayoutFault
        If a template does not work.
    """
    off = {name: at for at, name in enumerate(found.order or (), start=1)}
    job = replace(job, paper=paper)
    makers: Mapping[str, Callable[[], object]] = {
        "front": lambda: front_view(job, found),
        "isolation": lambda: isolation_view(job),
        "strip": lambda: strip_view(job, found),
        "labels": lambda: strip_labels_view(job, off, Cards(job, found).spoiled),
        "condition": lambda: condition_view(job),
        "buy": lambda: shopping_view(job, found),
    }
    views = [(name, makers[name]()) for name in STRIP_SHEETS if name in job.sheets]
    told = [(name, view) for name, view in views if view] or views
    return document_html(job, told, paper=paper, layouts=layouts)


def front_view(job: Job, found: Strip) -> Front:
    """Return what the first page says."""
    assembly, cards = job.assembly, Cards(job, found)
    minutes = sum(taken.minutes for taken in found.steps.values())
    guessed = sum(taken.minutes for taken in found.steps.values() if taken.is_guess)
    how_much = "all" if guessed == minutes else duration(guessed)
    time = f"about {duration(minutes)}" + (f", {how_much} of it guessed" if guessed else "")
    tools = [tool for name in cards.order for tool in tools_off(job, job.by_id[name])]
    made = [cards.card(name) for name in cards.order]
    off = {part for taken in found.steps.values() for part in taken.comes_off}
    stays = [
        p.label for p in assembly.parts if p.at_start and p.id not in off and not _gone(job, p.id)
    ]
    return Front(
        title=assembly.title or assembly.assembly,
        notice=assembly.notice,
        wear=assembly.wear,
        warnings=assembly.warning,
        cautions=assembly.caution,
        draft=tuple(worded(job, one) for one in job.draft),
        counts=(
            counted(len(cards.order), "step"),
            *_few(len(found.points), "point of no return", "points of no return"),
            *_few(sum(found.buy.values()), "part to renew", "parts to renew"),
            time,
        ),
        rules=_RULES,
        noted=tuple(_noted(made)),
        points=tuple(cards.stop(point) for point in found.points),
        tools=tuple(dict.fromkeys(tools)),
        stays=tuple(stays),
    )


def _few(count: int, one: str, many: str) -> tuple[str, ...]:
    return (counted(count, one, many),) if count else ()


def _gone(job: Job, part: str) -> bool:
    """Tell whether a part that was on at the start came off in the building for good."""
    return part in job.course.off_in and part not in job.course.fitted_in


def _noted(cards: list[StripCard]) -> Iterator[Noted]:
    for card in cards:
        for reading in card.reads:
            yield Noted(f"Read: {reading.what}", card.number)
        for off in card.off:
            for mark in off.marks:
                yield Noted(f"{off.name}: {mark.rstrip(':_ ')}", card.number)


def strip_view(job: Job, found: Strip) -> StripSheet:
    """Return the cards, under the sections that the steps belong to."""
    cards = Cards(job, found)
    runs = []
    for section, names in groupby(cards.order, key=lambda name: job.by_id[name].section):
        title = job.section_title(section)
        head = shortened(title, _HEAD_LENGTH) or "Taking apart"
        runs.append(StripRun(title, head, tuple(cards.card(name) for name in names)))
    return StripSheet(tuple(runs), cards.last_stops())


def shopping_view(job: Job, found: Strip) -> Shopping:
    """Return what has to be new when the unit goes together again."""
    wanted = {part: (count, _why(job, found, part)) for part, count in found.buy.items()}
    return Shopping(buying(job, wanted, _turned(job, found)))


def _why(job: Job, found: Strip, part: str) -> str:
    known = job.parts[part]
    if known.renew or known.once:
        return "new each time" if known.renew else "taking it off spoils it"
    at = next(n for n, taken in enumerate(found.steps.values(), 1) if part in taken.spoils)
    return f"spoiled in step {at}"


def _turned(job: Job, found: Strip) -> Iterator[str]:
    """Yield the fasteners that serve once because they were turned by an angle."""
    for number, (name, taken) in enumerate(found.steps.items(), start=1):
        for joint in taken.loosens:
            worked = job.bench.worked(job.joints[joint], job.by_id[name])
            if worked.single_use:
                what = about(worked) or f"{worked.joint.count} ×"
                yield ": ".join(filter(None, (what, worked.joint.name))) + f", off in step {number}"
