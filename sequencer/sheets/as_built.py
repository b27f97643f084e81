"""The as-built record: the packet's steps with what was recorded, deviations first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records import entries as told
from sequencer.records.describe import moment, piece_in_words
from sequencer.records.pieces import serials_missing
from sequencer.sheets.deviations import Deviation, deviations
from sequencer.sheets.torques import torque_blocks
from sequencer.sheets.words import first_sentence, on_paper, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check
    from sequencer.model.fastening import Joint
    from sequencer.model.steps import Step
    from sequencer.records.entries import Entry
    from sequencer.records.state import State, Taken
    from sequencer.sheets.job import Job

NOT_RECORDED = "not recorded"
_LENGTH = 150


@dataclass(frozen=True, slots=True)
class Recorded:
    """One line under a step: what was to be recorded, and what was; `open` where nothing was."""

    label: str
    asked: str
    found: str
    is_open: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One step as it was done."""

    number: int | None
    do: str
    how: str
    when: str
    by: str
    is_open: bool
    lines: tuple[Recorded, ...]


@dataclass(frozen=True, slots=True)
class Run:
    """Steps of one section that follow one another."""

    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """What the record says of one unit."""

    unit: str
    begun: str
    until: str
    entries: int
    people: str
    deviations: tuple[Deviation, ...]
    runs: tuple[Run, ...]
    unplaced: tuple[str, ...]
    roles: tuple[tuple[str, str, str], ...]


def as_built_view(job: Job, state: State) -> AsBuilt:
    """Return the packet's steps, in printed order, with what the log tells of each.

    A step that was done and is not printed (one of several, or of an earlier issue) comes under
    the others.
    """
    printed = [
        Run(job.section_title(section), tuple(_row(job, state, step) for step in steps))
        for section, steps in job.runs()
    ]
    others = [job.by_id[step] for step in state.done if step not in job.number]
    if others:
        printed.append(Run("Done and not printed", tuple(_row(job, state, one) for one in others)))
    first, last = state.entries[0], state.entries[-1]
    return AsBuilt(
        unit=state.unit,
        begun=moment(first.happened),
        until=moment(last.happened),
        entries=last.number,
        people=", ".join(dict.fromkeys(entry.by for entry in state.entries if entry.by)),
        deviations=deviations(job, state),
        runs=tuple(printed),
        unplaced=tuple(_unplaced(job, state)),
        roles=tuple((role, one.by, moment(one.happened)) for role, one in state.roles.items()),
    )


def _row(job: Job, state: State, step: Step) -> Row:
    done = state.done_by.get(step.id)
    entry = done or state.skipped.get(step.id)
    if done is not None:
        how = "done"
    elif step.id in state.skipped:
        how = f"left out, allowed by {getattr(state.skipped[step.id].what, 'allowed_by', '')}"
    elif step.id in state.part_done:
        how = state.halted(state.part_done[step.id])
    else:
        how = "not done"
    return Row(
        number=job.number.get(step.id),
        do=shortened(first_sentence(step.do), _LENGTH),
        how=how,
        when=moment(entry.happened) if entry else "",
        by=entry.by if entry else "",
        is_open=entry is None,
        lines=tuple(_lines(job, state, step)) if entry else (),
    )


def _lines(job: Job, state: State, step: Step) -> Iterator[Recorded]:
    missing = serials_missing(state)
    for fit in step.fits:
        pieces = [e for e in state.entries if _is_piece(e, fit.part)]
        for entry in pieces:
            if isinstance(entry.what, told.Fitted):
                yield Recorded(job.parts[fit.part].label, "", piece_in_words(entry.what))
        left = missing.get(fit.part, 0)
        if left:
            asked = "serial no." if left == 1 else f"{left} serial numbers"
            yield Recorded(job.parts[fit.part].label, asked, NOT_RECORDED, is_open=True)
    for link in step.tighten:
        yield from _torques(job, state, step, job.joints[link.to])
    for link in step.check:
        yield from _readings(job, state, step, job.checks[link.to])
    if step.hold:
        yield _signature(state, step)
    for entry in state.entries:
        if isinstance(entry.what, told.Note) and entry.what.step == step.id:
            yield Recorded("Note", "", f"{entry.what.text}{_by(entry)}")


