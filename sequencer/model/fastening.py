"""What is tightened, how much, and with what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import SOURCE, WHY, Size
from sequencer.model.fields import Figure, Record, Text, TorqueText, Whole, Word, holds

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount


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
    why: str = WHY
