"""The cover: what the job is, what it takes, who signs; and what to lay out before the start."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.words import counted, duration

if TYPE_CHECKING:
    from sequencer.model.assembly import Tool
    from sequencer.sheets.job import Job

_BUILT_BY = "built by"


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part to lay out."""

    quantity: int
    name: str
    number: str
    is_new: bool
    single_use: bool
    steps: str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool to lay out."""

    name: str
    reads: str


@dataclass(frozen=True, slots=True)
class Known:
    """A finding, in the words in which it was told."""

    severity: str
    message: str
    fix: str


@dataclass(frozen=True, slots=True)
class Cover:
    """The cover and the lists of what to lay out first."""

    title: str
    notice: str
    scope: str
    wear: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    draft: tuple[str, ...]
    known: tuple[Known, ...]
    counts: tuple[str, ...]
    time: str
    guessed: str
    roles: tuple[str, ...]
    parts: tuple[PartRow, ...]
    tools: tuple[ToolRow, ...]


def cover_view(job: Job) -> Cover:
    """Return what the cover says."""
    assembly = job.assembly
    minutes, guessed = _times(job)
    return Cover(
        title=assembly.title or assembly.assembly,
        notice=assembly.notice,
        scope=assembly.scope,
        wear=assembly.wear,
        warnings=assembly.warning,
        cautions=assembly.caution,
        draft=job.draft,
        known=tuple(
            Known(finding.severity, finding.message, finding.fix) for finding in job.findings
        ),
        counts=_counts(job),
        time=duration(minutes),
        guessed=duration(guessed) if guessed else "",
        roles=_roles(job),
        parts=_parts(job),
        tools=tuple(_tool(job, tool) for tool in assembly.tools),
    )


def _times(job: Job) -> tuple[float, float]:
    """Return the minutes of all steps, and how many of them are guessed."""
    times = [job.minutes(step) for step in job.steps]
    return sum(minutes for minutes, _ in times), sum(minutes for minutes, guess in times if guess)


def _counts(job: Job) -> tuple[str, ...]:
    return (
        counted(len(job.steps), "step"),
        counted(sum(1 for step in job.steps if step.hold), "hold point"),
        counted(sum(1 for step in job.steps if job.facts_of(step).last_chance_for), "STOP line"),
        counted(sum(len(step.check) for step in job.steps), "check"),
    )


def _roles(job: Job) -> tuple[str, ...]:
    """Return who signs: the builder, then every role that does or witnesses a step."""
    met = (role for step in job.steps for role in (step.by, step.hold) if role)
    return tuple(dict.fromkeys((_BUILT_BY, *met)))


def _parts(job: Job) -> tuple[PartRow, ...]:
    """Return the parts in the order in which the steps first take them up."""
    used: dict[str, list[int]] = {}
    for step in job.steps:
        for part in dict.fromkeys(fit.part for fit in step.fits):
            used.setdefault(part, []).append(job.number[step.id])
    order = [*used, *(part.id for part in job.assembly.parts if part.id not in used)]
    return tuple(
        PartRow(
            quantity=job.parts[part].quantity,
            name=job.parts[part].label,
            number=job.parts[part].number,
            is_new=job.parts[part].renew == "always",
            single_use=job.parts[part].once,
            steps=", ".join(str(number) for number in used.get(part, ())),
        )
        for part in order
    )


def _tool(job: Job, tool: Tool) -> ToolRow:
    reads = tool.reads.text.strip() if tool.reads is not None else ""
    return ToolRow(job.tool_name(tool.id), reads)
