"""What is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import SOURCE, WHY, Size
from sequencer.model.fields import (
    Figure,
    Flag,
    Links,
    Many,
    Number,
    Record,
    Sizes,
    Text,
    Whole,
    Word,
    holds,
)

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit


@dataclass(frozen=True, slots=True)
class ShimSize:
    """A size at hand, or a run of sizes from `low` to `high` by `step`, all in `unit`."""

    text: str
    unit: Unit
    low: Fraction
    high: Fraction
    step: Fraction | None = None

    @property
    def each(self) -> tuple[Fraction, ...]:
        """Every size of the run, in `unit`, the thinnest first."""
        if self.step is None:
            return (self.low,)
        count = int((self.high - self.low) / self.step)
        return tuple(self.low + self.step * number for number in range(count + 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """Shims of which a pack is chosen by measuring."""

    sizes: tuple[ShimSize, ...] = holds(
        Sizes(), "Sizes at hand, such as `0.10 mm` or `1.00 to 2.00 mm step 0.05 mm`."
    )
    at_most: int | None = holds(Whole(), "How many shims make a pack at the most.")
    start: Amount | None = holds(
        Figure(("length",)), "The pack that is in when it is measured; none if not given."
    )
    settled_by: tuple[Link, ...] = holds(Links(("check",), one=True), "The check that settles it.")
    effect: str = holds(
        Text(), "What a pack does to the figure, such as `+1 mm pack = -1 mm float`.", default=""
    )
    aim: Amount | None = holds(
        Figure(), "The figure to aim at, below nothing for preload; default: mid-limit."
    )
    rounding: str = holds(
        Text(), "How the ideal is rounded, such as `0-2 = 0, 3-7 = 5, 8-9 = 10`.", default=""
    )
    why: str = WHY
    source: str = SOURCE


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
    lead: Amount | None = holds(Figure(("time",)), "How long it then takes to come.")
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
    hottest: Amount | None = holds(
        Figure(("temperature",)), "The highest temperature that it bears."
    )
    inspect: tuple[Link, ...] = holds(
        Links(("check",)), "Checks that say whether it may be used again."
    )
    pack: Pack | None = holds(Record(Pack), "Of shims: what there is, and what settles the pack.")
    when: str = holds(Text(), "The condition on which it is there at all.", default="")
    instead: tuple[Instead, ...] = holds(
        Many(Record(Instead)), "What it is by option; the first whose condition holds counts."
    )
    at_start: str = holds(Word(("fitted",)), "`fitted`: on before the job begins.", default="")
    matched: str = holds(Text(), "The set of parts that it belongs to and stays with.", default="")
    serial: str = holds(Word(("record",)), "`record`: its serial number is noted.", default="")
    bag: str = holds(Text(), "The bag in which it is kept.", default="")
    on_hand: int | None = holds(Whole(0), "How many there are; what lacks has to be bought.")
    bought_as: str = holds(Text(), "How it is bought, such as `box of 50`.", default="")
    lead: Amount | None = holds(
        Figure(("time",)), "How long it takes to come once it is ordered, such as `3 weeks`."
    )
    picture: str = holds(Text(), "A PNG or JPEG of it, by its path from this file.", default="")

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id
