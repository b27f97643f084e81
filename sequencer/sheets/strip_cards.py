"""The cards of a strip: what is read and marked first, what comes off, and what becomes of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.bags import bag_name
from sequencer.sheets.checks import asked, gauge_words
from sequencer.sheets.figures import in_words
from sequencer.sheets.loosening import Loosening, loosening_blocks
from sequencer.sheets.packs import blanks_of
from sequencer.sheets.steps import card_of
from sequencer.sheets.strip_words import (
    LENGTH,
    backwards,
    counted_part,
    marks_of,
    passed_over,
    tools_off,
)
from sequencer.sheets.words import duration, first_sentence, listed, shortened
from sequencer.trade.buying import is_spoiled_by_removal

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.checking import Check
    from sequencer.model.parts import Part
    from sequencer.model.steps import Step
    from sequencer.planning.stripping import PointOfNoReturn, Strip, TakenBack
    from sequencer.sheets.job import Job
    from sequencer.sheets.steps import Card, Signal

_KEPT = ("Position", "People", "By")  # lines of a card that hold backwards too
_MOST_BLANKS = 8


@dataclass(frozen=True, slots=True)
class ToRead:
    """A reading to take before anything is undone: what, its limit, with what, and its blanks."""

    what: str
    limit: str
    gauge: str
    blanks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Off:
    """A part that comes off: how many, which, what to mark first, and where it goes then.

    `fate` is SCRAP, UNIT, AID or the bag; `blanks` are those of a pack that is measured.
    """

    quantity: str
    name: str
    number: str
    mass: str
    fate: str
    is_scrap: bool
    marks: tuple[str, ...]
    blanks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StripStop:
    """A point of no return, met from behind: what cannot be undone, why, and what stays on."""

    number: int
    do: str
    why: str
    stays: str


@dataclass(frozen=True, slots=True)
class StripCard:
    """One step taken back; `built_in` is its number in the packet, `mind` what else to look at.

    `first_on` are aids to put on, where the author's own words may not say so.
    """

    number: int
    built_in: int
    bookmark: str
    do: str
    built: str
    signals: tuple[Signal, ...]
    stops: tuple[StripStop, ...]
    reads: tuple[ToRead, ...]
    first_on: tuple[str, ...]
    off: tuple[Off, ...]
    spoils: str
    lines: tuple[tuple[str, str], ...]
    loosening: tuple[Loosening, ...]
    rail: str
    mind: tuple[str, ...]
    minutes: str
    is_guess: bool


class Cards:
    """Makes the cards of one strip."""

    def __init__(self, job: Job, found: Strip) -> None:
        self.job = job
        self.found = found
        self.order = found.order or ()
        self.spoiled = {part for taken in found.steps.values() for part in taken.spoils}
        self.number: Mapping[str, int] = {name: at for at, name in enumerate(self.order, start=1)}

    def card(self, name: str) -> StripCard:
        """Return the card of a step that is taken back."""
        job, step, taken = self.job, self.job.by_id[name], self.found.steps[name]
        own = step.undo.do if step.undo is not None else ""
        do = own or backwards(job, step, taken)
        known = card_of(job, step)
        return StripCard(
            number=self.number[name],
            built_in=job.number[name],
            bookmark=f"{self.number[name]} {shortened(do, 70)}",
            do=do,
            built=shortened(first_sentence(step.do), LENGTH),
            signals=tuple(one for one in known.signals if one.word != "NOTICE"),
            stops=tuple(self._stops(name)),
            reads=tuple(to_read(job, job.checks[check]) for check in taken.reads),
            first_on=tuple(counted_part(job, *one) for one in taken.goes_on.items()) if own else (),
            off=tuple(self._off(step, taken)),
            spoils=self._spoils(taken),
            lines=tuple(self._lines(step, taken, known)),
            loosening=loosening_blocks(job, step, taken.loosens),
            rail=self._rail(name),
            mind=tuple(passed_over(job, one) for one in taken.mind),
            minutes=duration(taken.minutes),
            is_guess=taken.is_guess,
        )

    def _stops(self, name: str | None) -> Iterator[StripStop]:
        for point in self.found.points:
            if point.before == name:
                yield self.stop(point)

    def last_stops(self) -> tuple[StripStop, ...]:
        """Return the points of no return that are met after everything else is off."""
        return tuple(self._stops(None))

    def stop(self, point: PointOfNoReturn) -> StripStop:
        """Return what stops a person at a point of no return."""
        job = self.job
        parts = [
            job.parts[fit.part].label
            for name in (*point.stays, point.step)
            for fit in job.by_id[name].fits
        ]
        words = shortened(first_sentence(job.by_id[point.step].do), LENGTH)
        return StripStop(
            job.number[point.step], words, point.why, listed(list(dict.fromkeys(parts)))
        )

    def _off(self, step: Step, taken: TakenBack) -> Iterator[Off]:
        facing: dict[str, list[str]] = {}
        for fit in step.fits:
            facing.setdefault(fit.part, []).extend(filter(None, (fit.facing,)))
        for name, count in taken.comes_off.items():
            part = self.job.parts[name]
            scrap = name in self.spoiled or is_spoiled_by_removal(part)
            pack = part.pack
            yield Off(
                quantity=f"{count} ×" if count > 1 else "",
                name=part.label,
                number=part.number,
                mass=part.mass.text.strip() if part.mass is not None else "",
                fate=self._fate(step, part, scrap=scrap),
                is_scrap=scrap,
                marks=() if scrap else tuple(marks_of(self.job, part, facing.get(name, []))),
                blanks=blanks_of(pack) if pack is not None else (),
            )

    def _fate(self, step: Step, part: Part, *, scrap: bool) -> str:
        if scrap:
            return "a new one goes in"
        if part.id in self.job.units:
            built = [
                self.number[s.id]
                for s in self.job.steps
                if s.unit == part.id and s.id in self.number
            ]
            return f"as one; apart in step {min(built)} and on" if built else "as one"
        if part.aid:
            return "aid, back to the shelf"
        name = bag_name(self.job, step, part)
        return name if name.casefold().startswith("bag") else f"BAG {name}"

    def _spoils(self, taken: TakenBack) -> str:
        """Name what is spoiled besides what comes off here."""
        others = [part for part in taken.spoils if part not in taken.comes_off]
        return listed([self.job.parts[part].label for part in others])

    def _lines(self, step: Step, taken: TakenBack, known: Card) -> Iterator[tuple[str, str]]:
        job = self.job
        if taken.ways:
            yield "Way out", "; ".join(dict.fromkeys(taken.ways))
        for line in known.lines:
            if line.label in _KEPT:
                yield line.label, "".join(str(piece) for piece in line.said)
        tools = tools_off(job, step)
        if tools:
            yield "Tools", "; ".join(tools)
        for link in step.needs:
            yield "Only while", f"“{link.to}” lasts"
        held = [job.compounds[link.to].label for one in step.apply for link in one.compound]
        if held:
            yield "Held by", f"{listed(list(dict.fromkeys(held)))}: it sticks, part it with care"
        if step.heat is not None:
            yield "Sits tight", f"it was heated on, to {step.heat.to.text.strip()}"
        members = self._members(step.id)
        if len(members) > 1:
            yield "With", f"steps {listed([str(one) for one in members])}, one movement"

    def _members(self, name: str) -> list[int]:
        """Return the numbers of the group that comes off as one movement with this step."""
        group = self.job.groups.get(name)
        links = group.steps if group is not None else ()
        return sorted(self.number[link.to] for link in links if link.to in self.number)

    def _rail(self, name: str) -> str:
        members = self._members(name)
        if len(members) < 2:  # noqa: PLR2004  # one alone is no group
            return ""
        ends = {members[0]: "first", members[-1]: "last"}
        return ends.get(self.number[name], "middle")


def to_read(job: Job, check: Check) -> ToRead:
    """Return a reading as it is taken before the unit comes apart."""
    _, what = asked(check)
    names = tuple(reading.name for reading in check.readings) or check.each
    return ToRead(
        what=what,
        limit=in_words(check.limit.value, job.assembly.prints) if check.limit else "",
        gauge=gauge_words(job, check.with_),
        blanks=names[:_MOST_BLANKS] or ("as found",),
    )
