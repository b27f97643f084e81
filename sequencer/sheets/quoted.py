"""Every figure of a model that somebody has to answer for, with where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.line_sums import typed_widths
from sequencer.sheets.words import listed, opening
from sequencer.trade.choosing import choice_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.compounds import Compound
    from sequencer.model.fastening import Joint, Torque
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job


_ENOUGH, _STEP_LENGTH = 25, 80


@dataclass(frozen=True, slots=True)
class Quoted:
    """A figure as typed, what it is for, and its source: an id, words, or nothing."""

    what: str
    text: str
    source: str
    is_taken: bool = True


def quoted(job: Job) -> Iterator[Quoted]:
    """Yield the figures of joints, checks, compounds, heating and packs, in the model's order."""
    assembly = job.assembly
    for joint in assembly.joints:
        yield from _of_joint(assembly, joint)
    for step in assembly.steps:
        if step.torque is not None:
            yield from _torques(assembly, tightened_in(job, step), step.torque)
        if step.heat is not None:
            heated = f"{listed([job.parts[link.to].label for link in step.heat.part])}, heated to"
            source = step.heat.source or assembly.defaults.source
            yield Quoted(heated, _typed(step.heat.to), source)
    for check in assembly.checks:
        yield from _of_check(job, check)
    for compound in assembly.compounds:
        yield from _of_compound(assembly, compound)
    for part in assembly.parts:
        if part.pack is not None and part.pack.effect:
            source = part.pack.source or assembly.defaults.source
            yield Quoted(f"{part.label}, effect", part.pack.effect, source)


def tightened_in(job: Job, step: Step) -> str:
    """Return what to call in a list what a step tightens: its joint, else the step in its words."""
    if step.tighten:
        return joint_name(job.joints[step.tighten[0].to])
    at = job.number.get(step.id)
    return in_step_words(step) + (f" (step {at})" if at else "")


def in_step_words(step: Step) -> str:
    """Return what a step says to do, in short, for a torque that is of no joint."""
    return opening(step.do, _ENOUGH, _STEP_LENGTH).rstrip(".")


def joint_name(joint: Joint) -> str:
    """Return what to call a joint in a list."""
    return joint.name or joint.thread or joint.id


def _typed(amount: Amount) -> str:
    return amount.text.strip()


def _torques(assembly: Assembly, what: str, torque: Torque) -> Iterator[Quoted]:
    choice = choice_of(torque, assembly.defaults.source)
    for one in choice.candidates:
        if one.value.amount is not None:
            is_taken = not choice.disagree or one is choice.taken
            yield Quoted(what, one.text, one.source, is_taken)


def _of_joint(assembly: Assembly, joint: Joint) -> Iterator[Quoted]:
    what, default = joint_name(joint), assembly.defaults.source
    if joint.torque is not None:
        yield from _torques(assembly, what, joint.torque)
    if joint.turn_limit is not None:
        limit = joint.turn_limit
        yield Quoted(f"{what}, angles together", _typed(limit.most), limit.source or default)
    if joint.grade is not None and joint.grade.proof is not None:
        yield Quoted(f"{what}, proof", _typed(joint.grade.proof), joint.grade.source or default)
    if joint.hole is not None:
        yield Quoted(f"{what}, hole", _typed(joint.hole.depth), joint.hole.source or default)
    if joint.into is not None and joint.into.least is not None:
        source = joint.into.source or default
        yield Quoted(f"{what}, engagement", _typed(joint.into.least), source)
    if joint.behind is not None:
        source = joint.behind.source or default
        yield Quoted(f"{what}, space behind", _typed(joint.behind.room), source)


def _of_check(job: Job, check: Check) -> Iterator[Quoted]:
    what, default = check.label, check.source or job.assembly.defaults.source
    if check.limit is not None:
        yield Quoted(what, _typed(check.limit.value), check.limit.source or default)
    for result in check.results:
        if result.limit is not None:
            source = result.limit.source or default
            yield Quoted(f"{what}, {result.name}", _typed(result.limit.value), source)
    if check.rework is not None and check.rework.limit is not None:
        limit = check.rework.limit
        yield Quoted(f"{what}, rework", _typed(limit.value), limit.source or default)
    for reading in check.readings:
        if reading.is_ is not None:
            yield Quoted(f"{what}, {reading.ask or reading.name}", _typed(reading.is_), default)
    lines = {link.to for reading in check.readings for link in reading.line}
    for line in (line for line in job.assembly.lines if line.id in lines):
        for name, text in typed_widths(job, line):
            yield Quoted(f"{what}, width of {name}", text, default)


def _of_compound(assembly: Assembly, compound: Compound) -> Iterator[Quoted]:
    source = compound.source or assembly.defaults.source
    times = (
        ("open time", _typed(compound.open) if compound.open else ""),
        ("fixture", _typed(compound.fixture) if compound.fixture else ""),
        ("cure", compound.cure.text if compound.cure else ""),
        ("hottest", _typed(compound.hottest) if compound.hottest else ""),
    )
    for name, text in times:
        if text:
            yield Quoted(f"{compound.label}, {name}", text, source)
