"""What is tightened, how much, and with what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import SOURCE, WHY, Size
from sequencer.model.fields import (
    Figure,
    Links,
    Many,
    PassText,
    Points,
    Record,
    Text,
    TorqueText,
    Whole,
    Word,
    holds,
)

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount

SURFACES = ("dry", "oiled", "moly", "anti-seize")
"""What may be on threads, other than a compound of the model."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueValue:
    """A torque as typed: an amount, then perhaps an angle; no amount means finger tight."""

    text: str
    amount: Amount | None = None
    angle: Amount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherTorque:
    """What another source says of the same fasteners."""

    value: TorqueValue = holds(TorqueText(), "The torque, such as `60 ft-lb`.", required=True)
    surface: str = holds(
        Word(SURFACES, or_a="compound"), "What it wants on the threads.", default=""
    )
    grade: str = holds(Text(), "The strength of fastener that it is for.", default="")
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """A torque with its source, what other sources say, and why this one was chosen."""

    value: TorqueValue = holds(TorqueText(), "The torque, such as `60 ft-lb`.", required=True)
    also: tuple[OtherTorque, ...] = holds(
        Many(Record(OtherTorque, "value")), "What other sources say."
    )
    because: str = holds(Text(), "Why this figure is taken: it makes the choice.", default="")
    surface: str = holds(
        Word(SURFACES, or_a="compound"),
        "What the figure wants on the threads; default: the joint's.",
        default="",
    )
    grade: str = holds(
        Text(), "The strength that the figure is for; default: the joint's.", default=""
    )
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """Something that work is done with."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    range_: Amount | None = holds(Figure(limits=True), "What it can reach, from least to most.")
    reads: Amount | None = holds(Figure(), "Its smallest division.")
    needs: Size | None = holds(Record(Size, "value"), "The room it needs to be used.")
    length: Amount | None = holds(
        Figure(("length",)), "Of a wrench: from the middle of its grip to its square."
    )

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Grade:
    """The strength of a male thread: a class by name, or figures of the maker's own."""

    name: str = holds(Text(), "The class, such as `8.8`.", default="")
    proof: Amount | None = holds(Figure(("pressure",)), "Its proof stress, such as `970 MPa`.")
    source: str = SOURCE

    @property
    def label(self) -> str:
        """What to call it: its name, else its proof stress as typed."""
        return self.name or (f"proof {self.proof.text}" if self.proof else "")


@dataclass(frozen=True, slots=True)
class PassValue:
    """What one pass goes to, as typed: one of a share, a torque or an angle, which may go back."""

    text: str
    share: Fraction | None = None
    torque: Amount | None = None
    angle: Amount | None = None
    back: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TighteningPass:
    """One time through all fasteners of a joint."""

    value: PassValue = holds(
        PassText(), "A share, a torque, an angle or `back 180°`.", required=True
    )
    name: str = holds(Text(), "What the pass is called.", default="")
    why: str = WHY


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnLimit:
    """How far the angles of some passes may come to in all."""

    passes: tuple[str, ...] = holds(Many(Text()), "The passes, by name.", required=True)
    most: Amount = holds(Figure(("angle",)), "The most that they may come to.", required=True)
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A blind hole that fasteners go into."""

    depth: Amount = holds(Figure(("length",)), "How deep its full thread goes.", required=True)
    keep_off: Amount | None = holds(
        Figure(("length",)), "How far from its end the fastener must stay; nothing if not given."
    )
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Into:
    """What the fastener is screwed into."""

    material: str = holds(Text(), "`steel`, `iron`, `aluminium` or another.", required=True)
    least: Amount | None = holds(Figure(("length",)), "The least engagement that the maker states.")
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Behind:
    """The free space that a fastener may stick out into."""

    room: Amount = holds(Figure(("length",)), "How much is free.", required=True)
    part: tuple[Link, ...] = holds(Links(("part",)), "What needs the space, or lies there.")
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class ArmOn:
    """What sits between the wrench and the fastener and moves it out of the wrench's line."""

    length: Amount = holds(
        Figure(("length",)), "From the wrench's square to the fastener.", required=True
    )
    angle: Amount | None = holds(
        Figure(("angle",)),
        "From straight on (`0°`) to pointing back (`180°`); straight on if not given.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A set of like fasteners tightened as one."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets.", default="")
    thread: str = holds(Text(), "The thread, such as `M8×1.25` or `3/8-16`.", default="")
    grade: Grade | None = holds(
        Record(Grade, "name"), "The strength of the male thread, such as `8.8`."
    )
    count: int = holds(Whole(), "How many fasteners.", default=1)
    places: tuple[str, ...] = holds(
        Many(Text()), "What the fasteners are called, in the order of their numbers."
    )
    surface: str = holds(Word(SURFACES, or_a="compound"), "What is on the threads.", default="")
    torque: Torque | None = holds(Record(Torque, "value"), "What they are tightened to.")
    pattern: str = holds(
        Word(("cross", "around", "inside out")), "The order of tightening.", default=""
    )
    at: tuple[tuple[Fraction, Fraction], ...] = holds(
        Points(), "Where they sit, right and up, in the order of their numbers."
    )
    passes: tuple[TighteningPass, ...] = holds(
        Many(Record(TighteningPass, "value")), "What each time through goes to."
    )
    turn_limit: TurnLimit | None = holds(
        Record(TurnLimit), "The most that the angles of some passes may come to."
    )
    length: Amount | None = holds(Figure(("length",)), "The length of the fastener under its head.")
    grip: Amount | None = holds(
        Figure(("length",)), "How thick what it clamps is, without washers."
    )
    washers: Amount | None = holds(Figure(("length",)), "How thick the washers are together.")
    nut: Amount | None = holds(Figure(("length",)), "How high the nut is.")
    hole: Hole | None = holds(Record(Hole, "depth"), "The blind hole that they go into.")
    into: Into | None = holds(Record(Into, "material"), "What they are screwed into.")
    behind: Behind | None = holds(Record(Behind, "room"), "The space that they may stick out into.")
    adapter: ArmOn | None = holds(
        Record(ArmOn, "length"), "What moves the fastener out of the wrench's line."
    )
    drag: str = holds(
        Word(("add", "included")),
        "Of a self-locking nut: `add` its drag to the figure, or it is `included` already.",
        default="",
    )
    align: str = holds(Word(("castle",)), "`castle`: a slot must line up.", default="")
    why: str = WHY
