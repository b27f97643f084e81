"""The parts of a model: frozen dataclasses that say what each field may hold.

A model can be read from a file or made in Python; defaults are those of the file format.
References between things are ids; `Link` keeps the reason that the author gave.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.fields import (
    Choices,
    EndText,
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
    spare: int = holds(Whole(0), "How many more are expected to be left over.", default=0)
    mass: Amount | None = holds(Figure(("mass",)), "What one weighs.")
    largest: Size | None = holds(
        Record(Size, "value"), "The largest section that has to get through an opening."
    )
    renew: str = holds(Word(("always",)), "`always`: a new one each time.", default="")
    once: bool = holds(Flag(), "Taking it off spoils it.", default=False)
    aid: bool = holds(Flag(), "Fitted for a time only; it must be off at the end.", default=False)
    at_start: str = holds(Word(("fitted",)), "`fitted`: on before the job begins.", default="")

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
    needs: Size | None = holds(Record(Size, "value"), "The room it needs to be used.")

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
    why: str = _WHY
    source: str = _SOURCE


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
    upset_by: tuple[Link, ...] = holds(
        Links(("step",)), "Steps after which it has to be taken anew."
    )
    needs_open: tuple[WayIn, ...] = holds(
        Table(Record(WayIn, "shut_by"), "name"), "Routes by which it can be taken; one will do."
    )
    why: str = _WHY
    source: str = _SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One operation that a person ticks off."""

    id: str
    do: str = holds(Text(), "What to do, as an instruction.", required=True)
    fits: tuple[Fit, ...] = holds(Fitted(), "Parts it fits.")
    takes_off: tuple[Link, ...] = holds(Links(("part",)), "Parts it takes off again.")
    onto: tuple[Link, ...] = holds(Links(("part",)), "Parts that must already be on.")
    after: tuple[Link, ...] = holds(
        Links(("step", "section", "check", "all")), "What must be done before it."
    )
    before: tuple[Link, ...] = holds(
        Links(("step", "section", "check", "all")), "What may only be done after it."
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
    loosens: tuple[Link, ...] = holds(
        Links(("joint", "step")), "What it leaves loose again, until something makes it fast."
    )
    check: tuple[Link, ...] = holds(Links(("check",)), "Checks taken here.")
    tools: tuple[tuple[Link, ...], ...] = holds(
        Choices(("tool",)), "Tools it needs; of tools in an inner list either will do."
    )
    needs: tuple[Link, ...] = holds(Links(("state",)), "States in which it has to be done.")
    not_while: tuple[Link, ...] = holds(Links(("state",)), "States in which it must not be done.")
    position: str = holds(Text(), "How the unit lies or stands.", default="")
    people: int = holds(Whole(), "How many people it takes.", default=1)
    time: Amount | None = holds(Figure(("time",)), "How long it takes.")
    section: str = holds(
        Text(), "The section it belongs to; default: the one named last.", default=""
    )
    unit: str = holds(Text(), "The unit that it builds, where that is fitted as one.", default="")
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
    in_order: bool = holds(
        Flag(), "Each step follows the one written above it in the section.", default=False
    )
    unit: str = holds(Text(), "The unit that its steps build.", default="")

    @property
    def label(self) -> str:
        """The title to print."""
        return self.title or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Unit:
    """What is built on the bench and then fitted as one part."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    base: tuple[Link, ...] = holds(Links(("part",)), "The part that it is built on.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """Steps that fit parts to measure and take them apart again; nothing of them stays."""

    id: str
    steps: tuple[Link, ...] = holds(Links(("step",)), "The steps, done as one.", required=True)
    settles: tuple[Link, ...] = holds(Links(("part",)), "What is chosen by it, such as a pack.")
    why: str = _WHY


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
    why: str = _WHY


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
    width: Amount | None = holds(Figure(("length",)), "Its width along the line.")
    from_: str = holds(Text(), "The only end from which it may come.", default="")
    why: str = _WHY


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
    why: str = _WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class OneOf:
    """Steps of which exactly one is done."""

    steps: tuple[Link, ...] = holds(Links(("step",)), "The alternatives.", required=True)
    before: tuple[Link, ...] = holds(Links(("step",)), "The step by which one must be done.")
    why: str = _WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Something that holds from one step to another."""

    id: str
    begins: tuple[Link, ...] = holds(Links(("step",)), "The step that begins it.", required=True)
    ends: tuple[Link, ...] = holds(Links(("step",)), "The step that ends it.", required=True)
    keep: str = holds(
        Word(("position",)), "`position`: nothing may be turned over meanwhile.", default=""
    )
    why: str = _WHY


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
class HandlingTimes:
    """What it takes to turn a unit over and to pick something up; for `plan --by handling`."""

    turn: Amount | None = holds(Figure(("time",)), "To turn a unit over; 120 s if not given.")
    tool: Amount | None = holds(Figure(("time",)), "To pick a tool up; 15 s if not given.")
    compound: Amount | None = holds(
        Figure(("time",)), "To get a compound ready; 20 s if not given."
    )


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
    handling: HandlingTimes = holds(
        Record(HandlingTimes), "What handling takes.", default=HandlingTimes()
    )
    parts: tuple[Part, ...] = holds(Table(Record(Part, "name")), "What is fitted.")
    tools: tuple[Tool, ...] = holds(Table(Record(Tool, "name")), "What it is done with.")
    joints: tuple[Joint, ...] = holds(Table(Record(Joint)), "Fasteners tightened as one.")
    checks: tuple[Check, ...] = holds(Table(Record(Check)), "What is measured and looked at.")
    sections: tuple[Section, ...] = holds(
        Table(Record(Section, "title")), "The stretches of the job."
    )
    steps: tuple[Step, ...] = holds(Table(Record(Step, "do")), "The operations.", required=True)
    units: tuple[Unit, ...] = holds(
        Table(Record(Unit, "name")), "What is built on the bench and then fitted as one part."
    )
    trials: tuple[Trial, ...] = holds(
        Table(Record(Trial)), "What is fitted to measure, and taken apart again."
    )
    lines: tuple[Line, ...] = holds(Table(Record(Line)), "Parts along one axis.")
    one_of: tuple[OneOf, ...] = holds(
        Many(Record(OneOf, "steps")), "Steps of which exactly one is done."
    )
    states: tuple[State, ...] = holds(Table(Record(State)), "What holds from one step to another.")
    together: tuple[Together, ...] = holds(
        Many(Record(Together, "steps")), "Steps done as one operation."
    )
