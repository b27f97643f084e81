"""Pastes, oils and lockers: what they want, how long they take, and where they go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.common import SOURCE, WHY
from sequencer.model.fields import (
    ByTemperature,
    Figure,
    Links,
    Many,
    Number,
    Record,
    Text,
    holds,
)

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True)
class CureTable:
    """How long something takes: one time for any temperature, or rows of temperature and time."""

    any_: Amount | None = None
    rows: tuple[tuple[Amount, Amount], ...] = ()

    @property
    def text(self) -> str:
        """What was typed."""
        if self.any_ is not None:
            return self.any_.text.strip()
        return ", ".join(f"{time.text.strip()} at {at.text.strip()}" for at, time in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compound:
    """Something that is put on a surface."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")
    kind: str = holds(Text(), "What it is: a threadlocker, oil, grease or another.", default="")
    wants: tuple[str, ...] = holds(Many(Text()), "How the surface must be, such as clean and dry.")
    open: Amount | None = holds(
        Figure(("time",)), "How long it stays workable once it is on; then it must be closed."
    )
    fixture: Amount | None = holds(
        Figure(("time",)), "How long until what it holds may be handled."
    )
    cure: CureTable | None = holds(
        ByTemperature(), "How long until it may be loaded: a time, or a table by temperature."
    )
    hazards: tuple[str, ...] = holds(
        Many(Text()), "What it may do: flammable, skin, eyes, breathing, or in words."
    )
    not_with: tuple[Link, ...] = holds(
        Links(("compound",)), "Compounds that must not meet it on one surface."
    )
    hottest: Amount | None = holds(
        Figure(("temperature",)), "The highest temperature that it bears once it is on."
    )
    nut_factor: Fraction | None = holds(
        Number(), "The nut factor of threads with it, if its maker states one."
    )
    source: str = SOURCE

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A face or thread that is cleaned, coated, closed and loaded."""

    id: str
    name: str = holds(Text(), "What it is called on the sheets; the default is its id.", default="")

    @property
    def label(self) -> str:
        """The name to print."""
        return self.name or self.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Apply:
    """A compound that a step puts on a surface."""

    compound: tuple[Link, ...] = holds(
        Links(("compound",), one=True), "The compound.", required=True
    )
    to: tuple[Link, ...] = holds(Links(("surface",)), "The surfaces that it goes on.")
    amount: str = holds(Text(), "How much of it, such as `3 drops`.", default="")
    why: str = WHY
    source: str = SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class Cold:
    """A part that is chilled to meet a heated one."""

    part: tuple[Link, ...] = holds(Links(("part",), one=True), "The part.", required=True)
    to: Amount | None = holds(Figure(("temperature",)), "How cold it gets.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Heat:
    """A part that a step heats so that it slips on, and perhaps one that is chilled."""

    part: tuple[Link, ...] = holds(Links(("part",), one=True), "The part.", required=True)
    to: Amount = holds(Figure(("temperature",)), "How hot, such as `110 °C`.", required=True)
    slip: Amount | None = holds(
        Figure(("length",)), "The clearance that is wanted while it goes on."
    )
    fit_within: Amount | None = holds(Figure(("time",)), "How soon it must then be in its place.")
    cold: Cold | None = holds(Record(Cold, "part"), "The part that is chilled to meet it.")
    why: str = WHY
    source: str = SOURCE
