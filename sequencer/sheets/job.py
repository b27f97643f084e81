"""One job to print: the model and its plan, with everything that sheets look up found once."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from sequencer.model.complete import step_minutes
from sequencer.planning.results import StepFacts

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.assembly import (
        Assembly,
        Check,
        Joint,
        Link,
        Part,
        Section,
        Step,
        Together,
        Tool,
    )
    from sequencer.planning.results import Plan
    from sequencer.problem import Problem

NO_SOURCE = "no source given"


@dataclass(frozen=True, slots=True)
class Ref:
    """A step referred to by its printed number; the layout adds its page."""

    number: int


Said = tuple[str | Ref, ...]
"""A sentence in pieces: words, and steps referred to."""


def said(*pieces: str | Ref) -> Said:
    """Return a sentence, with words that follow one another joined."""
    joined: list[str | Ref] = []
    for piece in pieces:
        last = joined[-1] if joined else None
        if isinstance(piece, str) and isinstance(last, str):
            joined[-1] = last + piece
        elif piece:
            joined.append(piece)
    return tuple(joined)


@dataclass(frozen=True, slots=True)
class Job:
    """What the views are made from; `steps` stand in the order in which they are printed."""

    assembly: Assembly
    fingerprint: str
    draft: tuple[str, ...]
    findings: tuple[Problem, ...]
    sheets: tuple[str, ...]
    steps: tuple[Step, ...]
    facts: Mapping[str, StepFacts]
    by_id: Mapping[str, Step]
    number: Mapping[str, int]
    parts: Mapping[str, Part]
    tools: Mapping[str, Tool]
    joints: Mapping[str, Joint]
    checks: Mapping[str, Check]
    sections: Mapping[str, Section]
    groups: Mapping[str, Together]
    sources: Mapping[str, str]
    movements: Mapping[str, tuple[int, ...]]
    """For each step done in one movement with others, the numbers of all of them, in order."""
    taken_at: Mapping[str, int]
    """For each check, the number of the last step that takes it."""
    secured_in: Mapping[str, tuple[int, ...]]
    """For each step that leaves something loose, the numbers of the steps that make it fast."""
    counts: Mapping[str, tuple[int, ...]]
    """For each step, how many of each part it fits: what it says, or all that is not yet on."""

    def ref(self, step: str) -> Ref:
        """Refer to a step by its id."""
        return Ref(self.number[step])

    def source(self, *sources: str) -> str:
        """Return where a figure comes from: the first source given, else the model's default."""
        found = next((text for text in (*sources, self.assembly.defaults.source) if text), "")
        return self.words_of(found) or NO_SOURCE

    def words_of(self, source: str) -> str:
        """Return a source's name where its id is given, else the words given."""
        return self.sources.get(source, source)

    def part_names(self, step: Step) -> tuple[str, ...]:
        """Return the names of the parts that a step fits."""
        return tuple(self.parts[fit.part].label for fit in step.fits)

    def tool_name(self, tool: str) -> str:
        """Return a tool's name, with its range where the name does not say it."""
        found = self.tools[tool]
        reach = found.range_.text.strip() if found.range_ is not None else ""
        return f"{found.label}, {reach}" if reach and reach not in found.label else found.label

    def facts_of(self, step: Step) -> StepFacts:
        """Return what the plan tells about a step."""
        return self.facts.get(step.id, StepFacts())

    def runs(self) -> Iterator[tuple[str, tuple[Step, ...]]]:
        """Yield the steps in printed order, those of one section that follow one another together.

        A section may come in several runs.
        """
        for section, steps in groupby(self.steps, key=lambda step: step.section):
            yield section, tuple(steps)

    def section_title(self, section: str) -> str:
        """Return what a section is called on the sheets."""
        return self.sections[section].label if section in self.sections else section

    def movement(self, step: Step) -> tuple[int, ...]:
        """Return the numbers of the steps done in one movement with this one, it included."""
        return self.movements.get(step.id, ())

    def minutes(self, step: Step) -> tuple[float, bool]:
        """Return how long a step takes, and whether that is a guess."""
        return step_minutes(step, self.assembly)

    def named(self, link: Link) -> Said:
        """Refer to a step, a section or a check as a sentence would."""
        if link.kind == "section":
            return (f"section {self.section_title(link.to)}",)
        if link.kind == "check":
            taken = self.taken_at.get(link.to)
            return ("the check at ", Ref(taken)) if taken else (f"check {link.to}",)
        return (self.ref(link.to),)


def job_of(
    assembly: Assembly,
    plan: Plan,
    *,
    fingerprint: str,
    sheets: tuple[str, ...],
    draft: tuple[str, ...] = (),
    findings: tuple[Problem, ...] = (),
) -> Job:
    """Look everything up once; without an order in the plan the written one is printed."""
    by_id = {step.id: step for step in assembly.steps}
    order = plan.order if plan.order is not None else tuple(by_id)
    steps = tuple(by_id[step] for step in order)
    number = {step: at for at, step in enumerate(order, start=1)}
    parts = {part.id: part for part in assembly.parts}
    return Job(
        assembly=assembly,
        fingerprint=fingerprint,
        draft=draft,
        findings=findings,
        sheets=sheets,
        steps=steps,
        facts=plan.steps,
        by_id=by_id,
        number=number,
        parts=parts,
        tools={tool.id: tool for tool in assembly.tools},
        joints={joint.id: joint for joint in assembly.joints},
        checks={check.id: check for check in assembly.checks},
        sections={section.id: section for section in assembly.sections},
        groups={link.to: group for group in assembly.together for link in group.steps},
        sources={source.id: source.name or source.id for source in assembly.sources},
        movements=_movements(assembly.together, number),
        taken_at={link.to: number[step.id] for step in steps for link in step.check},
        secured_in=_secured_in(steps),
        counts=_counts(steps, parts),
    )


def _movements(
    groups: tuple[Together, ...], number: Mapping[str, int]
) -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    for group in groups:
        numbers = tuple(sorted(number[link.to] for link in group.steps))
        found |= {link.to: numbers for link in group.steps if len(numbers) > 1}
    return found


def _secured_in(steps: tuple[Step, ...]) -> dict[str, tuple[int, ...]]:
    found: dict[str, tuple[int, ...]] = {}
    for at, step in enumerate(steps, start=1):
        for link in step.secures:
            found[link.to] = (*found.get(link.to, ()), at)
    return found


def _counts(steps: tuple[Step, ...], parts: Mapping[str, Part]) -> dict[str, tuple[int, ...]]:
    used: dict[str, int] = {}
    counts: dict[str, tuple[int, ...]] = {}
    for step in steps:
        here: list[int] = []
        for fit in step.fits:
            left = parts[fit.part].quantity - used.get(fit.part, 0)
            here.append(fit.count if fit.count is not None else max(left, 1))
            used[fit.part] = used.get(fit.part, 0) + here[-1]
        counts[step.id] = tuple(here)
    return counts
