"""What is measured and looked at, and what follows from it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import SOURCE, WHY, Limit, WayIn
from sequencer.model.fields import Figure, Links, Many, Record, Table, Text, Whole, Word, holds

if TYPE_CHECKING:
    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Rework:
    """What may be done to a part between one limit and another."""

    limit: Limit | None = holds(Record(Limit, "value"), "Where rework is still allowed.")
    how: str = holds(Text(), "What to do, before measuring again.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Otherwise:
    """What follows when a check fails."""

    renew: tuple[Link, ...] = holds(Links(("part",)), "A part to renew.")
    again_from: tuple[Link, ...] = holds(Links(("step",)), "The step to start again from.")
    change: str = holds(Text(), "What to change before trying again.", default="")
    most: int | None = holds(Whole(), "How many rounds at the most.")
    stop: str = holds(Text(), "Work stops, and this role is told.", default="")
    accept_by: str = holds(Text(), "This role may accept it as it is.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One of several readings that a check reckons with."""

    name: str
    ask: str = holds(Text(), "What to measure; the default is its name.", default="")
    is_: Amount | None = holds(
        Figure(limits=True), "A figure known beforehand, with its tolerance, instead of a reading."
    )
    line: tuple[Link, ...] = holds(
        Links(("line",), one=True), "A line whose widths, added up, are the figure."
    )
    with_: str = holds(
        Text(), "The gauge: a tool's id, or words; default: the check's.", default=""
    )

    @property
    def is_known(self) -> bool:
        """Whether the figure is known beforehand, and nothing is read at the bench."""
        return self.is_ is not None or bool(self.line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """One result that a check reckons from its readings."""

    name: str
    compute: str = holds(
        Text(), "How, such as `(top - bottom) / 2`, by the names of the readings.", required=True
    )
    limit: Limit | None = holds(Record(Limit, "value"), "What the result must lie in.")
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A measurement or an observation with a limit."""

    id: str
    name: str = holds(
        Text(),
        "What it is called on the sheets; default: what to measure, look at, feel or listen to.",
        default="",
    )
    measure: str = holds(Text(), "What to measure.", default="")
    look: str = holds(Text(), "What to look at.", default="")
    feel: str = holds(Text(), "What to feel.", default="")
    listen: str = holds(Text(), "What to listen to.", default="")
    readings: tuple[Reading, ...] = holds(
        Table(Record(Reading, "ask"), "name"), "Readings to reckon with, by names without a hyphen."
    )
    compute: str = holds(
        Text(), "What to reckon, such as `face - height`, by the names of the readings.", default=""
    )
    results: tuple[Computed, ...] = holds(
        Table(Record(Computed, "compute"), "name"), "Several results of one set of readings."
    )
    each: tuple[str, ...] = holds(Many(Text()), "Where it is taken, one by one.")
    with_: str = holds(Text(), "The gauge: a tool's id, or words.", default="")
    limit: Limit | None = holds(Record(Limit, "value"), "What the reading must lie in.")
    wears: str = holds(
        Word(("smaller", "larger")),
        "Which way wear moves the size: a reading out of the limit the other way is misread.",
        default="",
    )
    go: str = holds(Text(), "The gauge that must go in.", default="")
    no_go: str = holds(Text(), "The gauge that must not go in.", default="")
    good: str = holds(Text(), "How it is when it is right.", default="")
    bad: str = holds(Text(), "How it is when it is wrong.", default="")
    rework: Rework | None = holds(Record(Rework), "What may be reworked, and how.")
    else_: Otherwise | None = holds(Record(Otherwise, "renew"), "What follows if it fails.")
    upset_by: tuple[Link, ...] = holds(
        Links(("step",)), "Steps after which it has to be taken anew."
    )
    needs_open: tuple[WayIn, ...] = holds(
        Table(Record(WayIn, "shut_by"), "name"), "Routes by which it can be taken; one will do."
    )
    why: str = WHY
    source: str = SOURCE
    picture: str = holds(Text(), "A PNG or JPEG of it, by its path from this file.", default="")

    @property
    def label(self) -> str:
        """What to call it in a list: its name, else what is asked for, else its id."""
        return self.name or self.measure or self.look or self.feel or self.listen or self.id
