"""Operations, and how they stand together: sections, units, trials, alternatives, states."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import WHY, Size, WayIn
from sequencer.model.compounds import Apply, Heat
from sequencer.model.fastening import Torque
from sequencer.model.fields import (
    Choices,
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Record,
    Table,
    Text,
    Whole,
    Word,
    holds,
)

if TYPE_CHECKING:
    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True)
class Fit:
    """A part that a step fits: `count` of it (None: all not yet on), and which way round."""

    part: str
    count: int | None = None
    facing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """What it means to take a step back again."""

    time: Amount | None = holds(Figure(("time",)), "How long that takes; default: the step's own.")
    do: str = holds(Text(), "How it is done.", default="")
    spoils: tuple[Link, ...] = holds(Links(("part",)), "Parts that it spoils.")
    again: tuple[Link, ...] = holds(Links(("step",)), "Steps that have to be done afresh then.")
    never: str = holds(Text(), "Why it cannot be undone: a point of no return.", default="")


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
    leaves: tuple[str, ...] = holds(
        Many(Word(("loose", "clean", "dry"))),
        "`loose`: something to secure later; `clean`, `dry`: how it leaves what it cleans.",
    )
    secures: tuple[Link, ...] = holds(Links(("step",)), "Steps whose loose parts it makes fast.")
    loosens: tuple[Link, ...] = holds(
        Links(("joint", "step")), "What it leaves loose again, until something makes it fast."
    )
    cleans: tuple[Link, ...] = holds(Links(("surface",)), "Surfaces that it cleans.")
    apply: tuple[Apply, ...] = holds(
        Many(Record(Apply, "compound")), "Compounds that it puts on surfaces."
    )
    closes: tuple[Link, ...] = holds(
        Links(("surface",)), "Surfaces that it brings together over what is on them."
    )
    loads: tuple[Link, ...] = holds(Links(("surface",)), "Surfaces that it puts under load.")
    heat: Heat | None = holds(Record(Heat), "A part that it heats so that it slips on.")
    check: tuple[Link, ...] = holds(Links(("check",)), "Checks taken here.")
    tools: tuple[tuple[Link, ...], ...] = holds(
        Choices(("tool",)), "Tools it needs; of tools in an inner list either will do."
    )
    needs: tuple[Link, ...] = holds(Links(("state",)), "States in which it has to be done.")
    not_while: tuple[Link, ...] = holds(Links(("state",)), "States in which it must not be done.")
    position: str = holds(Text(), "How the unit lies or stands.", default="")
    people: int = holds(Whole(), "How many people it takes.", default=1)
    time: Amount | None = holds(Figure(("time",)), "How long it takes.")
    unattended: bool = holds(Flag(), "Nobody needs to stand by while its time runs.", default=False)
    each: tuple[str, ...] = holds(Many(Text()), "Where it is done, one by one.")
    hazards: tuple[str, ...] = holds(
        Many(Text()), "What can hurt here: a word that cautions are known for, or in words."
    )
    section: str = holds(
        Text(), "The section it belongs to; default: the one named last.", default=""
    )
    unit: str = holds(Text(), "The unit that it builds, where that is fitted as one.", default="")
    warning: tuple[str, ...] = holds(Many(Text()), "What may injure, badly, and what to do.")
    caution: tuple[str, ...] = holds(Many(Text()), "What may injure, slightly, and what to do.")
    notice: tuple[str, ...] = holds(Many(Text()), "What may damage things, and what to do.")
    note: tuple[str, ...] = holds(Many(Text()), "What helps to know.")
    undo: Undo | None = holds(Record(Undo), "What it means to take this step back again.")
    leave: str = holds(Text(), "How to leave the unit when work stops here.", default="")
    hold: str = holds(Text(), "The role that must sign before anything goes on.", default="")
    by: str = holds(Text(), "The role that does it.", default="")
    when: str = holds(Text(), "The condition on which it is done at all.", default="")
    picture: str = holds(Text(), "A PNG or JPEG of it, by its path from this file.", default="")


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
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class OneOf:
    """Steps of which exactly one is done."""

    steps: tuple[Link, ...] = holds(Links(("step",)), "The alternatives.", required=True)
    before: tuple[Link, ...] = holds(Links(("step",)), "The step by which one must be done.")
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Something that holds from one step to another."""

    id: str
    begins: tuple[Link, ...] = holds(Links(("step",)), "The step that begins it.", required=True)
    ends: tuple[Link, ...] = holds(Links(("step",)), "The step that ends it.", required=True)
    keep: str = holds(
        Word(("position",)), "`position`: nothing may be turned over meanwhile.", default=""
    )
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Steps done as one operation, nothing foreign in between."""

    steps: tuple[Link, ...] = holds(Links(("step",)), "The steps.", required=True)
    why: str = WHY
