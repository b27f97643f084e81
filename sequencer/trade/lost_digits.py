"""A bigger thread with a lower torque than a smaller one: as if a digit was lost."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.torque import preload_from_torque

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread


@dataclass(frozen=True, slots=True)
class Sized:
    """A joint as the comparison of sizes sees it; `strength` where the grade is known."""

    name: str
    thread: Thread
    torque_nm: float
    strength: Strength | None = None


@dataclass(frozen=True, slots=True)
class LostDigit:
    """A bigger thread with a lower torque than a smaller one, as if a digit was lost.

    The clamp forces in N are both at a nut factor of 0.2.
    """

    bigger: Sized
    smaller: Sized
    expected_nm: float
    bigger_clamp_n: float
    smaller_clamp_n: float


# A lost digit makes a figure ten times too small; joints differ, so from half to twice that.
_LOST_FROM, _LOST_TO = 5.0, 20.0
_COMPARED_AT = 0.2


def bigger_thread_lower_torque(joints: Iterable[Sized]) -> tuple[LostDigit, ...]:
    """Return the joints whose figure looks as if a digit was lost, each beside a smaller one.

    The smaller joint's torque is carried over by diameter times proof load (times stress area
    where a grade is not known), and is 5 to 20 times the bigger joint's figure. A question to
    whoever wrote the figures, never a correction. A joint is named once, beside the one that
    comes nearest to it in size. O(n·k) for k kinds of joint.
    """
    joints = tuple(joints)
    kinds = list(_alike(joints))
    pairs = (_nearest(joint, kinds) for joint in joints)
    return tuple(pair for pair in pairs if pair is not None)


def _alike(joints: Iterable[Sized]) -> Iterator[list[Sized]]:
    """Yield the joints of each thread and grade, the biggest first, by their torques."""
    kinds: dict[tuple[float, float, float], list[Sized]] = {}
    for joint in joints:
        limit = 0.0 if joint.strength is None else joint.strength.limit_mpa
        size = joint.thread.diameter_mm, joint.thread.pitch_mm, limit
        kinds.setdefault(size, []).append(joint)
    for _, alike in sorted(kinds.items(), reverse=True):
        yield sorted(alike, key=_torque)


def _torque(joint: Sized) -> float:
    return joint.torque_nm


def _nearest(bigger: Sized, kinds: Iterable[Sequence[Sized]]) -> LostDigit | None:
    """Return the joint of the next smaller thread that makes this one's figure look too low."""
    if bigger.torque_nm <= 0:
        return None
    for alike in kinds:
        if alike[0].thread.diameter_mm >= bigger.thread.diameter_mm:
            continue
        times = _size(bigger, alike[0]) / _size(alike[0], bigger)
        least = max(bigger.torque_nm, _LOST_FROM * bigger.torque_nm / times)
        first = bisect_right if least == bigger.torque_nm else bisect_left
        at = first(alike, least, key=_torque)
        if at < len(alike) and alike[at].torque_nm * times <= _LOST_TO * bigger.torque_nm:
            return _lost_digit(bigger, alike[at], alike[at].torque_nm * times)
    return None


def _size(joint: Sized, other: Sized) -> float:
    area = joint.thread.stress_area_mm2 * joint.thread.diameter_mm
    if joint.strength is None or other.strength is None:
        return area
    return area * joint.strength.limit_mpa


def _lost_digit(bigger: Sized, smaller: Sized, expected_nm: float) -> LostDigit:
    clamps = [
        preload_from_torque(joint.torque_nm, _COMPARED_AT, joint.thread.diameter_mm)
        for joint in (bigger, smaller)
    ]
    return LostDigit(bigger, smaller, expected_nm, *clamps)
