"""What many records share: names of other things, sizes, limits, ways in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.fields import Figure, Links, Record, Text, holds

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount


WHY = holds(Text(), "Why this is so, printed for the builder.", default="")
SOURCE = holds(Text(), "Where this comes from: an id in `sources`, or words.", default="")


@dataclass(frozen=True, slots=True)
class Link:
    """A reference to another thing of the model: its kind, its id, and why it stands there.

    Of a step that must come first, `wait` is the least time from its end and `within` the most.
    """

    to: str
    kind: str = "step"
    why: str = ""
    source: str = ""
    wait: Amount | None = None
    within: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One figure, with its reason and source."""

    value: Amount = holds(Figure(("length",)), "The size, such as `39.9 mm`.", required=True)
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What a measured value must lie in, with its reason and source."""

    value: Amount = holds(
        Figure(limits=True), "The limit, such as `0.05 to 0.10 mm`.", required=True
    )
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class WayIn:
    """A route by which a part, a hand or a tool reaches its place."""

    name: str
    opening: Size | None = holds(
        Record(Size, "value"), "What fits through; none given means wide enough."
    )
    room: Size | None = holds(
        Record(Size, "value"), "The room there is for a tool; none given means enough."
    )
    shut_by: tuple[Link, ...] = holds(Links(("part",)), "Parts that shut it once they are on.")
    why: str = WHY
    source: str = SOURCE
