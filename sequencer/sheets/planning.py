"""The planning sheet: what must come before what, what forgetting costs, where to rest."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.before import cost_told
from sequencer.sheets.drawn_order import order_drawing
from sequencer.sheets.words import first_sentence, runs_of, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.drawing.ink import Drawing
    from sequencer.sheets.job import Job, Ref

_LENGTH = 52


@dataclass(frozen=True, slots=True)
class Cost:
    """A step, until when it can still be done, and what it costs to have forgotten it."""

    step: int
    text: str
    until: Ref | str | None
    cost: str


@dataclass(frozen=True, slots=True)
class Planning:
    """The sheet: the drawing page by page, costs, and the steps after which the job may be left.

    `has_ways` tells whether some line is there because a way in is shut; `more` what the marks
    in the drawing have no room for.
    """

    order: tuple[Drawing, ...]
    has_ways: bool
    more: tuple[str, ...]
    costs: tuple[Cost, ...]
    rests: str


def planning_view(job: Job) -> Planning:
    """Return what the sheet says."""
    drawn = order_drawing(job)
    rests = [job.number[step] for step in job.rest_after]
    after = f"step{'s' if len(rests) > 1 else ''} {runs_of(rests)}" if rests else ""
    return Planning(drawn.pages, drawn.has_ways, drawn.more, tuple(_costs(job)), after)


def _costs(job: Job) -> Iterator[Cost]:
    for step in job.steps:
        if step.id in job.forgetting:
            until = job.facts_of(step).until
            yield Cost(
                job.number[step.id],
                shortened(first_sentence(step.do), _LENGTH),
                job.ref(until) if until else None,
                cost_told(job, step.id),
            )
