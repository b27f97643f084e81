"""What stands in a frame on a step's card: torques, checks and hold points."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.figures import Figure, figure, in_words, torque_figure
from sequencer.sheets.job import Ref, refs, said
from sequencer.sheets.words import listed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check, Otherwise, Rework
    from sequencer.model.fastening import Joint, Torque
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job, Said

MOST_BOXES = 60
"""Above so many fasteners they are counted on one line instead of ticked one by one."""

_MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class TorqueBlock:
    """A torque: the figure, what it is for, where it comes from, and a box for each fastener."""

    figure: Figure | None
    name: str
    about: str
    source: str
    why: tuple[str, ...]
    count: int
    boxes: tuple[int, ...]
    wrench: bool


@dataclass(frozen=True, slots=True)
class CheckBlock:
    """A check: what, with what, the limit, blanks, boxes for the verdict, what follows a fail."""

    verb: str
    what: str
    gauge: str
    limit: Figure | None
    source: str
    why: tuple[str, ...]
    readings: tuple[str, ...]
    verdicts: tuple[str, ...]
    rework: tuple[str, ...]
    fails: tuple[Said, ...]
    again: Said


def torque_blocks(job: Job, step: Step) -> tuple[TorqueBlock, ...]:
    """Return the torques of a step: of each joint that it tightens, and its own."""
    joints = [job.joints[link.to] for link in step.tighten]
    blocks = [_block(job, joint.torque, joint) for joint in joints]
    if step.torque is not None:
        blocks.append(_block(job, step.torque, None))
    return tuple(blocks)


def _block(job: Job, torque: Torque | None, joint: Joint | None) -> TorqueBlock:
    count = joint.count if joint else 1
    shown = torque_figure(torque.value, job.assembly.prints) if torque else None
    return TorqueBlock(
        figure=shown,
        name=joint.name if joint else "",
        about=_about(job, joint) if joint else "",
        source=_torque_source(job, torque) if torque else "",
        why=tuple(thing.why for thing in (torque, joint) if thing and thing.why),
        count=count,
        boxes=tuple(range(1, count + 1)) if count <= MOST_BOXES else (),
        wrench=torque is not None and torque.value.amount is not None,
    )


def _torque_source(job: Job, torque: Torque) -> str:
    """Return where a torque comes from; `finger tight` is no figure, and needs no source."""
    is_figure = torque.value.amount is not None
    return job.source(torque.source) if is_figure else job.words_of(torque.source)


def _about(job: Job, joint: Joint) -> str:
    """Return count, thread, grade and what is on the threads, as far as they are known."""
    defaults = job.assembly.defaults
    grade = joint.grade or defaults.grade
    surface = joint.surface or defaults.surface
    threads = f"{joint.count} × {joint.thread}" if joint.thread else ""
    pieces = (
        threads,
        f"grade {grade.label}" if grade else "",
        f"threads {surface}" if surface else "",
    )
    return ", ".join(piece for piece in pieces if piece)


def check_blocks(job: Job, step: Step) -> tuple[CheckBlock, ...]:
    """Return the checks that a step takes."""
    return tuple(_check(job, step, job.checks[link.to]) for link in step.check)


def _check(job: Job, step: Step, check: Check) -> CheckBlock:
    asked = (
        ("Measure", check.measure),
        ("Look", check.look),
        ("Feel", check.feel),
        ("Listen", check.listen),
    )
    verb, what = next(((verb, text) for verb, text in asked if text), ("Check", check.id))
    limit = check.limit
    return CheckBlock(
        verb=verb,
        what=what,
        gauge=_gauge(job, check.with_),
        limit=figure(limit.value, job.assembly.prints) if limit else None,
        source=job.source(limit.source, check.source) if limit else job.words_of(check.source),
        why=tuple(thing.why for thing in (limit, check) if thing and thing.why),
        readings=tuple(_readings(check)) if limit or check.measure else (),
        verdicts=tuple(_verdicts(check)),
        rework=tuple(_rework(job, check.rework)) if check.rework else (),
        fails=tuple(_fails(job, check.else_)) if check.else_ else (),
        again=_again(job, step, check),
    )


def _again(job: Job, step: Step, check: Check) -> Said:
    """Say where a reading is taken again, and what upsets it before then."""
    here = job.number.get(step.id)
    later = [n for n in job.course.taken_in.get(check.id, ()) if here is not None and n > here]
    if here is None or not later:
        return ()
    upsetting = [link for link in check.upset_by if here < job.number.get(link.to, 0) < later[0]]
    upsets = refs(job.numbers(upsetting))
    verb = " upset it" if len(upsets) > 1 else " upsets it"
    whys = "".join(f" – {link.why}" for link in upsetting if link.why)
    return said("Taken again in ", Ref(later[0]), *((": ", *upsets, verb, whys) if upsets else ()))


def _gauge(job: Job, gauge: str) -> str:
    if gauge not in job.tools:
        return gauge
    reads = job.tools[gauge].reads
    name = job.tool_name(gauge)
    return f"{name}, reads {reads.text.strip()}" if reads is not None else name


def _readings(check: Check) -> Iterator[str]:
    rounds = check.else_.most if check.else_ and check.else_.most else 1
    if rounds > 1:
        yield from (f"round {at}" for at in range(1, min(rounds, _MOST_ROUNDS) + 1))
    else:
        yield "reading"
        if check.rework:
            yield "after rework"


def _verdicts(check: Check) -> Iterator[str]:
    """Yield what may be ticked: how it was found, or else what is done about it."""
    follows = check.else_
    ways = (
        ("rework", check.rework is not None),
        ("renew", bool(follows and follows.renew)),
        ("again", bool(follows and follows.again_from)),
        ("accept as it is", bool(follows and follows.accept_by)),
    )
    further = [word for word, applies in ways if applies]
    if check.good or check.bad:
        yield check.good or "right"
        yield check.bad or "wrong"
        yield from further
    else:
        yield "accept"
        yield from further or ["out of limit"]


def _rework(job: Job, rework: Rework) -> Iterator[str]:
    if rework.limit is not None:
        yield in_words(rework.limit.value, job.assembly.prints)
        if rework.limit.why:
            yield rework.limit.why
    if rework.how:
        yield rework.how


def _fails(job: Job, follows: Otherwise) -> Iterator[Said]:
    if follows.renew:
        yield (f"Renew: {listed([job.parts[link.to].label for link in follows.renew])}",)
    if follows.change:
        yield (f"Change: {follows.change}",)
    for link in follows.again_from:
        rounds = f", at most {follows.most} rounds" if follows.most else ""
        yield said("Start again from ", job.ref(link.to), rounds)
    if follows.stop:
        yield (f"Stop. Tell: {follows.stop}",)
    if follows.accept_by:
        yield (f"May be accepted as it is by: {follows.accept_by}",)
    for link in (*follows.renew, *follows.again_from):
        if link.why:
            yield (link.why,)
