"""The bench checklist: every step on a line, for the wall over the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.torques import torque_texts
from sequencer.sheets.words import opening

if TYPE_CHECKING:
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job

# "Turn it over." alone says nothing, nor does a torque beside what is done before tightening.
_ENOUGH, _ENOUGH_TO_TIGHTEN, _LENGTH = 25, 45, 110
_STOP, _TRIAL, _HOLD, _REST = "STOP ", "TRIAL ", "HOLD ", "REST then step "

# For the smaller height, that of Letter, and the smaller width, that of A4.
_LINES_ON_A_PAGE = 36
_HEADING_LINES = 1.6
_WIDE_LINE = 84


@dataclass(frozen=True, slots=True)
class Item:
    """One step: its number, the start of its text, its torques, and where to stop or hold.

    `rest` is the next step after which the job may be left, where it may be left after this one
    and then not for a while.
    """

    number: int
    text: str
    torques: tuple[str, ...]
    is_stop: bool
    is_together: bool
    is_trial: bool
    hold: str
    rest: int | None


@dataclass(frozen=True, slots=True)
class Run:
    """Items of one section that follow one another."""

    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Checklist:
    """The sheet with every step on a line: over the whole width where one page holds them all.

    `first_rest` is the first step after which the job may be left, if the start is no such point.
    """

    runs: tuple[Run, ...]
    is_wide: bool
    first_rest: int | None


def checklist_view(job: Job) -> Checklist:
    """Return every step as a line, under its section."""
    runs = tuple(
        Run(job.section_title(section), tuple(_item(job, step) for step in steps))
        for section, steps in job.runs()
    )
    lines = sum(_HEADING_LINES + sum(map(_lines, run.items)) for run in runs)
    return Checklist(runs, lines <= _LINES_ON_A_PAGE, job.course.rests.get(0))


def _lines(item: Item) -> float:
    """Return about how many lines an item takes over the whole width of a page."""
    marks = (
        (_STOP, item.is_stop),
        (_TRIAL, item.is_trial),
        (_HOLD + item.hold, item.hold),
        (f"{_REST}{item.rest}", item.rest),
    )
    printed = "".join((item.text, *item.torques, *(mark for mark, is_there in marks if is_there)))
    return -(-len(printed) // _WIDE_LINE)


def _item(job: Job, step: Step) -> Item:
    number, torques = job.number[step.id], torque_texts(job, step)
    return Item(
        number=number,
        text=opening(step.do, _ENOUGH_TO_TIGHTEN if torques else _ENOUGH, _LENGTH),
        torques=torques,
        is_together=bool(job.movement(step)),
        is_stop=bool(job.stops_for(step)),
        is_trial=step.id in job.trials,
        hold=step.hold,
        rest=job.course.rests.get(number),
    )
