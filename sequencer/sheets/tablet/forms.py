"""What is recorded on a card of the page: each blank, box and form, under what the log calls it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records.sets import wanted
from sequencer.records.tightening import tightening_of
from sequencer.sheets.job import Ref
from sequencer.sheets.tablet.rules import meant_unit
from sequencer.trade.reckoning import division_of
from sequencer.trade.typed_readings import bare_unit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.sheets.handled import Fitted
    from sequencer.sheets.job import Job
    from sequencer.sheets.steps import Card
    from sequencer.sheets.torques import TorqueBlock


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer that is tapped: what it is called, and the value that the log gets."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class Blank:
    """One thing to record of a check; with `choices` it is tapped, else typed in `unit`."""

    check: str
    place: str
    label: str
    unit: str
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class TorqueForm:
    """What is recorded of a torque: under which name, pass by pass, at which fasteners.

    `passes` are the texts that the log gets for each pass; with `counted` it gets instead how far
    the step got, because its passes are those of this one joint. `before` is how many fasteners
    the joints before this one on the card have: without passes it is counted through all of them.
    """

    name: str
    is_joint: bool
    passes: tuple[str, ...]
    counted: bool
    before: int
    places: tuple[str, ...]
    has_figure: bool


@dataclass(frozen=True, slots=True)
class PartForm:
    """A part of which it is recorded which piece went in, and what became of it."""

    part: str
    name: str
    has_pack: bool
    is_matched: bool
    wants_serial: bool


@dataclass(frozen=True, slots=True)
class Told:
    """A thing of a STOP line to confirm: its step, and the words that go into the log."""

    step: str
    text: str


@dataclass(frozen=True, slots=True)
class Seen:
    """What has to be looked at before the tick: as the card says it, and as the log has it."""

    said: str
    text: str


def stops_of(job: Job, step: Step) -> Iterator[Told]:
    """Yield what is to be confirmed at the STOP line of a step."""
    here = job.number.get(step.id)
    for one in job.stops_for(step):
        ref = job.ref(one)
        where = f"step {ref.number}" if isinstance(ref, Ref) else ref
        missed = job.missed_name(job.by_id[one])
        yield Told(one, f"STOP at step {here}, confirmed as done: {missed} ({where})")


def seen_on(fitted: tuple[Fitted, ...]) -> tuple[tuple[Seen, ...], ...]:
    """Return for each part fitted what has to be seen: which way round, and of which mark."""
    return tuple(
        tuple(
            Seen(said, f"Seen at {one.name}: {said}") for said in (one.facing, one.matched) if said
        )
        for one in fitted
    )


def part_forms(job: Job, step: Step) -> Iterator[PartForm]:
    """Yield a form for each part that a step fits to stay."""
    for fit in step.fits:
        part = job.parts[fit.part]
        if not part.aid:
            yield PartForm(
                part.id, part.label, part.pack is not None, bool(part.matched), bool(part.serial)
            )


def torque_forms(job: Job, step: Step, card: Card) -> Iterator[TorqueForm]:
    """Yield a form for each torque block: of each joint, then of the step itself."""
    counted = tightening_of(job.assembly, step.id)
    before = 0
    for at, block in enumerate(card.torques):
        is_joint = at < len(step.tighten)
        name = step.tighten[at].to if is_joint else step.id
        yield TorqueForm(
            name=name,
            is_joint=is_joint,
            passes=tuple(_pass_texts(block, name)),
            counted=len(step.tighten) == 1 and len(counted.passes) == len(block.passes),
            before=before,
            places=job.joints[name].places if is_joint else (),
            has_figure=block.figure is not None and block.wrench,
        )
        before += block.count


def _pass_texts(block: TorqueBlock, joint: str) -> Iterator[str]:
    for line in block.passes:
        yield f"Joint {joint}: pass {line.mark} of {len(block.passes)} done"


def blanks_of_check(job: Job, check: Check) -> Iterator[Blank]:
    """Yield what is to be recorded of a check, place by place."""
    limit = check.limit.value if check.limit is not None else None
    single = meant_unit(limit, job.assembly.prints)
    for place in wanted(check):
        reading = next((r for r in check.readings if f" {place}".endswith(f" {r.name}")), None)
        label, unit = place, single
        if reading is not None:
            meant = bare_unit(check, division_of(job.tools, check, reading))
            unit = meant.symbol if meant is not None else ""
            label = f"{place}: {reading.ask}" if reading.ask else place
        elif _is_gauged(check):
            label = place.removesuffix("go").removesuffix("no_").strip()
        yield Blank(check.id, place, label, unit, _choices(check, place))


def _is_gauged(check: Check) -> bool:
    return check.limit is None and not check.readings and bool(check.go or check.no_go)


def _choices(check: Check, place: str) -> tuple[Choice, ...]:
    """Return the answers of what is not a figure: how it was found, or whether a gauge goes in."""
    if _is_gauged(check):
        gauge = check.no_go if place.endswith("no_go") else check.go
        return Choice(f"{gauge} goes in", "yes"), Choice(f"{gauge} does not go in", "no")
    is_recorded = check.measure and not (check.good or check.bad)
    if check.limit is not None or check.readings or is_recorded:
        return ()
    return Choice(check.good or "right", "good"), Choice(check.bad or "wrong", "bad")
