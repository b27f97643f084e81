"""The parts of a model: frozen dataclasses that say what each field may hold.

A model can be read from a file or made in Python; defaults are those of the file format.
References between things are ids; `Link` keeps the reason that the author gave.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.fields import (
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Record,
    Table,
    Text,
    TorqueText,
    Whole,
    Word,
    holds,
)

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount

_WHY = holds(Text(), "Why this is so, printed for the builder.", default="")
_SOURCE = holds(Text(), "Where this comes from: an id in `sources`, or words.", default="")


@dataclass(frozen=True, slots=True)
class Link:
    """A reference to another thing of the model: its kind, its id, and why it stands there."""

    to: str
    kind: str = "step"
    why: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Fit:
    """A part that a step fits: `count` of it (None: all not yet on), and which way round."""

    part: str
    count: int | None = None
    facing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueValue:
    """A torque as typed: an amount, then perhaps an angle; no amount means finger tight."""

    text: str
    amount: Amount | None = None
    angle: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """A torque with its source."""

    value: TorqueValue = holds(TorqueText(), "The torque, such as `60 ft-lb`.", required=True)
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One figure, with its reason and source."""

    value: Amount = holds(Figure(("length",)), "The size, such as `39.9 mm`.", required=True)
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What a measured value must lie in, with its reason and source."""

    value: Amount = holds(
        Figure(limits=True), "The limit, such as `0.05 to 0.10 mm`.", required=True
    )
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Something that is fitted."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    number: str = holds(Text(), "Its part number, as typed.", default="")
    quantity: int = holds(Whole(), "How many go in.", default=1)
    mass: Amount | None = holds(Figure(("mass",)), "What one weighs.")
    largest: Size | None = holds(
        Record(Size, "value"), "The largest section that has to get through an opening."
    )
    renew: str = holds(Word(("always",)), "`always`: a new one each time.", default="")
    once: bool = holds(Flag(), "Taking it off spoils it.", default=False)

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """Something that work is done with."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    range_: Amount | None = holds(Figure(limits=True), "What it can reach, from least to most.")
    reads: Amount | None = holds(Figure(), "Its smallest division.")

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A set of like fasteners tightened as one."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets.", default="")
    thread: str = holds(Text(), "The thread, such as `M8×1.25` or `3/8-16`.", default="")
    grade: str = holds(Text(), "The strength of the male thread, such as `8.8`.", default="")
    count: int = holds(Whole(), "How many fasteners.", default=1)
    surface: str = holds(
        Word(("dry", "oiled", "moly", "anti-seize")), "What is on the threads.", default=""
    )
    torque: Torque | None = holds(Record(Torque, "value"), "What they are tightened to.")
    why: str = _WHY


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
class Check:
    """A measurement or an observation with a limit."""

    id: str
    measure: str = holds(Text(), "What to measure.", default="")
    look: str = holds(Text(), "What to look at.", default="")
    feel: str = holds(Text(), "What to feel.", default="")
    listen: str = holds(Text(), "What to listen to.", default="")
    with_: str = holds(Text(), "The gauge: a tool's id, or words.", default="")
    limit: Limit | None = holds(Record(Limit, "value"), "What the reading must lie in.")
    good: str = holds(Text(), "How it is when it is right.", default="")
    bad: str = holds(Text(), "How it is when it is wrong.", default="")
    rework: Rework | None = holds(Record(Rework), "What may be reworked, and how.")
    else_: Otherwise | None = holds(Record(Otherwise, "renew"), "What follows if it fails.")
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class WayIn:
    """A route by which a part, a hand or a tool reaches its place."""

    name: str
    opening: Size | None = holds(
        Record(Size, "value"), "What fits through; none given means wide enough."
    )
    shut_by: tuple[Link, ...] = holds(Links(("part",)), "Parts that shut it once they are on.")
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One operation that a person ticks off."""

    id: str
    do: str = holds(Text(), "What to do, as an instruction.", required=True)
    fits: tuple[Fit, ...] = holds(Fitted(), "Parts it fits.")
    onto: tuple[Link, ...] = holds(Links(("part",)), "Parts that must already be on.")
    after: tuple[Link, ...] = holds(
        Links(("step", "section", "check")), "What must be done before it."
    )
    before: tuple[Link, ...] = holds(
        Links(("step", "section", "check")), "What may only be done after it."
    )
    ways_in: tuple[WayIn, ...] = holds(
        Table(Record(WayIn, "shut_by"), "name"), "Routes to its place; any one open will do."
    )
    largest: Size | None = holds(
        Record(Size, "value"), "What must get through here; default: the largest part it fits."
    )
    tighten: tuple[Link, ...] = holds(Links(("joint",)), "Joints it tightens.")
    torque: Torque | None = holds(Record(Torque, "value"), "A torque, where no joint is declared.")
    leaves: str = holds(Word(("loose",)), "`loose`: something is left to secure later.", default="")
    secures: tuple[Link, ...] = holds(Links(("step",)), "Steps whose loose parts it makes fast.")
    check: tuple[Link, ...] = holds(Links(("check",)), "Checks taken here.")
    tools: tuple[Link, ...] = holds(Links(("tool",)), "Tools it needs.")
    position: str = holds(Text(), "How the unit lies or stands.", default="")
    people: int = holds(Whole(), "How many people it takes.", default=1)
    time: Amount | None = holds(Figure(("time",)), "How long it takes.")
    section: str = holds(
        Text(), "The section it belongs to; default: the one named last.", default=""
    )
    warning: tuple[str, ...] = holds(Many(Text()), "What may injure, badly, and what to do.")
    caution: tuple[str, ...] = holds(Many(Text()), "What may injure, slightly, and what to do.")
    notice: tuple[str, ...] = holds(Many(Text()), "What may damage things, and what to do.")
    note: tuple[str, ...] = holds(Many(Text()), "What helps to know.")
    hold: str = holds(Text(), "The role that must sign before anything goes on.", default="")
    by: str = holds(Text(), "The role that does it.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A stretch of the job with a title."""

    id: str
    title: str = holds(Text(), "What it is called on the sheets.", default="")
    after: tuple[Link, ...] = holds(
        Links(("section", "step", "check")), "What must be done before any step of it."
    )

    @property
    def label(self) -> str:
        """The title to print."""
        return self.title or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Steps done as one operation, nothing foreign in between."""

    steps: tuple[Link, ...] = holds(Links(("step",)), "The steps.", required=True)
    why: str = _WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class Prints:
    """The units to print in: the first large, the second small."""

    torque: tuple[str, ...] = holds(Many(Text()), "Units of torque.")
    length: tuple[str, ...] = holds(Many(Text()), "Units of length.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What holds where a thing says nothing else."""

    source: str = holds(Text(), "The source of figures.", default="")
    time: Amount | None = holds(Figure(("time",)), "The time of a step.")
    surface: str = holds(
        Word(("dry", "oiled", "moly", "anti-seize")), "What is on threads.", default=""
    )
    grade: str = holds(Text(), "The grade of fasteners.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where figures come from."""

    id: str
    name: str = holds(Text(), "The document, with its issue or date.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """One model: the machine or unit that is put together, and how."""

    assembly: str = holds(Text(), "A short name without spaces.", required=True)
    title: str = holds(Text(), "What it is called on the sheets.", default="")
    issue: str = holds(Text(), "The revision letter of the model and its paper.", default="A")
    notice: str = holds(Text(), "A line for the foot of every page.", default="")
    scope: str = holds(Text(), "What the job covers and what it does not.", default="")
    wear: tuple[str, ...] = holds(Many(Text()), "Protective equipment for the whole job.")
    warning: tuple[str, ...] = holds(Many(Text()), "Warnings that hold for the whole job.")
    caution: tuple[str, ...] = holds(Many(Text()), "Cautions that hold for the whole job.")
    prints: Prints = holds(Record(Prints), "Units to print in.", default=Prints())
    sources: tuple[Source, ...] = holds(Table(Record(Source, "name")), "Where figures come from.")
    defaults: Defaults = holds(
        Record(Defaults), "What holds unless said otherwise.", default=Defaults()
    )
    parts: tuple[Part, ...] = holds(Table(Record(Part, "name")), "What is fitted.")
    tools: tuple[Tool, ...] = holds(Table(Record(Tool, "name")), "What it is done with.")
    joints: tuple[Joint, ...] = holds(Table(Record(Joint)), "Fasteners tightened as one.")
    checks: tuple[Check, ...] = holds(Table(Record(Check)), "What is measured and looked at.")
    sections: tuple[Section, ...] = holds(
        Table(Record(Section, "title")), "The stretches of the job."
    )
    steps: tuple[Step, ...] = holds(Table(Record(Step, "do")), "The operations.", required=True)
    together: tuple[Together, ...] = holds(
        Many(Record(Together, "steps")), "Steps done as one operation."
    )
