"""Where the unit is turned over along the printed order."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.sheets.job import Job


def turns(job: Job) -> dict[int, str]:
    """Return the steps before which a unit is turned, each with how it lies from then on.

    A unit is turned when a step asks for another position than the last one asked for of it, as
    the planner counts.
    """
    lies: dict[str, str] = {}
    found: dict[int, str] = {}
    for number, step in enumerate(job.steps, start=1):
        if step.position:
            if lies.get(step.unit, step.position) != step.position:
                found[number] = step.position
            lies[step.unit] = step.position
    return found
