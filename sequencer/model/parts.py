"""What is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import Size
from sequencer.model.fields import Figure, Flag, Many, Number, Record, Text, Whole, Word, holds

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True, kw_only=True)
class Instead:
    """What a part is where a condition holds: what is given here stands for what the part says."""

    when: str = holds(Text(), "The condition, such as `fluid == hot`.", required=True)
    name: str = holds(Text(), "What it is called then.", default="")
    number: str = holds(Text(), "Its part number then.", default="")
    quantity: int | None = holds(Whole(), "How many go in then.")
    spare: int | None = holds(Whole(0), "How many more are expected to be left over then.")
    mass: Amount | None = holds(Figure(("mass",)), "What one weighs then.")
    price: Fraction | None = holds(Number(), "What one costs then.")
    largest: Size | None = holds(
        Record(Size, "value"), "The largest section then that has to get through an opening."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Something that is fitted."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    number: str = holds(Text(), "Its part number, as typed.", default="")
    quantity: int = holds(Whole(), "How many go in.", default=1)
    spare: int = holds(Whole(0), "How many more are expected to be left over.", default=0)
    mass: Amount | None = holds(Figure(("mass",)), "What one weighs.")
    price: Fraction | None = holds(Number(), "What one costs.")
    largest: Size | None = holds(
        Record(Size, "value"), "The largest section that has to get through an opening."
    )
    renew: str = holds(Word(("always",)), "`always`: a new one each time.", default="")
    once: bool = holds(Flag(), "Taking it off spoils it.", default=False)
    aid: bool = holds(Flag(), "Fitted for a time only; it must be off at the end.", default=False)
    when: str = holds(Text(), "The condition on which it is there at all.", default="")
    instead: tuple[Instead, ...] = holds(
        Many(Record(Instead)), "What it is by option; the first whose condition holds counts."
    )
    at_start: str = holds(Word(("fitted",)), "`fitted`: on before the job begins.", default="")

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id
