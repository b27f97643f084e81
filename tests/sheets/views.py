"""The cards of small models, as tests of the step sheet look at them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.complete import complete
from sequencer.model.steps import Step
from sequencer.planning.results import Plan
from sequencer.sheets.job import job_of
from sequencer.sheets.steps import steps_view
from tests.sheets.making import links

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.planning.results import StepFacts
    from sequencer.sheets.job import Job, Said
    from sequencer.sheets.remarks import Line
    from sequencer.sheets.steps import Card, Steps

FIT = Step(id="fit", do="Fit it.")
TIGHTEN = Step(id="tighten", do="Tighten it.", tighten=links("joint", "j"))
MEASURE = Step(id="measure", do="Measure it.", check=links("check", "c"))


def model(*steps: Step, **fields: object) -> Assembly:
    return complete(Assembly(assembly="a", steps=steps or (TIGHTEN,), **fields))  # type: ignore[arg-type] # the fields are the caller's affair


def job(
    *steps: Step, instead: Mapping[str, tuple[str, ...]] | None = None, **fields: object
) -> Job:
    """Return a job done as written, but for the steps done only `instead` of others."""
    assembly = model(*steps, **fields)
    left_out = {other for others in (instead or {}).values() for other in others}
    order = tuple(step.id for step in assembly.steps if step.id not in left_out)
    return job_of(assembly, Plan(order, fallbacks=instead or {}), fingerprint="f", sheets=())


def sheet(
    *steps: Step,
    facts: Mapping[str, StepFacts] | None = None,
    rest_after: tuple[str, ...] = (),
    instead: Mapping[str, tuple[str, ...]] | None = None,
    forget: Mapping[str, float | None] | None = None,
    **model: object,
) -> Steps:
    """Return the sheet of steps done as written, but for those done only `instead` of others."""
    assembly = complete(Assembly(assembly="a", steps=steps, **model))  # type: ignore[arg-type] # the fields are the caller's affair
    left_out = {other for others in (instead or {}).values() for other in others}
    plan = Plan(
        tuple(step.id for step in steps if step.id not in left_out),
        steps=facts or {},
        rest_after=rest_after,
        fallbacks=instead or {},
        forget_minutes=forget or {},
    )
    return steps_view(job_of(assembly, plan, fingerprint="f", sheets=("steps",)))


def cards(*steps: Step, **model: object) -> list[Card]:
    view = sheet(*steps, **model)  # type: ignore[arg-type] # likewise
    return [card for stretch in view.stretches for card in stretch.cards]


def card(step: Step, **model: object) -> Card:
    return cards(step, **model)[0]


def said(lines: tuple[Line, ...], label: str) -> list[Said]:
    return [line.said for line in lines if line.label == label]
