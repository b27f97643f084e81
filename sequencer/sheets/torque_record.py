"""The torque record: every joint with its passes, a box for each fastener, and who did it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.job import said
from sequencer.sheets.quoted import in_step_words
from sequencer.sheets.torques import TorqueBlock, torque_blocks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job, Said

_COLUMNS = 8  # of fasteners beside one another; more begin a new grid with its own headings
_LABEL_MM, _COLUMN_MM = 44.0, 16.2


@dataclass(frozen=True, slots=True)
class RecordRow:
    """A line of the grid: what is done to each fastener, and whether a figure is written down."""

    mark: str
    large: str
    text: str
    is_written: bool


@dataclass(frozen=True, slots=True)
class Grid:
    """Fasteners beside one another, in the order in which they are tightened."""

    columns: tuple[str, ...]
    width: str


@dataclass(frozen=True, slots=True)
class JointRecord:
    """One joint at one step: what is aimed at, and what becomes of each fastener in each pass.

    Without grids the fasteners are counted; `joint` is the block of the card. `name` is the
    joint's, or what the step says where the torque is of no joint.
    """

    step: Said
    name: str
    joint: TorqueBlock
    rows: tuple[RecordRow, ...]
    grids: tuple[Grid, ...]


@dataclass(frozen=True, slots=True)
class TorqueRecord:
    """All joints that are tightened with a wrench, in the order of the steps."""

    joints: tuple[JointRecord, ...]

    def __bool__(self) -> bool:
        """Tell whether anything is tightened with a wrench."""
        return bool(self.joints)


def torque_record_view(job: Job) -> TorqueRecord:
    """Return the record of every torque, those of steps that may be done instead included."""
    return TorqueRecord(tuple(_records(job)))


def _records(job: Job) -> Iterator[JointRecord]:
    for step in job.steps:
        for other in (step, *job.instead_of(step)):
            ref = said(job.ref(step.id), "" if other is step else ", what is done instead")
            for block in _blocks(job, other):
                name = block.name or ("" if other.tighten else in_step_words(other))
                yield _record(ref, name, block)


def _blocks(job: Job, step: Step) -> Iterator[TorqueBlock]:
    yield from (block for block in torque_blocks(job, step) if block.wrench or block.quotes)


def _record(step: Said, name: str, block: TorqueBlock) -> JointRecord:
    """Return the record of a joint; without a figure to tighten to it has nothing to fill in."""
    if block.quotes:
        return JointRecord(step, name, block, (), ())
    return JointRecord(step, name, block, tuple(_rows(block)), tuple(_grids(block.boxes)))


def _rows(block: TorqueBlock) -> Iterator[RecordRow]:
    if block.drag is not None:
        yield RecordRow("", "", "drag, measured", is_written=True)
        if block.drag.added:
            yield RecordRow("", "", "to reach, from", is_written=True)
            yield RecordRow("", "", "to reach, to", is_written=True)
    for one in block.passes:
        text = ", ".join(piece for piece in (one.text, one.way) if piece)
        yield RecordRow(one.mark, one.large, text, one.is_actual)
    if not block.passes:
        yield _only_pass(block)


def _only_pass(block: TorqueBlock) -> RecordRow:
    """Return the line of a figure that is reached in one: what to reach, or to set."""
    for wrench in block.wrenches:
        if wrench.is_corrected:
            return RecordRow("", wrench.setting, "set with the adapter, actual", is_written=True)
    return RecordRow("", block.figure.large if block.figure else "", "actual", is_written=True)


def _grids(fasteners: tuple[str, ...]) -> Iterator[Grid]:
    for first in range(0, len(fasteners), _COLUMNS):
        columns = fasteners[first : first + _COLUMNS]
        yield Grid(columns, f"{_LABEL_MM + _COLUMN_MM * len(columns):.1f}")
