"""How the fasteners of a joint are loosened: as they are tightened, backwards; said or drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.picture import Picture, loosened, picture_of
from sequencer.sheets.torques import about, is_left_hand
from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.fastening import Joint
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job
    from sequencer.trade.worked import WorkedJoint

_FEW = 2
_MOST_SAID = 24
# Common practice, no source.
_RULE = (
    "Loosen each by a part of a turn, in this order, and go round again before any comes out: "
    "so the load comes off evenly."
)


@dataclass(frozen=True, slots=True)
class Loosening:
    """The fasteners of a joint: what they are, in which order they go, and what to mind."""

    name: str
    about: str
    is_left_hand: bool
    rule: str
    order: tuple[str, ...]
    picture: Picture | None


def loosening(job: Job, joint: Joint) -> str:
    """Return in words the order in which a joint with a pattern is loosened; else nothing.

    The tightening reversed: one manual's worked case, as quoted in a secondary source. Fasteners
    without names go by the numbers of the drawing, which are their turns.
    """
    worked = job.bench.worked(joint)
    pattern = worked.pattern
    if pattern is None or isinstance(pattern, Unknown) or not 1 < len(pattern.order) <= _MOST_SAID:
        return ""
    if len(joint.places) != joint.count:
        return f"in the order drawn, backwards: from {joint.count} to 1"
    names = [worked.labels[number - 1] for number in pattern.removal]
    return f"in the order {', '.join(names)} (as tightened, backwards)"


def loosening_blocks(job: Job, step: Step, joints: Iterable[str]) -> tuple[Loosening, ...]:
    """Return the joints that are loosened where a step is taken back."""
    return tuple(_block(job.bench.worked(job.joints[joint], step)) for joint in joints)


def _block(worked: WorkedJoint) -> Loosening:
    pattern = worked.pattern
    known = pattern is not None and not isinstance(pattern, Unknown)
    drawn = picture_of(worked)
    names = tuple(worked.labels[number - 1] for number in reversed(worked.order))
    return Loosening(
        name=worked.joint.name,
        about=about(worked),
        is_left_hand=is_left_hand(worked),
        rule=_RULE if known and worked.joint.count > _FEW else "",
        order=names if known and drawn is None and worked.joint.count > _FEW else (),
        picture=loosened(drawn) if drawn is not None else None,
    )
