"""Parts along one axis, on a shaft or in a bore."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import WHY
from sequencer.model.fields import EndText, Figure, Links, Many, Record, Table, Text, holds

if TYPE_CHECKING:
    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True)
class EndValue:
    """How an end is: the text as typed, and the size if it is one."""

    text: str
    size: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEnd:
    """One end of a line: open, shut, of a size, or shut by parts once they are on."""

    name: str
    is_: EndValue = holds(EndText(), "`open`, `shut` or a size.", default=EndValue("open"))
    shut_by: tuple[Link, ...] = holds(Links(("part",)), "Parts that shut it once they are on.")
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePlace:
    """One place along a line: a part with its sizes, or a shoulder."""

    part: tuple[Link, ...] = holds(Links(("part",)), "The part that has its place here.")
    shoulder: Amount | None = holds(
        Figure(("length",)), "The size of a shoulder, instead of a part."
    )
    bore: Amount | None = holds(Figure(("length",)), "The bore of the part.")
    seat: Amount | None = holds(Figure(("length",)), "The size of its seat.")
    od: Amount | None = holds(Figure(("length",)), "The outside diameter of the part.")
    width: Amount | None = holds(
        Figure(("length",), limits=True), "Its width along the line, perhaps with a tolerance."
    )
    from_: str = holds(Text(), "The only end from which it may come.", default="")
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """Parts along one axis, on a shaft or in a bore; ways in are computed from it."""

    id: str
    shaft: tuple[Link, ...] = holds(Links(("part",)), "The shaft that they go on to.")
    bore: tuple[Link, ...] = holds(Links(("part",)), "The part with the bore that they go into.")
    ends: tuple[LineEnd, ...] = holds(
        Table(Record(LineEnd, "is_"), "name"), "The two ends, in the order of the places."
    )
    order: tuple[LinePlace, ...] = holds(
        Many(Record(LinePlace)), "The places from the first end named.", required=True
    )
    why: str = WHY
