"""What the page shows: the cards of the packet, each with what is recorded on it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.model.fastening import Joint
from sequencer.records.sets import is_measured, wanted
from sequencer.records.tightening import tightening_of
from sequencer.sheets.cover import Cover, cover_view
from sequencer.sheets.isolation import IsolationSheet, isolation_view
from sequencer.sheets.job import Ref
from sequencer.sheets.lines import Line
from sequencer.sheets.steps import Card, Stretch, steps_view
from sequencer.sheets.tablet.exact import dimensions, no_units, units
from sequencer.sheets.tablet.rules import check_rules, meant_unit, torque_rules
from sequencer.sheets.timing import BATCH, CLOCK, DEGREES
from sequencer.sheets.words import first_sentence, shortened
from sequencer.trade.reckoning import division_of
from sequencer.trade.typed_readings import bare_unit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job
    from sequencer.sheets.tablet.exact import Plain
    from sequencer.sheets.torques import TorqueBlock

_SHORT = 70

# What stands for a blank on paper, and what the page says in its place.
_NO_BLANKS = (
    (f"{CLOCK} – ", ""),
    (f"started {CLOCK}; ", ""),
    (f"ended {CLOCK}; ", ""),
    (f"closed {CLOCK}, ", "to be closed "),
    (f"begun {CLOCK}, ", "to be begun "),
    (f"{BATCH} expiry {BATCH}", "write batch and expiry in a note"),
    (f"Measured {DEGREES}", "Write what was measured in a note"),
)


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
    the step got, because its passes are those of this one joint.
    """

    name: str
    is_joint: bool
    passes: tuple[str, ...]
    counted: bool
    fasteners: int
    places: tuple[str, ...]
    has_figure: bool


@dataclass(frozen=True, slots=True)
class PartForm:
    """A part of which it is recorded which piece went in."""

    part: str
    name: str
    has_pack: bool


@dataclass(frozen=True, slots=True)
class Told:
    """A thing of a STOP line to confirm: its step, and the words that go into the log."""

    step: str
    text: str


@dataclass(frozen=True, slots=True)
class TabletCard:
    """A card with what is recorded on it; the forms stand in the order of the card's blocks."""

    id: str
    key: str
    card: Card
    stops: tuple[Told, ...]
    torques: tuple[TorqueForm, ...]
    checks: tuple[tuple[Blank, ...], ...]
    rounds: tuple[int, ...]
    parts: tuple[PartForm, ...]
    instead: tuple[TabletCard, ...]


@dataclass(frozen=True, slots=True)
class TabletStretch:
    """Cards of one section that follow one another."""

    stretch: Stretch
    cards: tuple[TabletCard, ...]


@dataclass(frozen=True, slots=True)
class Tablet:
    """The whole page; `data` is what its scripts know of the job."""

    cover: Cover
    isolation: IsolationSheet
    stretches: tuple[TabletStretch, ...]
    first_rest: Ref | None
    data: Plain


def tablet_view(job: Job) -> Tablet:
    """Return the page of a job."""
    sheet = steps_view(job)
    cards = iter(job.steps)
    stretches = tuple(
        TabletStretch(
            stretch, tuple(_card(job, next(cards), card, card.number) for card in stretch.cards)
        )
        for stretch in sheet.stretches
    )
    return Tablet(
        cover=cover_view(job),
        isolation=isolation_view(job),
        stretches=stretches,
        first_rest=sheet.first_rest,
        data=_data(job),
    )


def _card(job: Job, step: Step, card: Card, number: int | None, key: str = "") -> TabletCard:
    checks = [job.checks[link.to] for link in step.check]
    name = key or f"step-{number}"
    others = zip(job.instead_of(step), card.instead, strict=True)
    return TabletCard(
        id=step.id,
        key=name,
        card=replace(card, lines=tuple(_without_blanks(line) for line in card.lines)),
        stops=tuple(_stops(job, step)),
        torques=tuple(_torque_forms(job, step, card)),
        checks=tuple(tuple(_blanks(job, check)) for check in checks),
        rounds=tuple((check.else_.most or 0) if check.else_ else 0 for check in checks),
        parts=tuple(
            PartForm(fit.part, job.parts[fit.part].label, job.parts[fit.part].pack is not None)
            for fit in step.fits
            if not job.parts[fit.part].aid
        ),
        instead=tuple(
            _card(job, other, shown, None, f"{name}-instead-{at}")
            for at, (other, shown) in enumerate(others, start=1)
        ),
    )


