"""The torque block of a step's card: the figure, where it comes from, and what is set for it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.figures import Figure, in_words, torque_figure
from sequencer.sheets.job import NO_SOURCE
from sequencer.sheets.locking import DragBlanks, castle_rule, drag_blanks
from sequencer.sheets.names import worded
from sequencer.sheets.picture import Picture, picture_of
from sequencer.sheets.wrenches import PassLine, WrenchLine, pass_lines, wrench_lines
from sequencer.trade.basics import Unknown
from sequencer.trade.choosing import choice_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.fastening import Joint
    from sequencer.model.steps import Step
    from sequencer.problem import Path
    from sequencer.sheets.job import Job
    from sequencer.trade.choosing import Candidate, Choice
    from sequencer.trade.in_force import Surface
    from sequencer.trade.worked import WorkedJoint, WorkedTorque

MOST_BOXES = 60
"""Above so many fasteners they are counted on one line instead of ticked one by one."""

# What a block says in its own words, so that a finding need not say it again.
_SAID_ALREADY = frozenset(("not-chosen", "no-source", "sources-disagree"))


@dataclass(frozen=True, slots=True)
class Quote:
    """A figure as one source gives it, with that source and what more is said of it."""

    figure: Figure
    source: str
    why: str


@dataclass(frozen=True, slots=True)
class TorqueBlock:
    """A torque: the figure, what it is for, where it comes from, what is set, what to tick.

    `quotes` are the figures of sources that disagree while none is chosen; there is no `figure`
    then. `others` say what other sources give, and why this one is taken; `told` is what the
    cross-check found. `boxes` are the fasteners in the order in which they are tightened.
    """

    figure: Figure | None
    quotes: tuple[Quote, ...]
    name: str
    about: str
    is_left_hand: bool
    single_use: bool
    source: str
    others: tuple[str, ...]
    told: tuple[str, ...]
    why: tuple[str, ...]
    wrench: bool
    wrenches: tuple[WrenchLine, ...]
    passes: tuple[PassLine, ...]
    turn_limit: str
    drag: DragBlanks | None
    castle: str
    picture: Picture | None
    order: str
    count: int
    boxes: tuple[str, ...]


def torque_blocks(job: Job, step: Step) -> tuple[TorqueBlock, ...]:
    """Return the torques of a step: of each joint that it tightens, and its own."""
    joints = [job.bench.worked(job.joints[link.to], step) for link in step.tighten]
    blocks = [_of_joint(job, worked) for worked in joints]
    own = job.bench.worked_step(step)
    of_joints = [worked.torque.path for worked in joints if worked.torque]
    if own is not None and own.path not in of_joints:
        blocks.append(_of_step(job, own))
    return tuple(blocks)


def torque_texts(job: Job, step: Step) -> tuple[str, ...]:
    """Return the torques of a step in short, for a line of a list."""
    torques = [job.joints[link.to].torque for link in step.tighten] + [step.torque]
    default = job.assembly.defaults.source
    choices = (choice_of(torque, default) for torque in torques if torque is not None)
    return tuple(
        torque_figure(choice.taken.value, job.assembly.prints).large
        if choice.taken is not None
        else "torque not chosen"
        for choice in choices
    )


def _of_joint(job: Job, worked: WorkedJoint) -> TorqueBlock:
    joint, own = worked.joint, worked.torque
    taken = own.choice.taken if own else None
    picture = picture_of(worked)
    passes = pass_lines(job, worked)
    paths = [("joints", joint.id), *([own.path] if own else ())]
    whys = (*([own.choice.candidates[0].why] if own else ()), joint.why)
    return TorqueBlock(
        figure=torque_figure(taken.value, job.assembly.prints) if taken else None,
        quotes=_quotes(job, own.choice) if own else (),
        name=joint.name,
        about=about(worked),
        is_left_hand=is_left_hand(worked),
        single_use=worked.single_use,
        source=source_of(job, own),
        others=tuple(_others(job, own.choice, worked)) if own else (),
        told=_told(job, paths),
        why=tuple(filter(None, whys)),
        wrench=own is not None and own.amount is not None,
        wrenches=wrench_lines(job, own, worked) if own else (),
        passes=passes,
        turn_limit=_turn_limit(job, joint),
        drag=drag_blanks(job, worked),
        castle=castle_rule(worked),
        picture=picture,
        order=_order(worked, picture),
        count=joint.count,
        boxes=fastener_names(worked) if joint.count <= MOST_BOXES else (),
    )


def _of_step(job: Job, own: WorkedTorque) -> TorqueBlock:
    taken, stated = own.choice.taken, own.choice.candidates[0]
    return TorqueBlock(
        figure=torque_figure(taken.value, job.assembly.prints) if taken else None,
        quotes=_quotes(job, own.choice),
        name="",
        about="",
        is_left_hand=False,
        single_use=stated.value.angle is not None,
        source=source_of(job, own),
        others=tuple(_others(job, own.choice, None)),
        told=_told(job, [own.path]),
        why=(stated.why,) if stated.why else (),
        wrench=own.amount is not None,
        wrenches=wrench_lines(job, own),
        passes=(),
        turn_limit="",
        drag=None,
        castle="",
        picture=None,
        order="",
        count=1,
        boxes=("1",),
    )


def is_left_hand(worked: WorkedJoint) -> bool:
    """Tell whether the thread is known to be left-hand."""
    thread = worked.in_force.thread
    return not isinstance(thread, Unknown) and thread.left_hand


def fastener_names(worked: WorkedJoint) -> tuple[str, ...]:
    """Return what the fasteners are called, in the order in which they are tightened.

    With a pattern that is drawn each begins with its turn, as in the picture; the numbers of
    fasteners without a name are told only where the order is not drawn.
    """
    names = [worked.labels[number - 1] for number in worked.order]
    turns = [str(turn) for turn in range(1, len(names) + 1)]
    if picture_of(worked) is None:
        return tuple(names)
    if not worked.joint.places:
        return tuple(turns)
    return tuple(f"{turn} · {name}" for turn, name in zip(turns, names, strict=True))


def about(worked: WorkedJoint) -> str:
    """Return count, thread, grade and what is on the threads, as far as they are known."""
    joint, known = worked.joint, worked.in_force
    pieces = (
        f"{joint.count} × {joint.thread}" if joint.thread else "",
        f"grade {known.grade.label}" if known.grade else "",
        f"threads {_on_threads(known.surface)}" if known.surface.label else "",
    )
    return ", ".join(piece for piece in pieces if piece)


def _on_threads(surface: Surface) -> str:
    """Say how threads are: `oiled`, or with which compound."""
    return surface.label if surface.label == surface.given else f"with {surface.label}"


def source_of(job: Job, own: WorkedTorque | None) -> str:
    """Return where a torque comes from; `finger tight` is no figure, and needs no source."""
    taken = own.choice.taken if own is not None else None
    if taken is None:
        return ""
    if taken.value.amount is not None:
        return job.words_of(taken.source) or NO_SOURCE
    is_default = taken.source == job.assembly.defaults.source
    return "" if is_default else job.words_of(taken.source)


def _quotes(job: Job, choice: Choice) -> tuple[Quote, ...]:
    if choice.taken is not None:
        return ()
    return tuple(
        Quote(
            torque_figure(one.value, job.assembly.prints),
            job.words_of(one.source) or NO_SOURCE,
            one.why,
        )
        for one in choice.candidates
    )


def _others(job: Job, choice: Choice, worked: WorkedJoint | None) -> Iterator[str]:
    """Yield what other sources give, why this one is taken, and what its figure is meant for."""
    if choice.taken is None:
        return
    for other in choice.candidates[1:]:
        verb = "Not taken" if choice.disagree else "Also"
        source = job.words_of(other.source) or NO_SOURCE
        yield f"{verb}: {other.text}, {source}" + (f" – {other.why}" if other.why else "")
    if choice.because:
        yield f"Taken because: {choice.because}"
    yield from _meant_for(choice.taken, worked)


def _meant_for(taken: Candidate, worked: WorkedJoint | None) -> Iterator[str]:
    known = worked.in_force if worked else None
    ours = (known.surface.given, known.grade.label if known.grade else "") if known else ("", "")
    kinds = (("threads that are", taken.surface, ours[0]), ("grade", taken.grade, ours[1]))
    stated = [f"{word} {theirs}" for word, theirs, own in kinds if theirs and theirs != own]
    if stated:
        yield f"The figure is for {' and '.join(stated)}"


def _told(job: Job, paths: Sequence[Path]) -> tuple[str, ...]:
    """Return what was found to be odd about figures that a person has given all the same."""
    told = (
        worded(job, finding.message)
        for finding in job.findings
        if any(finding.path[: len(path)] == path for path in paths)
        and finding.severity != "note"
        and finding.code not in _SAID_ALREADY
    )
    return tuple(dict.fromkeys(told))


def _turn_limit(job: Job, joint: Joint) -> str:
    limit = joint.turn_limit
    if limit is None:
        return ""
    names = " and ".join(limit.passes)
    why = f" – {limit.why}" if limit.why else ""
    most = in_words(limit.most, job.assembly.prints)
    return f"{names} together: at most {most}. Source: {job.source(limit.source)}{why}"


def _order(worked: WorkedJoint, picture: Picture | None) -> str:
    """Say whose order it is, or why none can be given."""
    pattern = worked.pattern
    if pattern is None:
        return ""
    if isinstance(pattern, Unknown):
        return f"Order “{worked.joint.pattern}”: {pattern.words}"
    where = "as drawn, from the black one" if picture else "as listed"
    return f"Order {where} – {pattern.name}"
