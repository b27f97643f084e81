"""Before you start: what is open, what cannot be taken back, and the sequence at a glance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.drawn_strip import strip_of
from sequencer.sheets.job import Ref
from sequencer.sheets.names import worded
from sequencer.sheets.turns import turns
from sequencer.sheets.words import duration

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.drawing.ink import Drawing
    from sequencer.sheets.job import Job


@dataclass(frozen=True, slots=True)
class Known:
    """A finding, in the words in which it was told."""

    severity: str
    message: str
    fix: str


@dataclass(frozen=True, slots=True)
class NoReturn:
    """A step that cannot be taken back, and why."""

    step: Ref
    do: str
    why: str


@dataclass(frozen=True, slots=True)
class Chance:
    """What must be done before a step shuts the last way to it, and what forgetting it costs."""

    before: Ref
    names: str
    step: Ref | str
    cost: str
    is_stop: bool


@dataclass(frozen=True, slots=True)
class Turn:
    """A step before which a unit is turned over, and how it lies from then on."""

    step: Ref
    position: str


@dataclass(frozen=True, slots=True)
class Before:
    """The sheet: the strip, what to know, what cannot be taken back, last chances, turns."""

    draft: tuple[str, ...]
    strip: tuple[Drawing, ...]
    key: Drawing | None
    turns: tuple[Turn, ...]
    first_rest: Ref | None
    known: tuple[Known, ...]
    no_returns: tuple[NoReturn, ...]
    chances: tuple[Chance, ...]

    def __bool__(self) -> bool:
        """Tell whether there is more to know than an order that is seen at once."""
        told = (self.draft, self.known, self.turns, self.no_returns, self.chances)
        return any(told) or len(self.strip) > 1


def before_view(job: Job) -> Before:
    """Return what the sheet says."""
    rest = job.course.rests.get(0)
    strip = strip_of(job)
    return Before(
        draft=tuple(worded(job, one) for one in job.draft),
        strip=strip.lines,
        key=strip.key,
        turns=tuple(Turn(Ref(number), position) for number, position in turns(job).items()),
        first_rest=Ref(rest) if rest else None,
        known=known(job),
        no_returns=tuple(_no_returns(job)),
        chances=tuple(_chances(job)),
    )


def _begun(words: str) -> str:
    """Return words as the beginning of a sentence."""
    return words[:1].upper() + words[1:]


def known(job: Job) -> tuple[Known, ...]:
    """Return the findings as they are printed; those that make a draft stand there already."""
    return tuple(
        Known(found.severity, worded(job, found.message), _begun(worded(job, found.fix)))
        for found in job.findings
        if found.message not in job.draft
    )


def _no_returns(job: Job) -> Iterator[NoReturn]:
    for step in job.steps:
        if step.undo is not None and step.undo.never:
            yield NoReturn(Ref(job.number[step.id]), step.do, step.undo.never)


def _chances(job: Job) -> Iterator[Chance]:
    for step in job.steps:
        stops = job.stops_for(step)
        for one in job.facts_of(step).last_chance_for:
            yield Chance(
                before=Ref(job.number[step.id]),
                names=job.missed_name(job.by_id[one]),
                step=job.ref(one),
                cost=cost_told(job, one),
                is_stop=one in stops,
            )


def cost_told(job: Job, step: str) -> str:
    """Say what it costs to find at the end that a step was forgotten; nothing if not known."""
    if step not in job.forgetting:
        return ""
    minutes = job.forgetting[step]
    return "cannot be put right" if minutes is None else duration(minutes)