def _without_blanks(line: Line) -> Line:
    """Return a line of the card without what is filled in by hand: the page keeps the time."""
    pieces = []
    for piece in line.said:
        if isinstance(piece, str):
            for blank, words in _NO_BLANKS:
                piece = piece.replace(blank, words)  # noqa: PLW2901  # one after the other
        pieces.append(piece)
    return Line(line.label, tuple(pieces))


def _stops(job: Job, step: Step) -> Iterator[Told]:
    """Yield what is to be confirmed at the STOP line of a step."""
    here = job.number.get(step.id)
    for one in job.stops_for(step):
        ref = job.ref(one)
        where = f"step {ref.number}" if isinstance(ref, Ref) else ref
        missed = job.missed_name(job.by_id[one])
        yield Told(one, f"STOP at step {here}, confirmed as done: {missed} ({where})")


def _torque_forms(job: Job, step: Step, card: Card) -> Iterator[TorqueForm]:
    """Yield a form for each torque block: of each joint, then of the step itself."""
    counted = tightening_of(job.assembly, step.id)
    for at, block in enumerate(card.torques):
        is_joint = at < len(step.tighten)
        name = step.tighten[at].to if is_joint else step.id
        yield TorqueForm(
            name=name,
            is_joint=is_joint,
            passes=tuple(_pass_texts(block, name)),
            counted=len(step.tighten) == 1 and len(counted.passes) == len(block.passes),
            fasteners=block.count,
            places=job.joints[name].places if is_joint else (),
            has_figure=block.figure is not None and block.wrench,
        )


def _pass_texts(block: TorqueBlock, joint: str) -> Iterator[str]:
    for line in block.passes:
        yield f"Joint {joint}: pass {line.mark} of {len(block.passes)} done"


def _blanks(job: Job, check: Check) -> Iterator[Blank]:
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


def _data(job: Job) -> Plain:
    """Return what the scripts know: the order, what holds steps up, and how to judge."""
    model = job.assembly
    shown = [step for one in job.steps for step in (one, *job.instead_of(one))]
    joints = {link.to for step in shown for link in step.tighten}
    rules = {name: _of_joint(job, job.joints[name]) for name in joints}
    own = {step.id: Joint(id=step.id, torque=step.torque) for step in shown if step.torque}
    return {
        "assembly": model.assembly,
        "title": model.title or model.assembly,
        "issue": model.issue,
        "fingerprint": job.fingerprint,
        "steps": [_step(job, step) for step in shown],
        "windows": [
            {
                "since": window.since,
                "until": window.until,
                "seconds": floor(window.minutes * 60),
                "text": window.text,
                "compound": _label(job, window.compound),
            }
            for window in job.times.windows
        ],
        "checks": {
            link.to: check_rules(job, job.checks[link.to]) for step in shown for link in step.check
        },
        "joints": dict(sorted(rules.items())),
        "parts": {part.id: part.label for part in model.parts},
        "ownTorques": {name: torque_rules(joint, model.prints) for name, joint in own.items()},
        "units": units(),
        "noUnits": no_units(),
        "dimensions": dimensions(),
    }


def _of_joint(job: Job, joint: Joint) -> Plain:
    return {"name": joint.name or joint.id, **torque_rules(joint, job.assembly.prints)}


def _step(job: Job, step: Step) -> Plain:
    choice = job.choices.get(step.id)
    tightening = tightening_of(job.assembly, step.id)
    return {
        "id": step.id,
        "number": job.number.get(step.id),
        "short": shortened(first_sentence(step.do), _SHORT),
        "stops": [told.text for told in _stops(job, step)],
        "hold": step.hold,
        "settles": [link.to for link in choice.steps] if choice is not None else [],
        "checks": [link.to for link in step.check],
        "reads": [link.to for link in step.check if is_measured(job.checks[link.to])],
        "upsets": [
            check.id
            for check in job.assembly.checks
            if any(link.to == step.id for link in check.upset_by)
        ],
        "fasteners": tightening.fasteners,
        "passes": len(tightening.passes),
        "waits": [
            {
                "since": wait.since,
                "seconds": ceil(wait.minutes * 60),
                "text": wait.text,
                "compound": _label(job, wait.compound),
            }
            for wait in job.times.waits.get(step.id, ())
        ],
    }


def _label(job: Job, compound: str) -> str:
    return job.compounds[compound].label if compound else ""