def _is_piece(entry: Entry, part: str) -> bool:
    return isinstance(entry.what, told.Fitted) and entry.what.part == part


def _torques(job: Job, state: State, step: Step, joint: Joint) -> Iterator[Recorded]:
    blocks = torque_blocks(job, step)
    at = [link.to for link in step.tighten].index(joint.id)
    asked = blocks[at].figure
    label = joint.name or joint.id
    found = [(e, v) for e, v in state.torques if _tightened_in(job, state, e, joint.id) == step.id]
    for entry, verdict in found:
        what = entry.what
        if isinstance(what, told.Torque):
            place = f" at {what.place}" if what.place else ""
            wrench = f", wrench {what.wrench}" if what.wrench else ""
            text = f"{what.value}{place}{wrench}: {verdict.said}{_by(entry)}"
            yield Recorded(label, asked.large if asked else "", text)
    if not found and asked is not None:
        yield Recorded(label, asked.large, NOT_RECORDED, is_open=True)


def _tightened_in(job: Job, state: State, entry: Entry, joint: str) -> str | None:
    """Return the step that a torque belongs to: of those done before it the last, else the first.

    None if it is of another joint.
    """
    if not isinstance(entry.what, told.Torque) or entry.what.joint != joint:
        return None
    steps = [step.id for step in job.steps if any(link.to == joint for link in step.tighten)]
    done = [step for step in steps if step in state.done_by]
    before = [step for step in done if state.done_by[step].number < entry.number]
    if before:
        return max(before, key=lambda step: (state.done_by[step].number, job.number[step]))
    return next(iter(steps), None)


def _readings(job: Job, state: State, step: Step, check: Check) -> Iterator[Recorded]:
    label = check.label
    asked = check.limit.value.text.strip() if check.limit else check.good
    if job.course.taken_in.get(check.id, (0,))[-1] != job.number.get(step.id, 0):
        yield Recorded(label, asked, "taken again later: see there")
        return
    readings = state.readings.get(check.id, ())
    yield from (Recorded(label, asked, _read(state, taken)) for taken in readings)
    if not readings:
        yield Recorded(label, asked, NOT_RECORDED, is_open=True)


def _read(state: State, taken: Taken) -> str:
    place = f" at {taken.place}" if taken.place else ""
    round_ = f", round {taken.round}" if taken.round > 1 else ""
    gauge = f", with {taken.gauge}" if taken.gauge else ""
    accepted = state.accepted.get(taken.check)
    signed = accepted is not None and not taken.verdict.ok
    as_it_is = f"; used as it is, signed by {accepted.by}" if accepted and signed else ""
    void = f"; does not count any more: {on_paper(taken.void)}" if taken.void else ""
    verdict = taken.verdict.beside(taken.value) if not taken.verdict.ok else taken.verdict.word
    how = f"{taken.value.strip()}{place}{round_}{gauge}"
    return f"{how}: {verdict}{as_it_is}{void}{_by(taken.entry)}"


def _signature(state: State, step: Step) -> Recorded:
    signed = state.signed.get(step.id)
    if signed is None:
        return Recorded("Hold point", step.hold, "not signed", is_open=True)
    who = signed.by or "signed"
    return Recorded("Hold point", step.hold, f"{who}, {moment(signed.happened)}")


def _by(entry: Entry) -> str:
    return f" ({entry.by})" if entry.by else ""


def _when(entry: Entry) -> str:
    return f"{moment(entry.happened)}{_by(entry)}"


def _unplaced(job: Job, state: State) -> Iterator[str]:
    """Yield what the log tells that belongs to no step: notes, and what the model lacks."""
    taken = {link.to for step in job.steps for link in step.check}
    tightened = {link.to for step in job.steps for link in step.tighten}
    for entry in state.entries:
        what = entry.what
        if isinstance(what, told.Note) and not what.step:
            yield f"{_when(entry)}: {what.text}"
        elif isinstance(what, told.Reading) and what.check not in taken:
            yield f"{_when(entry)}: check {what.check}: {what.value}"
        elif isinstance(what, told.Torque) and what.joint not in tightened:
            yield f"{_when(entry)}: joint {what.joint}: {what.value}"
    for number, kind, name in state.strange:
        yield f"entry {number} names {kind} {name}, which the model does not have"
