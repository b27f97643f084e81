"""What only some joints have: an order, self-locking or castle nuts, lengths that matter.

Each loads its tables only for the joints that have it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import TradeError, Unknown

if TYPE_CHECKING:
    from sequencer.model.fastening import Joint
    from sequencer.trade.fastener_length import FastenerLength
    from sequencer.trade.locking import CastleRule, Drag
    from sequencer.trade.patterns import Pattern
    from sequencer.trade.threads import Thread


@dataclass(frozen=True, slots=True)
class WorkedDrag:
    """The drag of self-locking nuts: whether it is added to the figure, and what it may be.

    With `added` the wrench must reach each end of the band and the drag measured on that nut;
    else it is in the figure already. `usual` is from a published table, None if that has not got
    the thread.
    """

    added: bool
    usual: Drag | None


def pattern_of(joint: Joint) -> Pattern | Unknown | None:
    """Return the pattern that is prescribed, or why it cannot be given; None for as numbered."""
    if not joint.pattern:
        return None
    from sequencer.trade.patterns import pattern_for

    at = [(float(x), float(y)) for x, y in joint.at] if len(joint.at) == joint.count else []
    try:
        return pattern_for(joint.pattern, joint.count, at)
    except TradeError as error:
        return Unknown(error.what)


def drag_of(joint: Joint, thread: Thread | Unknown) -> WorkedDrag | None:
    """Return what the model says of the drag of a joint's nuts; None if it says nothing."""
    if not joint.drag:
        return None
    from sequencer.trade import locking

    usual = None if isinstance(thread, Unknown) else locking.drag_of(thread)
    return WorkedDrag(joint.drag == "add", usual)


def castle_of(joint: Joint) -> CastleRule | None:
    """Return how far a castle nut may go on to line up: not past the band, the stricter rule."""
    if joint.align != "castle":
        return None
    from sequencer.trade.locking import CASTLE_RULES

    return CASTLE_RULES["FAA AC 43.13-1B"]


def length_of(joint: Joint, thread: Thread | Unknown) -> FastenerLength | None:
    """Return what the lengths of a joint come to; None where it asks nothing about them."""
    if not (joint.hole or joint.into or joint.behind or joint.nut):
        return None
    from sequencer.trade.fastener_length import fastener_length

    return fastener_length(joint, thread)
