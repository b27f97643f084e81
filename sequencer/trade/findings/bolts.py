"""Whether a torque is sane for its bolt: which bolt it is held against, and what is not known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.findings.pull import Bolt, about_pull
from sequencer.trade.strengths import strongest_in
from sequencer.trade.threads import read_thread

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.threads import Thread
    from sequencer.trade.worked import WorkedJoint


def about_bolts(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about a joint's torque, held against its thread, grade and surface.

    Without a known grade it is held against the strongest there is: what is too much for that is
    too much for any. While no figure is chosen each is looked at, for a unit that has slipped.
    """
    if one.worked is None:
        return
    thread = one.worked.in_force.thread
    if isinstance(thread, Unknown):
        yield from _unknown_thread(one, one.worked.joint.thread)
        return
    if one.torque is None:
        return
    yield from _unknown_grade(one, one.worked)
    bolt = _bolt(one.worked, thread)
    taken = one.torque.choice.taken
    for candidate in (taken,) if taken is not None else one.torque.choice.candidates:
        if candidate.value.amount is not None:
            yield from about_pull(one, candidate, candidate.value.amount, bolt)


def _bolt(worked: WorkedJoint, thread: Thread) -> Bolt:
    strength, factor = worked.in_force.strength, worked.in_force.surface.factor
    if isinstance(strength, Unknown):
        return Bolt(thread, strongest_in(thread), factor, known=False)
    return Bolt(thread, strength, factor, known=True)


def _unknown_thread(one: Tightened, typed: str) -> Iterator[Problem]:
    if not typed.strip():
        return
    try:
        read_thread(typed)
    except TradeError as error:
        yield Problem(
            "unknown-thread",
            "warning",
            f"{error.what}, so nothing about {one.name} is checked against it",
            step=one.at,
            path=(*one.path, "thread"),
            why="a slip in the torque or its unit, or a wrong length, would not be found",
            fix=error.fix,
        )


def _unknown_grade(one: Tightened, worked: WorkedJoint) -> Iterator[Problem]:
    strength = worked.in_force.strength
    if worked.in_force.grade is None or not isinstance(strength, Unknown):
        return
    yield Problem(
        "unknown-grade",
        "warning",
        f"{one.name}: {strength.words}",
        step=one.at,
        path=one.stated("grade"),
        why="a torque that is too much or too little for it would not be found",
        fix="write the class marked on the head, such as `8.8`, or `grade: {proof: 970 MPa}`",
    )
