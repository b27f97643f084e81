"""The step cards: everything a person needs in front of them for one operation."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.blocks import CheckBlock, TorqueBlock, check_blocks, torque_blocks
from sequencer.sheets.figures import in_words
from sequencer.sheets.job import Job, Ref, Said, said
from sequencer.sheets.words import duration, first_sentence, listed, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Step, WayIn
    from sequencer.planning.results import StepFacts

_BOOKMARK_LENGTH = 70
_HEAD_LENGTH = 36
_MISSED_LENGTH = 90
_MOST_OTHERS = 4  # of a group, named one by one


@dataclass(frozen=True, slots=True)
class Signal:
    """A signal word and what it warns of."""

    word: str
    text: str


@dataclass(frozen=True, slots=True)
class Missed:
    """Something whose last chance this is: its parts, else its text, and its step."""

    names: str
    step: Ref


@dataclass(frozen=True, slots=True)
class Stop:
    """The line that stops a person before the last way in to something is shut."""

    missed: tuple[Missed, ...]
    then: str


@dataclass(frozen=True, slots=True)
class Fitted:
    """A part as it is fitted here: how many, which, what to mind, which way round."""

    quantity: str
    name: str
    number: str
    mass: str
    is_new: bool
    single_use: bool
    facing: str


@dataclass(frozen=True, slots=True)
class Line:
    """One labelled line of a card."""

    label: str
    said: Said


@dataclass(frozen=True, slots=True)
class Card:
    """One step as printed; `rail` is its place in a group done as one movement."""

    number: int
    bookmark: str
    do: str
    signals: tuple[Signal, ...]
    stop: Stop | None
    rail: str
    fitted: tuple[Fitted, ...]
    lines: tuple[Line, ...]
    torques: tuple[TorqueBlock, ...]
    checks: tuple[CheckBlock, ...]
    notes: tuple[str, ...]
    hold: str
    until: Ref | None
    minutes: str
    is_guess: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """Cards of one section that follow one another; a section may come in several stretches.

    `head` is the title as it stands at the head of the pages; `reasons` say why the section
    comes after others.
    """

    title: str
    head: str
    continued: bool
    reasons: tuple[Said, ...]
    cards: tuple[Card, ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """The sheet of step cards."""

    stretches: tuple[Stretch, ...]


def steps_view(job: Job) -> Steps:
    """Return the cards in printed order, under the sections that they belong to."""
    stretches: list[Stretch] = []
    begun: set[str] = set()
    for section, steps in job.runs():
        title = job.section_title(section)
        stretches.append(
            Stretch(
                title=title,
                head=shortened(title, _HEAD_LENGTH),
                continued=section in begun,
                reasons=() if section in begun else tuple(_section_reasons(job, section)),
                cards=tuple(_card(job, step) for step in steps),
            )
        )
        begun.add(section)
    return Steps(tuple(stretches))


def _section_reasons(job: Job, section: str) -> Iterator[Said]:
    for link in job.sections[section].after if section in job.sections else ():
        if link.why:
            yield said("After ", *job.named(link), f" – {link.why}")


def _card(job: Job, step: Step) -> Card:
    facts = job.facts_of(step)
    minutes, is_guess = job.minutes(step)
    number = job.number[step.id]
    return Card(
        number=number,
        bookmark=f"{number} {shortened(step.do, _BOOKMARK_LENGTH)}",
        do=step.do,
        signals=tuple(_signals(step)),
        stop=_stop(job, step, facts),
        rail=_rail(job, step),
        fitted=tuple(_fitted(job, step)),
        lines=tuple(_lines(job, step, facts)),
        torques=torque_blocks(job, step),
        checks=check_blocks(job, step),
        notes=step.note,
        hold=step.hold,
        until=job.ref(facts.until) if facts.until else None,
        minutes=step.time.text.strip() if step.time else duration(minutes),
        is_guess=is_guess,
    )


def _signals(step: Step) -> Iterator[Signal]:
    for word, texts in (
        ("WARNING", step.warning),
        ("CAUTION", step.caution),
        ("NOTICE", step.notice),
    ):
        yield from (Signal(word, text) for text in texts)


def _stop(job: Job, step: Step, facts: StepFacts) -> Stop | None:
    if not facts.last_chance_for:
        return None
    missed = tuple(_missed(job, job.by_id[one]) for one in facts.last_chance_for)
    members = job.movement(step)
    within = any(job.number[one] in members for one in facts.last_chance_for)
    whole_group = members and not within
    doing = f"{_numbers(members)} are done" if whole_group else "this step is done"
    to_what = "it" if len(missed) == 1 else "these"
    return Stop(missed, f"Once {doing}, no way in is left open to {to_what}.")


def _missed(job: Job, step: Step) -> Missed:
    parts = ", ".join(job.part_names(step))
    return Missed(parts or shortened(first_sentence(step.do), _MISSED_LENGTH), job.ref(step.id))


def _refs(numbers: tuple[int, ...]) -> Said:
    said: list[str | Ref] = []
    for at, number in enumerate(numbers):
        if at:
            said.append(" and " if at == len(numbers) - 1 else ", ")
        said.append(Ref(number))
    return tuple(said)


def _numbers(numbers: tuple[int, ...]) -> str:
    """Name steps that are at hand: `step 9`, `steps 9 and 10`, `steps 18 to 20`."""
    if len(numbers) == 1:
        return f"step {numbers[0]}"
    first, last = numbers[0], numbers[-1]
    if last - first > 1 and numbers == tuple(range(first, last + 1)):
        return f"steps {first} to {last}"
    return f"steps {listed([str(number) for number in numbers])}"


def _rail(job: Job, step: Step) -> str:
    members = job.movement(step)
    if not members:
        return ""
    return {members[0]: "first", members[-1]: "last"}.get(job.number[step.id], "middle")


def _fitted(job: Job, step: Step) -> Iterator[Fitted]:
    for fit, count in zip(step.fits, job.counts[step.id], strict=True):
        part = job.parts[fit.part]
        yield Fitted(
            quantity=f"{count} ×" if count > 1 else "",
            name=part.label,
            number=part.number,
            mass=part.mass.text.strip() if part.mass is not None else "",
            is_new=part.renew == "always",
            single_use=part.once or part.renew == "always",
            facing=fit.facing,
        )


def _lines(job: Job, step: Step, facts: StepFacts) -> Iterator[Line]:
    yield from _ways_in(job, step, facts)
    yield from _largest(job, step)
    if step.position:
        yield Line("Position", (step.position,))
    if step.tools:
        yield Line("Tools", ("; ".join(job.tool_name(link.to) for link in step.tools),))
    if step.people > 1:
        yield Line("People", (str(step.people),))
    if step.by:
        yield Line("By", (step.by,))
    yield from _movement(job, step)
    yield from _reasons(job, step)
    yield from _loose(job, step)


def _ways_in(job: Job, step: Step, facts: StepFacts) -> Iterator[Line]:
    ways = {way.name: way for way in step.ways_in}
    for name in facts.ways_in:
        yield Line("Way in", (_way(job, ways[name]) if name in ways else name,))


def _way(job: Job, way: WayIn) -> str:
    opening = way.opening
    size = f", opening {in_words(opening.value, job.assembly.prints)}" if opening else ""
    reasons = [why for why in (opening.why if opening else "", way.why) if why]
    return " – ".join([way.name + size, *reasons])


def _largest(job: Job, step: Step) -> Iterator[Line]:
    largest = step.largest
    if largest is not None and largest.why:
        size = in_words(largest.value, job.assembly.prints)
        yield Line("Room for", (f"{size} – {largest.why}",))


def _movement(job: Job, step: Step) -> Iterator[Line]:
    members = job.movement(step)
    if members:
        others = tuple(number for number in members if number != job.number[step.id])
        why = job.groups[step.id].why if _rail(job, step) == "first" else ""
        reason = f", one movement – {why}" if why else ", one movement"
        named = _numbers(others if len(others) <= _MOST_OTHERS else members)
        yield Line("With", (named + reason,))


def _reasons(job: Job, step: Step) -> Iterator[Line]:
    """Yield the reasons that the author gave for this step's place in the order."""
    for links, label in ((step.after, "After"), (step.before, "Before")):
        for link in links:
            if link.why:
                yield Line(label, said(*job.named(link), f" – {link.why}"))
    for link in step.onto:
        if link.why:
            yield Line("On to", said(f"{job.parts[link.to].label} – {link.why}"))


def _loose(job: Job, step: Step) -> Iterator[Line]:
    if step.leaves:
        later = _refs(job.secured_in.get(step.id, ()))
        yield Line("Leave", said(step.leaves, *((", made fast in ", *later) if later else ())))
    if step.secures:
        loose = _refs(tuple(sorted(job.number[link.to] for link in step.secures)))
        whys = "".join(f" – {link.why}" for link in step.secures if link.why)
        yield Line("Secures", said("what was left loose in ", *loose, whys))
