"""The cover: what the job is, what holds for all of it, and who signs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.before import known
from sequencer.sheets.names import worded
from sequencer.sheets.words import counted, duration

if TYPE_CHECKING:
    from sequencer.sheets.before import Known
    from sequencer.sheets.job import Job

_BUILT_BY = "built by"


@dataclass(frozen=True, slots=True)
class Chosen:
    """An option of the model, in the words that ask for it, and the choice taken."""

    asked: str
    choice: str


@dataclass(frozen=True, slots=True)
class UsedModel:
    """A model of its own that is part of this one: what it is called, its id and issue."""

    name: str
    model: str
    issue: str


@dataclass(frozen=True, slots=True)
class Cover:
    """What the cover says."""

    title: str
    notice: str
    scope: str
    wear: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    is_draft: bool
    draft: tuple[str, ...]
    chosen: tuple[Chosen, ...]
    used_models: tuple[UsedModel, ...]
    known: tuple[Known, ...]
    counts: tuple[str, ...]
    time: str
    guessed: str
    roles: tuple[str, ...]
    waiting: str


def cover_view(job: Job) -> Cover:
    """Return what the cover says; what is open stands on the sheet after it, if that is there."""
    has_before = "before" in job.sheets
    assembly = job.assembly
    minutes, guessed = _times(job)
    return Cover(
        title=assembly.title or assembly.assembly,
        notice=assembly.notice,
        scope=assembly.scope,
        wear=assembly.wear,
        warnings=assembly.warning,
        cautions=assembly.caution,
        is_draft=bool(job.draft),
        draft=() if has_before else tuple(worded(job, one) for one in job.draft),
        chosen=tuple(Chosen(taken.label, taken.choice) for taken in assembly.taken),
        used_models=tuple(
            UsedModel(one.title, one.assembly, one.issue) for one in assembly.included
        ),
        known=() if has_before else known(job),
        counts=_counts(job),
        time=duration(minutes),
        guessed=duration(guessed) if guessed else "",
        roles=_roles(job),
        waiting=_waiting(job),
    )


def _waiting(job: Job) -> str:
    """Return how long the job stands still for the waits that the model states."""
    ends = job.times.ends
    working = sum(ends[step] - job.times.begins[step] for step in ends)
    waited = max(ends.values(), default=0) - working
    return duration(waited) if round(waited) else ""


def _times(job: Job) -> tuple[float, float]:
    """Return the minutes of all steps, and how many of them are guessed."""
    times = [job.minutes(step) for step in job.steps]
    return sum(minutes for minutes, _ in times), sum(minutes for minutes, guess in times if guess)


def _counts(job: Job) -> tuple[str, ...]:
    return (
        counted(len(job.steps), "step"),
        counted(sum(1 for step in job.steps if step.hold), "hold point"),
        counted(sum(1 for step in job.steps if job.stops_for(step)), "STOP line"),
        counted(sum(len(step.check) for step in job.steps), "check"),
    )


def _roles(job: Job) -> tuple[str, ...]:
    """Return who signs: the builder, then every role that does or witnesses a step.

    Steps that may be done instead of others count too.
    """
    instead = (other for step in job.steps for other in job.instead_of(step))
    met = (role for step in (*job.steps, *instead) for role in (step.by, step.hold) if role)
    return tuple(dict.fromkeys((_BUILT_BY, *met)))
