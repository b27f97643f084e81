"""Fasteners in tapped holes: at the bottom, near it without a washer, or with too little thread."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.findings.typed_length import in_typed_unit, stacked

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import Hole, Joint
    from sequencer.trade.fastener_length import FastenerLength
    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.joint_length import BlindHole, Engagement


def about_holes(one: Tightened, joint: Joint, length: FastenerLength) -> Iterator[Problem]:
    """Yield what is odd about how the fasteners of a joint end in the thread they go into."""
    hole, bare = length.in_hole, length.in_hole_without_washers
    if joint.hole is not None and hole is not None:
        if hole.end != "clear":
            yield _bottoms_out(one, joint, joint.hole, hole)
        elif bare is not None and bare.end != "clear":
            yield _needs_washers(one, joint, joint.hole, bare)
    if hole is not None and hole.enters_mm <= 0:
        yield _does_not_reach(one, joint, hole)
    elif isinstance(length.engagement, Unknown) or length.engagement is None:
        return
    elif length.engagement.short:
        yield _short(one, joint, length, length.engagement)


def _end(joint: Joint, typed: Hole, hole: BlindHole) -> str:
    """Return in words how a fastener ends that is not clear of the bottom."""
    if hole.end == "touches":
        return "just touches the bottom of its hole"
    if hole.end == "bottoms out":
        return f"is {in_typed_unit(joint, -hole.room_mm)} too long for its hole"
    keep_off = typed.keep_off.text.strip() if typed.keep_off is not None else "nothing"
    room = in_typed_unit(joint, hole.room_mm)
    return f"ends {room} from the bottom of its hole, where {keep_off} are to be kept"


def _hole(one: Tightened, hole: Hole) -> Fact:
    said = f"the hole has full thread for {hole.depth.text.strip()}"
    return Fact(said, (*one.path, "hole", "depth"), why=hole.why)


def _bottoms_out(one: Tightened, joint: Joint, typed: Hole, hole: BlindHole) -> Problem:
    keep_off = in_unit(typed.keep_off, "mm") if typed.keep_off is not None else 0
    grip = in_unit(joint.grip, "mm") if joint.grip is not None else 0
    washers = in_unit(joint.washers, "mm") if joint.washers is not None else 0
    longest = grip + washers + in_unit(typed.depth, "mm") - keep_off
    limit = "less than" if not keep_off else "at most"
    return Problem(
        "bottoms-out",
        "error",
        f"the fastener of {one.name} {_end(joint, typed, hole)}: "
        f"{in_typed_unit(joint, hole.enters_mm)} of it go in",
        step=one.at,
        path=(*one.path, "length"),
        facts=(*stacked(joint, one.path), _hole(one, typed)),
        why="at the bottom the torque is reached, and nothing is clamped",
        fix=f"use one of {limit} {in_typed_unit(joint, longest)}",
    )


def _needs_washers(one: Tightened, joint: Joint, typed: Hole, bare: BlindHole) -> Problem:
    return Problem(
        "needs-washers",
        "note",
        f"without its washers the fastener of {one.name} {_end(joint, typed, bare)}: "
        f"{in_typed_unit(joint, bare.enters_mm)} of it go in",
        step=one.at,
        path=(*one.path, "washers"),
        facts=(*stacked(joint, one.path), _hole(one, typed)),
        why="at the bottom the torque is reached, and nothing is clamped",
        fix="say in the step that the washers must be there, or use a shorter fastener",
    )


def _does_not_reach(one: Tightened, joint: Joint, hole: BlindHole) -> Problem:
    return Problem(
        "short-engagement",
        "warning",
        f"the fastener of {one.name} does not reach its hole",
        step=one.at,
        path=(*one.path, "length"),
        facts=tuple(stacked(joint, one.path)),
        why="no thread carries it",
        fix=f"use one longer by more than {in_typed_unit(joint, -hole.enters_mm)}, or mend `grip`",
    )


def _short(one: Tightened, joint: Joint, length: FastenerLength, engaged: Engagement) -> Problem:
    material = joint.into.material if joint.into is not None else ""
    lacks = engaged.least_mm - engaged.engaged_mm
    deeper = length.in_hole is not None and length.in_hole.room_mm < lacks
    fix = f"use one longer by at least {in_typed_unit(joint, lacks)}"
    if deeper:
        fix = "ask the maker: a longer one would come to the bottom of the hole"
    least = in_typed_unit(joint, engaged.least_mm)
    return Problem(
        "short-engagement",
        "warning",
        f"{in_typed_unit(joint, engaged.engaged_mm)} of the thread of {one.name} carry, "
        f"and in {material} it should be {least}",
        step=one.at,
        path=(*one.path, "length"),
        facts=(
            *stacked(joint, one.path),
            Fact(f"at least {least} in {material}: {engaged.rule.source}", (*one.path, "into")),
        ),
        why="with too little thread engaged it strips before the fastener is tight",
        fix=fix,
    )
