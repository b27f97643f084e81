"""What is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import Size
from sequencer.model.fields import Figure, Flag, Number, Record, Text, Whole, Word, holds

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.quantities import Amount


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
    at_start: str = holds(Word(("fitted",)), "`fitted`: on before the job begins.", default="")

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id
