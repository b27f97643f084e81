"""The sources page: which figure comes from where, what disagrees, and what cross-checks used."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.job import NO_SOURCE
from sequencer.sheets.quoted import joint_name, quoted, tightened_in
from sequencer.trade.basics import Unknown
from sequencer.trade.choosing import choice_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.fastening import Torque
    from sequencer.sheets.job import Job
    from sequencer.sheets.quoted import Quoted
    from sequencer.trade.worked import WorkedJoint

# Which standards list the threads of each series; trade/threads.py reads its tables from them.
_THREADS: Mapping[str, str] = {
    "metric coarse": "ISO 261 and ISO 262; stress area ISO 898-1",
    "metric fine": "ISO 261 and ISO 262; stress area ISO 898-1",
}
_UNIFIED = "ASME B1.1; stress area FED-STD-H28/2B"
_NOT_CHECKED = "Not checked"
_PRELOAD = "Preload: T = K·D·F: NASA-STD-5020B, equation 24"
_ADAPTER = (
    "Adapter: set T·L/(L + E·cos θ): in line US Army TM 1-1500-204-23-9, at 90° TM 9-2350-277-20-2"
)


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure as typed and what it is for; one that was not taken says so."""

    what: str
    text: str
    is_taken: bool


@dataclass(frozen=True, slots=True)
class SourceList:
    """A source with the figures taken from it."""

    name: str
    figures: tuple[FigureRow, ...]


@dataclass(frozen=True, slots=True)
class Disagreement:
    """What sources say of one joint, each figure with its source; `chosen` is empty for none."""

    what: str
    figures: tuple[tuple[str, str], ...]
    chosen: str
    because: str


@dataclass(frozen=True, slots=True)
class CrossCheck:
    """A table or formula and the joints that were checked with it, or why some were not."""

    words: str
    joints: str


@dataclass(frozen=True, slots=True)
class Sources:
    """The page: figures by source, those without one, disagreements, and the cross-check."""

    listed: tuple[SourceList, ...]
    without: tuple[FigureRow, ...]
    disagreements: tuple[Disagreement, ...]
    checks: tuple[CrossCheck, ...]

    def __bool__(self) -> bool:
        """Tell whether the model states any figure that needs a source."""
        return bool(self.listed or self.without)


def sources_view(job: Job) -> Sources:
    """Return what the sources page says."""
    by_source: dict[str, list[FigureRow]] = {source.id: [] for source in job.assembly.sources}
    without: list[FigureRow] = []
    for one in quoted(job):
        rows = by_source.setdefault(one.source, []) if one.source else without
        rows.append(_row(one))
    listed = (
        SourceList(job.words_of(source), tuple(rows)) for source, rows in by_source.items() if rows
    )
    return Sources(
        tuple(listed), tuple(without), tuple(_disagreements(job)), tuple(_cross_checks(job))
    )


def _row(one: Quoted) -> FigureRow:
    return FigureRow(one.what, one.text, one.is_taken)


def _disagreements(job: Job) -> Iterator[Disagreement]:
    for what, torque in _torques(job):
        choice = choice_of(torque, job.assembly.defaults.source)
        if choice.disagree:
            yield Disagreement(
                what,
                tuple(
                    (one.text, job.words_of(one.source) or NO_SOURCE) for one in choice.candidates
                ),
                choice.taken.text if choice.taken else "",
                choice.because,
            )


def _torques(job: Job) -> Iterator[tuple[str, Torque]]:
    for joint in job.assembly.joints:
        if joint.torque is not None:
            yield joint_name(joint), joint.torque
    for step in job.assembly.steps:
        if step.torque is not None:
            yield tightened_in(job, step), step.torque


def _cross_checks(job: Job) -> Iterator[CrossCheck]:
    """Yield each table that torques were checked with, and the joints that it served."""
    served: dict[str, list[str]] = {}
    for joint in job.assembly.joints:
        for words in _words(job.bench.worked(joint)):
            served.setdefault(words, []).append(joint_name(joint))
    for words, joints in sorted(served.items(), key=_kind):
        yield CrossCheck(words, ", ".join(joints))


def _kind(served: tuple[str, list[str]]) -> tuple[bool, str]:
    """Return what brings tables of one kind together; what was not checked comes last."""
    words = served[0]
    return words.startswith(_NOT_CHECKED), words


def _words(worked: WorkedJoint) -> Iterator[str]:
    check, known = worked.check, worked.in_force
    if isinstance(check, Unknown):
        yield f"{_NOT_CHECKED}: {check.words}"
    elif check is not None:
        if not isinstance(known.thread, Unknown):
            yield f"Thread: {_THREADS.get(known.thread.series, _UNIFIED)}"
        if not isinstance(known.strength, Unknown):
            yield f"Strength of grade {known.strength.grade}: {known.strength.source}"
        factor = known.surface.factor
        band = f"{factor.band.low:g} to {factor.band.high:g}"
        yield f"Nut factor {band}, {factor.surface}: {factor.source}"
        yield _PRELOAD
    if worked.pattern is not None and not isinstance(worked.pattern, Unknown):
        yield f"Order of tightening: {worked.pattern.name}"
    if worked.joint.adapter is not None:
        yield _ADAPTER
    if worked.castle is not None:
        yield f"Castle nut: {worked.castle.source}"
    if worked.drag is not None and worked.drag.usual is not None:
        yield f"Drag of self-locking nuts: {worked.drag.usual.source}"
