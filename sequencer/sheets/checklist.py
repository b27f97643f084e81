"""The bench checklist: every step on a line, for the wall over the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.blocks import torque_blocks
from sequencer.sheets.words import first_sentence, shortened

if TYPE_CHECKING:
    from sequencer.model.assembly import Step
    from sequencer.sheets.job import Job

_LENGTH = 96
_STOP, _HOLD = "STOP ", "HOLD "

# For the smaller height, that of Letter, and the smaller width, that of A4.
_LINES_ON_A_PAGE = 36
_HEADING_LINES = 1.6
_WIDE_LINE = 84


@dataclass(frozen=True, slots=True)
class Item:
    """One step: its number, the start of its text, its torques, and where to stop or hold."""

    number: int
    text: str
    torques: tuple[str, ...]
    is_stop: bool
    is_together: bool
    hold: str


@dataclass(frozen=True, slots=True)
class Run:
    """Items of one section that follow one another."""

    title: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Checklist:
    """The sheet with every step on a line: over the whole width where one page holds them all."""

    runs: tuple[Run, ...]
    is_wide: bool


def checklist_view(job: Job) -> Checklist:
    """Return every step as a line, under its section."""
    runs = tuple(
        Run(job.section_title(section), tuple(_item(job, step) for step in steps))
        for section, steps in job.runs()
    )
    lines = sum(_HEADING_LINES + sum(map(_lines, run.items)) for run in runs)
    return Checklist(runs, is_wide=lines <= _LINES_ON_A_PAGE)


def _lines(item: Item) -> float:
    """Return about how many lines an item takes over the whole width of a page."""
    marks = (len(_STOP) if item.is_stop else 0) + (len(_HOLD + item.hold) if item.hold else 0)
    return -(-(len(item.text) + marks + len(" ".join(item.torques))) // _WIDE_LINE)


def _item(job: Job, step: Step) -> Item:
    figures = (block.figure for block in torque_blocks(job, step))
    return Item(
        number=job.number[step.id],
        text=shortened(first_sentence(step.do), _LENGTH),
        torques=tuple(figure.large for figure in figures if figure),
        is_together=bool(job.movement(step)),
        is_stop=bool(job.facts_of(step).last_chance_for),
        hold=step.hold,
    )
