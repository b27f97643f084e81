"""What the lengths of a joint come to: engaged, sticking out, and the room that is left."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.joint_length import (
    EngagementRule,
    Stack,
    beyond_nut,
    engagement,
    in_blind_hole,
    into_space_behind,
)

if TYPE_CHECKING:
    from sequencer.model.fastening import Into, Joint
    from sequencer.model.quantities import Amount
    from sequencer.trade.joint_length import BlindHole, Engagement, StandOut
    from sequencer.trade.threads import Thread


@dataclass(frozen=True, slots=True)
class FastenerLength:
    """What the lengths come to, in mm; None for what the joint does not ask.

    `missing` names the fields without which nothing can be told. `past_grip_mm` is what is left
    of the length beyond all that is clamped, `too_far_mm` by how much that is more than the space
    behind (less than nothing: so much is left).
    """

    missing: tuple[str, ...] = ()
    past_grip_mm: Fraction | None = None
    in_hole: BlindHole | None = None
    in_hole_without_washers: BlindHole | None = None
    engagement: Engagement | Unknown | None = None
    stand_out: StandOut | Unknown | None = None
    too_far_mm: Fraction | None = None


def fastener_length(joint: Joint, thread: Thread | Unknown) -> FastenerLength | None:
    """Return what the lengths of a joint come to; None where it asks nothing about them."""
    if not (joint.hole or joint.into or joint.behind or joint.nut):
        return None
    missing = tuple(field for field in ("length", "grip") if getattr(joint, field) is None)
    if joint.length is None or joint.grip is None:
        return FastenerLength(missing)
    washers = _mm(joint.washers) if joint.washers is not None else Fraction(0)
    stack = Stack(_mm(joint.length), _mm(joint.grip), washers)
    hole, bare = _holes(joint, stack)
    engaged = stack.past_grip_mm if hole is None else hole.engaged_mm
    return FastenerLength(
        (),
        stack.past_grip_mm,
        hole,
        bare if washers else None,
        _engagement(joint.into, engaged, thread),
        _stand_out(joint, stack, thread),
        into_space_behind(stack, _mm(joint.behind.room)) if joint.behind else None,
    )


def _mm(amount: Amount) -> Fraction:
    return in_unit(amount, "mm")


def _exact(mm: float) -> Fraction:
    """Return a size of the thread tables as the decimal that it is printed as."""
    return Fraction(str(mm))


def _holes(joint: Joint, stack: Stack) -> tuple[BlindHole | None, BlindHole | None]:
    """Return how the fastener ends in its blind hole, and how it does without its washers."""
    if joint.hole is None:
        return None, None
    keep_off = _mm(joint.hole.keep_off) if joint.hole.keep_off is not None else 0
    depth = _mm(joint.hole.depth)
    both = (stack, stack.without_washers())
    first, second = (in_blind_hole(one, depth, keep_off) for one in both)
    return first, second


def _engagement(
    into: Into | None, engaged: Fraction, thread: Thread | Unknown
) -> Engagement | Unknown | None:
    if into is None:
        return None
    if isinstance(thread, Unknown):
        return Unknown("without a known thread nobody can tell whether enough of it carries")
    diameter = _exact(thread.diameter_mm)
    own = None
    if into.least is not None:
        own = EngagementRule(_mm(into.least) / diameter, "as the model states")
    return engagement(max(engaged, Fraction(0)), diameter, into.material, own)


def _stand_out(joint: Joint, stack: Stack, thread: Thread | Unknown) -> StandOut | Unknown | None:
    if joint.nut is None:
        return None
    if isinstance(thread, Unknown):
        return Unknown("without a known thread nobody can tell whether the nut is fully carried")
    return beyond_nut(stack, _mm(joint.nut), _exact(thread.pitch_mm))
