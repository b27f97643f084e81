"""One job to print: the model and its plan, with everything that sheets look up found once."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from sequencer.model.complete import step_minutes
from sequencer.planning.mending import is_dear
from sequencer.planning.results import StepFacts
from sequencer.planning.variants import fallbacks, variants
from sequencer.sheets.course import course_of
from sequencer.sheets.words import first_sentence, shortened
from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.common import Link
    from sequencer.model.compounds import Compound, Surface
    from sequencer.model.fastening import Joint, Tool
    from sequencer.model.parts import Part
    from sequencer.model.steps import OneOf, Section, State, Step, Together, Trial, Unit
    from sequencer.planning.results import Plan, Times
    from sequencer.problem import Path, Problem
    from sequencer.sheets.course import Course
    from sequencer.sheets.photos import Photo
    from sequencer.trade.worked import Bench

NO_SOURCE = "no source given"
_QUOTE_LENGTH = 60
_MISSED_LENGTH = 110


@dataclass(frozen=True, slots=True)
class Ref:
    """A step referred to by its printed number; the layout adds its page."""

    number: int


Said = tuple[str | Ref, ...]
"""A sentence in pieces: words, and steps referred to."""


def refs(numbers: Sequence[int]) -> Said:
    """Refer to several steps: each with a page of its own."""
    pieces: list[str | Ref] = []
    for at, number in enumerate(numbers):
        if at:
            pieces.append(" and " if at == len(numbers) - 1 else ", ")
        pieces.append(Ref(number))
    return tuple(pieces)


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
    cheap: frozenset[str]
    """The steps of which it is known that forgetting them costs little."""
    forgetting: Mapping[str, float | None]
    """What it costs to forget a step, in minutes, where that was asked; None: no cure."""
    rest_after: tuple[str, ...]
    """The steps after which the job may be left."""
    by_id: Mapping[str, Step]
    number: Mapping[str, int]
    parts: Mapping[str, Part]
    tools: Mapping[str, Tool]
    joints: Mapping[str, Joint]
    checks: Mapping[str, Check]
    compounds: Mapping[str, Compound]
    surfaces: Mapping[str, Surface]
    times: Times
    sections: Mapping[str, Section]
    units: Mapping[str, Unit]
    groups: Mapping[str, Together]
    trials: Mapping[str, Trial]
    """The trial that each step of one is in."""
    choices: Mapping[str, OneOf]
    """What each step that is one of several is chosen from."""
    fallbacks: Mapping[str, tuple[str, ...]]
    """For each step that is one of several, those that may be done instead."""
    states: Mapping[str, State]
    sources: Mapping[str, str]
    course: Course
    bench: Bench
    paper: str = "A4"
    photos: Mapping[Path, Photo] | None = None
    """The author's pictures, by the paths of the fields; None on sheets that show none."""

    def ref(self, step: str) -> Ref | str:
        """Refer to a step by its id: to the one chosen, where it is an alternative to that.

        A step that is not printed at all is referred to by its words.
        """
        if step in self.number:
            return Ref(self.number[step])
        chosen = (one for one, others in self.fallbacks.items() if step in others)
        number = self.number.get(next(chosen, ""))
        words = shortened(first_sentence(self.by_id[step].do), _QUOTE_LENGTH)
        return Ref(number) if number else f"“{words}”"

    def instead_of(self, step: Step) -> tuple[Step, ...]:
        """Return the steps that may be done instead of one that is printed."""
        others = self.fallbacks.get(step.id, ()) if step.id in self.number else ()
        return tuple(self.by_id[other] for other in others)

    def numbers(self, links: Sequence[Link]) -> tuple[int, ...]:
        """Return the numbers of the steps named that are printed, in order."""
        return tuple(sorted(self.number[link.to] for link in links if link.to in self.number))

    def source(self, *sources: str) -> str:
        """Return where a figure comes from: the first source given, else the model's default."""
        found = next((text for text in (*sources, self.assembly.defaults.source) if text), "")
        return self.words_of(found) or NO_SOURCE

    def words_of(self, source: str) -> str:
        """Return a source's name where its id is given, else the words given."""
        return self.sources.get(source, source)

    def part_names(self, step: Step) -> tuple[str, ...]:
        """Return the names of the parts that a step fits, and of those that it takes off."""
        fitted = (self.parts[fit.part].label for fit in step.fits)
        return (*fitted, *(f"{self.parts[link.to].label} off" for link in step.takes_off))

    def missed_name(self, step: Step) -> str:
        """Return what is missed with a step: its parts, else what it says to do."""
        parts = ", ".join(self.part_names(step))
        return parts or shortened(first_sentence(step.do), _MISSED_LENGTH)

    def tool_name(self, tool: str) -> str:
        """Return a tool's name, with its range where the name does not say it."""
        found = self.tools[tool]
        reach = found.range_.text.strip() if found.range_ is not None else ""
        return f"{found.label}, {reach}" if reach and reach not in found.label else found.label

    def facts_of(self, step: Step) -> StepFacts:
        """Return what the plan tells about a step."""
        return self.facts.get(step.id, StepFacts())

    def stops_for(self, step: Step) -> tuple[str, ...]:
        """Return the earlier steps that a STOP line is printed for before a step."""
        return tuple(one for one in self.facts_of(step).last_chance_for if one not in self.cheap)

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
        """Return the numbers of the steps of this one's group or trial, it included."""
        return self.course.movements.get(step.id, ())

    def minutes(self, step: Step) -> tuple[float, bool]:
        """Return how long a step takes, and whether that is a guess."""
        return step_minutes(step, self.assembly)

    def named(self, link: Link) -> Said:
        """Refer to what a relation names as a sentence would; to nothing if it is not done."""
        if link.kind == "section":
            return (f"section {self.section_title(link.to)}",)
        if link.kind == "check":
            taken = self.course.taken_in.get(link.to)
            return ("the check at ", Ref(taken[-1])) if taken else (f"check {link.to}",)
        if link.kind == "all":
            return ("all that is fitted and tightened",)
        return refs(self.numbers((link,)))


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
    order, instead = _order(assembly, plan)
    steps = tuple(by_id[step] for step in order)
    return Job(
        assembly=assembly,
        fingerprint=fingerprint,
        draft=draft,
        findings=findings,
        sheets=sheets,
        steps=steps,
        facts=plan.steps,
        cheap=frozenset(
            step for step, minutes in plan.forget_minutes.items() if not is_dear(assembly, minutes)
        ),
        forgetting=plan.forget_minutes,
        rest_after=plan.rest_after,
        by_id=by_id,
        number={step: at for at, step in enumerate(order, start=1)},
        parts={part.id: part for part in assembly.parts},
        tools={tool.id: tool for tool in assembly.tools},
        joints={joint.id: joint for joint in assembly.joints},
        checks={check.id: check for check in assembly.checks},
        compounds={compound.id: compound for compound in assembly.compounds},
        surfaces={surface.id: surface for surface in assembly.surfaces},
        times=plan.times,
        sections={section.id: section for section in assembly.sections},
        units={unit.id: unit for unit in assembly.units},
        groups={link.to: group for group in assembly.together for link in group.steps},
        trials={link.to: trial for trial in assembly.trials for link in trial.steps},
        choices={link.to: choice for choice in assembly.one_of for link in choice.steps},
        fallbacks=instead,
        states={state.id: state for state in assembly.states},
        sources={source.id: source.name or source.id for source in assembly.sources},
        course=course_of(assembly, steps, instead, plan.rest_after),
        bench=bench_of(assembly),
    )


def _order(assembly: Assembly, plan: Plan) -> tuple[tuple[str, ...], Mapping[str, tuple[str, ...]]]:
    """Return the order to print, and for its steps those that may be done instead.

    Without an order in the plan it is the written one, with the first of several steps.
    """
    if plan.order is not None:
        return plan.order, plan.fallbacks
    order = tuple(step.id for step in next(variants(assembly)).steps)
    return order, {step: other for step in order if (other := fallbacks(assembly, step))}
