"""The step cards: everything a person needs in front of them for one operation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.checks import CheckBlock, check_blocks
from sequencer.sheets.drawn_axis import LineDrawing, line_drawings
from sequencer.sheets.handled import Fitted, Removed, fitted_parts, removed_parts
from sequencer.sheets.job import Job, Ref, Said, refs, said
from sequencer.sheets.lines import Line, because
from sequencer.sheets.packs import PackBlock, pack_blocks
from sequencer.sheets.photo_blocks import PhotoBlock, photos_of_step
from sequencer.sheets.remarks import remarks
from sequencer.sheets.timing import unbroken
from sequencer.sheets.torques import TorqueBlock, torque_blocks
from sequencer.sheets.words import duration, numbered, shortened
from sequencer.trade.cautions import cautions

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.steps import Step

_BOOKMARK_LENGTH = 70
_HEAD_LENGTH = 36


@dataclass(frozen=True, slots=True)
class Signal:
    """A signal word and what it warns of."""

    word: str
    text: str


@dataclass(frozen=True, slots=True)
class Missed:
    """Something whose last chance this is: its parts, else its text, and its step."""

    names: str
    step: Ref | str


@dataclass(frozen=True, slots=True)
class Stop:
    """The line that stops a person before the last way in to something is shut."""

    missed: tuple[Missed, ...]
    then: str


@dataclass(frozen=True, slots=True)
class Card:
    """One step as printed; `rail` is its place in a group or trial done without a break.

    A card without a number is that of a step to be done `instead` of another, inside its card.
    `rest` is the next step after which the job may be left, where it may be left after this one
    and then not for a while.
    """

    number: int | None
    bookmark: str
    do: str
    signals: tuple[Signal, ...]
    stop: Stop | None
    rail: str
    is_trial: bool
    photos: tuple[PhotoBlock, ...]
    fitted: tuple[Fitted, ...]
    removed: tuple[Removed, ...]
    lines: tuple[Line, ...]
    drawn: tuple[LineDrawing, ...]
    torques: tuple[TorqueBlock, ...]
    checks: tuple[CheckBlock, ...]
    packs: tuple[PackBlock, ...]
    notes: tuple[str, ...]
    hold: str
    until: Ref | str | None
    minutes: str
    is_guess: bool
    choice: Said
    instead: tuple[Card, ...]
    rest: Ref | None


@dataclass(frozen=True, slots=True)
class Stretch:
    """Cards of one section that follow one another; a section may come in several stretches.

    `head` is the title as it stands at the head of the pages; `leads` stand under the title:
    the unit that is built here, and why the section comes after others.
    """

    title: str
    head: str
    continued: bool
    leads: tuple[Said, ...]
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """The sheet of step cards; `first_rest` is the first rest point, if the start is none."""

    stretches: tuple[Stretch, ...]
    first_rest: Ref | None


def steps_view(job: Job) -> Steps:
    """Return the cards in printed order, under the sections that they belong to."""
    stretches: list[Stretch] = []
    begun: set[str] = set()
    for section, steps in job.runs():
        title = job.section_title(section)
        shared = steps[0].unit if title and len({step.unit for step in steps}) == 1 else ""
        leads = [said("Unit: ", *_unit(job, shared))] if shared in job.units else []
        if section not in begun:
            leads += _section_leads(job, section)
        stretches.append(
            Stretch(
                title=title,
                head=shortened(title, _HEAD_LENGTH),
                continued=section in begun,
                leads=tuple(leads),
                cards=tuple(card_of(job, step, shared) for step in steps),
            )
        )
        begun.add(section)
    return Steps(tuple(stretches), _rest(job, 0))


def _unit(job: Job, unit: str) -> Said:
    """Say what is built here on the bench, on what, and where it goes in."""
    base = ", ".join(job.parts[link.to].label for link in job.units[unit].base)
    goes_in = refs(job.course.fitted_in.get(unit, ()))
    return said(
        f"{job.parts[unit].label}, built on the bench",
        f" on {base}" if base else "",
        *((", fitted as one in ", *goes_in) if goes_in else ()),
    )


def _section_leads(job: Job, section: str) -> Iterator[Said]:
    if section in job.sections:
        if job.sections[section].in_order:
            yield ("In the order written.",)
        for link in job.sections[section].after:
            named = job.named(link)
            if link.why and named:
                yield said("After ", *named, f" – {link.why}")


def card_of(job: Job, step: Step, shared_unit: str = "") -> Card:
    """Return the card of one step; a unit that all cards beside it share is not named again."""
    minutes, is_guess = job.minutes(step)
    number, until = job.number.get(step.id), job.facts_of(step).until
    own_unit = step.unit if step.unit in job.units and step.unit != shared_unit else ""
    unit = (Line("Unit", _unit(job, own_unit)),) if own_unit else ()
    return Card(
        number=number,
        bookmark=f"{number} {shortened(step.do, _BOOKMARK_LENGTH)}" if number else "",
        do=step.do,
        signals=tuple(_signals(job, step)),
        stop=_stop(job, step, job.stops_for(step)),
        rail=rail_of(job, step),
        is_trial=step.id in job.trials,
        photos=photos_of_step(job, step),
        fitted=fitted_parts(job, step),
        removed=removed_parts(job, step),
        lines=(*unit, *remarks(job, step)),
        drawn=tuple(line_drawings(job, step)),
        torques=torque_blocks(job, step),
        checks=check_blocks(job, step),
        packs=pack_blocks(job, step),
        notes=step.note,
        hold=step.hold,
        until=job.ref(until) if until else None,
        minutes=step.time.text.strip() if step.time else duration(minutes),
        is_guess=is_guess,
        choice=_choice(job, step) if number else (),
        instead=tuple(card_of(job, other) for other in job.instead_of(step)),
        rest=_rest(job, number) if number else None,
    )


def _signals(job: Job, step: Step) -> Iterator[Signal]:
    """Yield what the author warns of, word for word, then what follows from the data."""
    texts = (("WARNING", step.warning), ("CAUTION", step.caution), ("NOTICE", step.notice))
    written = [Signal(word, text) for word, told in texts for text in told]
    yield from written
    said_already = {signal.text.strip() for signal in written}
    derived = [Signal(found.word, found.text) for found in cautions(job.assembly, step)]
    for signal in (*derived, *_hot_over(job, step)):
        if signal.text not in said_already:
            yield signal


def _hot_over(job: Job, step: Step) -> Iterator[Signal]:
    """Yield what the heat of a step must not reach: compounds put on before that bear less."""
    for (hot, compound), since in job.times.hot_over.items():
        found = job.compounds[compound]
        if hot == step.id and found.hottest is not None:
            most, number = found.hottest.text.strip(), job.number[since]
            text = f"{found.label}, on since step {number}, bears {most} at the most. Keep the "
            yield Signal("NOTICE", f"{text}heat of this step off it, and look at it afterwards.")


def _stop(job: Job, step: Step, last_chances: Sequence[str]) -> Stop | None:
    if not last_chances:
        return None
    missed = tuple(_missed(job, job.by_id[one]) for one in last_chances)
    members = job.movement(step)
    within = any(job.number.get(one) in members for one in last_chances)
    whole_group = members and not within
    doing = f"{numbered(members)} are done" if whole_group else "this step is done"
    to_what = "it" if len(missed) == 1 else "these"
    return Stop(missed, f"Once {doing}, no way in is left open to {to_what}.")


def _missed(job: Job, step: Step) -> Missed:
    return Missed(job.missed_name(step), job.ref(step.id))


def rail_of(job: Job, step: Step) -> str:
    """Return a step's place in what is done without a break: first, middle, last, only or none."""
    members = job.movement(step)
    if len(members) < 2:  # noqa: PLR2004  # one alone is no group
        return "only" if members else unbroken(job, job.number.get(step.id, 0))
    return {members[0]: "first", members[-1]: "last"}.get(job.number[step.id], "middle")


def _choice(job: Job, step: Step) -> Said:
    """Say by when one of several steps has to be done, and why there are several."""
    choice = job.choices.get(step.id)
    if choice is None:
        return ()
    by = refs(job.numbers(choice.before))
    return said(*((", in any case before ", *by) if by else ()), because((choice.why,)))


def _rest(job: Job, number: int) -> Ref | None:
    then = job.course.rests.get(number)
    return Ref(then) if then else None
