"""Fill in what a short model leaves unsaid, so that no later stage must know the short forms."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.compounds import Surface
from sequencer.model.fastening import Tool
from sequencer.model.parts import Part
from sequencer.model.quantities import to_si
from sequencer.model.steps import Section, Step

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link


def complete(assembly: Assembly) -> Assembly:
    """Return the same model with its title, parts, tools and sections written out.

    Parts that `fits` names and `parts` does not are declared, with the quantity that the steps
    add up to; units are parts too; a step without a section is in the one named last, and in the
    unit of its section.
    """
    return with_all_declared(in_their_sections(assembly))


def in_their_sections(assembly: Assembly) -> Assembly:
    """Return the same model with each step in the section named last, and in the unit of that."""
    return replace(assembly, steps=tuple(_in_units(assembly, _in_sections(assembly.steps))))


def with_all_declared(assembly: Assembly) -> Assembly:
    """Return the same model with its title, parts, tools and sections written out."""
    return replace(
        assembly,
        title=assembly.title or assembly.assembly,
        parts=assembly.parts + tuple(_undeclared_parts(assembly)),
        tools=assembly.tools + tuple(_undeclared_tools(assembly)),
        surfaces=assembly.surfaces + tuple(_undeclared_surfaces(assembly)),
        sections=assembly.sections + tuple(_undeclared_sections(assembly)),
    )


def _in_sections(steps: Iterable[Step]) -> Iterable[Step]:
    section = ""
    for step in steps:
        section = step.section or section
        yield replace(step, section=section) if section != step.section else step


def _in_units(assembly: Assembly, steps: Iterable[Step]) -> Iterable[Step]:
    units = {section.id: section.unit for section in assembly.sections if section.unit}
    for step in steps:
        unit = step.unit or units.get(step.section, "")
        yield replace(step, unit=unit) if unit != step.unit else step


def _undeclared_parts(assembly: Assembly) -> Iterable[Part]:
    declared = {part.id for part in assembly.parts}
    for unit in assembly.units:
        if unit.id not in declared:
            declared.add(unit.id)
            yield Part(id=unit.id, name=unit.name)
    stated: dict[str, int] = {}
    for step in assembly.steps:
        for fit in step.fits:
            if fit.part not in declared:
                stated[fit.part] = stated.get(fit.part, 0) + (fit.count or 0)
    for part, quantity in stated.items():
        yield Part(id=part, quantity=max(quantity, 1))


def _undeclared_tools(assembly: Assembly) -> Iterable[Tool]:
    declared = {tool.id for tool in assembly.tools}
    used = dict.fromkeys(
        link.to for step in assembly.steps for entry in step.tools for link in entry
    )
    yield from (Tool(id=tool) for tool in used if tool not in declared)


def _undeclared_surfaces(assembly: Assembly) -> Iterable[Surface]:
    declared = {surface.id for surface in assembly.surfaces}
    used = dict.fromkeys(link.to for step in assembly.steps for link in surfaces_of(step))
    yield from (Surface(id=surface) for surface in used if surface not in declared)


def surfaces_of(step: Step) -> Iterable[Link]:
    """Yield the surfaces that a step does something to, in the order of its fields."""
    yield from step.cleans
    for applied in step.apply:
        yield from applied.to
    yield from step.closes
    yield from step.loads


def _undeclared_sections(assembly: Assembly) -> Iterable[Section]:
    declared = {section.id for section in assembly.sections}
    used = dict.fromkeys(step.section for step in assembly.steps if step.section)
    yield from (Section(id=section) for section in used if section not in declared)


def step_minutes(step: Step, assembly: Assembly) -> tuple[float, bool]:
    """Return how long a step takes, in minutes, and whether that is only a guess.

    A step that states no time takes the model's default; without one, a minute for each
    fastener that it tightens, and five minutes otherwise.
    """
    seconds, is_guess = step_seconds(step, assembly)
    return float(seconds / 60), is_guess


def step_seconds(step: Step, assembly: Assembly) -> tuple[Fraction, bool]:
    """Return the same in seconds and exactly, so that sums can be compared with limits."""
    stated = step.time or assembly.defaults.time
    if stated is not None:
        return to_si(stated.value, stated.unit), step.time is None
    joints = {joint.id: joint.count for joint in assembly.joints} if step.tighten else {}
    fasteners = sum(joints.get(link.to, 0) for link in step.tighten)
    return Fraction(60 * (fasteners or 5)), True
