"""The cover: what the job is, what it takes, who signs; and what to lay out before the start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.before import known
from sequencer.sheets.torques import about
from sequencer.sheets.words import counted, duration, numbered

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import Tool
    from sequencer.model.parts import Part
    from sequencer.sheets.before import Known
    from sequencer.sheets.job import Job

_BUILT_BY = "built by"


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part to lay out, with how many more are expected to be left over."""

    quantity: int
    spare: int
    name: str
    number: str
    is_new: bool
    single_use: bool
    is_aid: bool
    steps: str


@dataclass(frozen=True, slots=True)
class NotLaidOut:
    """A part that is on at the start, or a unit that is built: what becomes of it."""

    quantity: str
    name: str
    number: str
    fate: str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool to lay out: its name with its range, its division, its length where that counts."""

    name: str
    reads: str
    length: str


@dataclass(frozen=True, slots=True)
class Renewal:
    """Fasteners that are turned by an angle, and so are new ones each time."""

    what: str
    name: str
    steps: str


@dataclass(frozen=True, slots=True)
class CompoundRow:
    """A compound to lay out: what it is, how much of it goes where, how long it takes."""

    name: str
    about: str
    amounts: str
    steps: str


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
    """The cover and the lists of what to lay out first."""

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
    parts: tuple[PartRow, ...]
    already_on: tuple[NotLaidOut, ...]
    units: tuple[NotLaidOut, ...]
    tools: tuple[ToolRow, ...]
    renewals: tuple[Renewal, ...]
    compounds: tuple[CompoundRow, ...]
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
        draft=() if has_before else job.draft,
        chosen=tuple(Chosen(taken.label, taken.choice) for taken in assembly.taken),
        used_models=tuple(
            UsedModel(one.title, one.assembly, one.issue) for one in assembly.included
        ),
        known=() if has_before else known(job),
        counts=_counts(job),
        time=duration(minutes),
        guessed=duration(guessed) if guessed else "",
        roles=_roles(job),
        parts=tuple(_row(job, part) for part in parts_to_lay_out(job)),
        already_on=tuple(
            _not_laid_out(part, _from_the_start(job, part))
            for part in assembly.parts
            if part.at_start
        ),
        units=tuple(_not_laid_out(job.parts[unit], _built(job, unit)) for unit in job.units),
        tools=tuple(_tool(job, tool) for tool in assembly.tools),
        renewals=tuple(_renewals(job)),
        compounds=tuple(_compounds(job)),
        waiting=_waiting(job),
    )


def _waiting(job: Job) -> str:
    """Return how long the job stands still for the waits that the model states."""
    ends = job.times.ends
    working = sum(ends[step] - job.times.begins[step] for step in ends)
    waited = max(ends.values(), default=0) - working
    return duration(waited) if round(waited) else ""


def _compounds(job: Job) -> Iterator[CompoundRow]:
    """Yield the compounds that the steps put on, in the order in which they first do."""
    used: dict[str, list[tuple[int, str]]] = {}
    for step in job.steps:
        for applied in step.apply:
            for link in applied.compound:
                used.setdefault(link.to, []).append((job.number[step.id], applied.amount))
    for compound, uses in used.items():
        found = job.compounds[compound]
        times = (("open", found.open), ("holds in", found.fixture), ("cures in", found.cure))
        about = [found.kind, *(f"{what} {time.text.strip()}" for what, time in times if time)]
        yield CompoundRow(
            name=found.label,
            about=", ".join(piece for piece in about if piece),
            amounts="; ".join(dict.fromkeys(amount for _, amount in uses if amount)),
            steps=", ".join(str(number) for number in dict.fromkeys(n for n, _ in uses)),
        )


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


def parts_to_lay_out(job: Job) -> Iterator[Part]:
    """Yield the parts in the order in which the steps first take them up.

    Units are built on the way; of what is on at the start only what is renewed is laid out.
    """
    for part in dict.fromkeys((*job.course.fitted_in, *job.parts)):
        found = job.parts[part]
        comes_new = (found.once or found.renew) and part in job.course.fitted_in
        if part not in job.units and (comes_new or not found.at_start):
            yield found


def _row(job: Job, part: Part) -> PartRow:
    steps = ", ".join(str(number) for number in job.course.fitted_in.get(part.id, ()))
    return PartRow(
        quantity=part.quantity,
        spare=part.spare,
        name=part.label,
        number=part.number,
        is_new=part.renew == "always",
        single_use=part.once,
        is_aid=part.aid,
        steps=steps or _only_instead(job, part),
    )


def _only_instead(job: Job, part: Part) -> str:
    """Say what a part is for that is fitted only where another step cannot be done."""
    found = [
        str(job.number[step.id])
        for step in job.steps
        if any(fit.part == part.id for other in job.instead_of(step) for fit in other.fits)
    ]
    return f"if not {', '.join(found)}" if found else ""


def _not_laid_out(part: Part, fate: str) -> NotLaidOut:
    quantity = f"{part.quantity} ×" if part.quantity > 1 else ""
    return NotLaidOut(quantity, part.label, part.number, fate)


def _from_the_start(job: Job, part: Part) -> str:
    off, on = job.course.off_in.get(part.id, ()), job.course.fitted_in.get(part.id, ())
    if not off:
        return "stays on"
    again = "a new one" if part.once or part.renew else "on again"
    return f"off in {numbered(off)}" + (f", {again} in {numbered(on)}" if on else "")


def _built(job: Job, unit: str) -> str:
    built, fitted = job.course.built_in.get(unit, ()), job.course.fitted_in.get(unit, ())
    said = (
        f"built in {numbered(built)}" if built else "",
        f"fitted in {numbered(fitted)}" if fitted else "",
    )
    return ", ".join(filter(None, said))


def _tool(job: Job, tool: Tool) -> ToolRow:
    reads = tool.reads.text.strip() if tool.reads is not None else ""
    length = tool.length.text.strip() if tool.length is not None else ""
    return ToolRow(job.tool_name(tool.id), reads, length)


def _renewals(job: Job) -> Iterator[Renewal]:
    """Yield the fasteners that serve once because they are turned by an angle."""
    for joint in job.assembly.joints:
        worked = job.bench.worked(joint)
        steps = [step for step in job.steps if any(link.to == joint.id for link in step.tighten)]
        if worked.single_use and steps:
            numbers = ", ".join(str(job.number[step.id]) for step in steps)
            yield Renewal(about(worked) or f"{joint.count} ×", joint.name, numbers)
