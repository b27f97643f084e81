"""What the page shows: the cards of the packet, each with what is recorded on it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.records.isolating import isolation_role
from sequencer.sheets.cover import Cover, cover_view
from sequencer.sheets.isolation import IsolationSheet, isolation_view
from sequencer.sheets.lines import Line
from sequencer.sheets.steps import Card, Stretch, steps_view
from sequencer.sheets.tablet.forms import (
    Blank,
    PartForm,
    Seen,
    Told,
    TorqueForm,
    blanks_of_check,
    part_forms,
    seen_on,
    stops_of,
    torque_forms,
)
from sequencer.sheets.tablet.known import known_to_scripts
from sequencer.sheets.timing import BATCH, CLOCK, DEGREES

if TYPE_CHECKING:
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job, Ref
    from sequencer.sheets.tablet.exact import Plain

# What stands for a blank on paper, and what the page says in its place.
_NO_BLANKS = (
    (f"{CLOCK} – ", ""),
    (f"started {CLOCK}; ", ""),
    (f"ended {CLOCK}; ", ""),
    (f"closed {CLOCK}, ", "to be closed "),
    (f"begun {CLOCK}, ", "to be begun "),
    (f"{BATCH} expiry {BATCH}", "write batch and expiry in a note"),
    (DEGREES, "write what was measured in a note"),
)


@dataclass(frozen=True, slots=True)
class TabletCard:
    """A card with what is recorded on it; the forms stand in the order of the card's blocks."""

    id: str
    key: str
    card: Card
    stops: tuple[Told, ...]
    seen: tuple[tuple[Seen, ...], ...]
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
    """The whole page; `data` is what its scripts know of the job.

    `signed` are, for each point of isolation, the names under which its stages go into the log.
    """

    cover: Cover
    isolation: IsolationSheet
    signed: tuple[tuple[str, ...], ...]
    stretches: tuple[TabletStretch, ...]
    first_rest: Ref | None
    data: Plain


def tablet_view(job: Job) -> Tablet:
    """Return the page of a job."""
    sheet = steps_view(job)
    cards = iter(job.steps)
    isolation = isolation_view(job)
    stretches = tuple(
        TabletStretch(
            stretch, tuple(_card(job, next(cards), card, card.number) for card in stretch.cards)
        )
        for stretch in sheet.stretches
    )
    return Tablet(
        cover=cover_view(job),
        isolation=isolation,
        signed=tuple(
            tuple(isolation_role(point.number, point.tag, stage) for stage in isolation.stages)
            for point in isolation.points
        ),
        stretches=stretches,
        first_rest=sheet.first_rest,
        data=known_to_scripts(job),
    )


def _card(job: Job, step: Step, card: Card, number: int | None, key: str = "") -> TabletCard:
    checks = [job.checks[link.to] for link in step.check]
    name = key or f"step-{number}"
    others = zip(job.instead_of(step), card.instead, strict=True)
    return TabletCard(
        id=step.id,
        key=name,
        card=replace(card, lines=tuple(_without_blanks(line) for line in card.lines)),
        stops=tuple(stops_of(job, step)),
        seen=seen_on(card.fitted),
        torques=tuple(torque_forms(job, step, card)),
        checks=tuple(tuple(blanks_of_check(job, check)) for check in checks),
        rounds=tuple((check.else_.most or 0) if check.else_ else 0 for check in checks),
        parts=tuple(part_forms(job, step)),
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
