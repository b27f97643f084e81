"""Joints held against each other: a bigger thread with a torque that seems to lack a digit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown
from sequencer.trade.lost_digits import Sized, bigger_thread_lower_torque
from sequencer.trade.saying import in_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.lost_digits import LostDigit

_KN = 1000


def about_sizes(every: Sequence[Tightened]) -> Iterator[Problem]:
    """Yield each joint that has a bigger thread and a lower torque than another, as if slipped.

    Joints whose unit seems to have slipped are told of already, and left out.
    """
    by_name = {one.name: one for one in every}
    sized = (each for one in every if (each := _sized(one)) is not None)
    for lost in bigger_thread_lower_torque(sized):
        yield _lower_torque(lost, by_name[lost.bigger.name], by_name[lost.smaller.name])


def _sized(one: Tightened) -> Sized | None:
    """Return a joint as the comparison sees it; None without a known thread or a sane torque."""
    amount = one.torque.amount if one.torque is not None else None
    if one.worked is None or amount is None:
        return None
    thread, strength, check = (
        one.worked.in_force.thread,
        one.worked.in_force.strength,
        one.worked.check,
    )
    if isinstance(thread, Unknown):
        return None
    if isinstance(strength, Unknown) or check is None or isinstance(check, Unknown):
        return Sized(one.name, thread, amount.si)
    return None if check.unit_slip else Sized(one.name, thread, amount.si, strength)


def _lower_torque(lost: LostDigit, bigger: Tightened, smaller: Tightened) -> Problem:
    figures = {one.name: _figure(one) for one in (bigger, smaller)}
    clamps = {bigger.name: lost.bigger_clamp_n, smaller.name: lost.smaller_clamp_n}
    threads = {bigger.name: lost.bigger.thread.short, smaller.name: lost.smaller.thread.short}
    return Problem(
        "bigger-thread-lower-torque",
        "warning",
        f"{bigger.name} has a bigger thread than {smaller.name} and a lower torque: "
        f"{threads[bigger.name]} with {figures[bigger.name]}, "
        f"{threads[smaller.name]} with {figures[smaller.name]}",
        step=bigger.at,
        path=bigger.torque_path(),
        facts=tuple(
            Fact(
                f"{one.name}: {figures[one.name]} clamps with about "
                f"{in_words(clamps[one.name] / _KN, 'kN')}",
                one.torque_path(),
            )
            for one in (bigger, smaller)
        ),
        why="a digit may have been lost: the bigger one would clamp far less than the smaller",
        fix="look both figures up again: whoever wrote them has to say",
    )


def _figure(one: Tightened) -> str:
    amount = one.torque.amount if one.torque is not None else None
    return "" if amount is None else f"`{amount.text.strip()}`"
