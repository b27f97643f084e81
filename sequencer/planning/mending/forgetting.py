"""What it costs to forget a step and find out only at the end."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.mending.costs import MINUTE
from sequencer.planning.mending.mender import Mender, usual_budget

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan

STOP_ABOVE = 15.0
"""Minutes that forgetting must cost for a STOP line, where the model says nothing else."""
_LARGEST = 2_000  # steps; beyond, a packet would take minutes, and every last chance is a STOP


def cost_of_forgetting(
    assembly: Assembly, order: Sequence[str], steps: Iterable[str], budget: int | None = None
) -> dict[str, float | None]:
    """Return for each of some steps what it costs to find at the end that it was forgotten.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        A valid order, all of which is done but for the one step.
    steps : iterable of str
        The steps to ask about.
    budget : int, optional
        As of `revise`.

    Returns
    -------
    dict of str to float or None
        Minutes; None where it cannot be put right.
    """
    mender = Mender(assembly, order)
    budget = usual_budget(len(order)) if budget is None else budget
    costs: dict[str, float | None] = {}
    for step in steps:
        history = mender.history(name for name in order if name != step)
        plans = mender.search(history, budget).plans
        costs[step] = plans[0].node.cost / MINUTE if plans else None
    return costs


def with_forgetting(assembly: Assembly, plan: Plan, steps: Iterable[str] | None = None) -> Plan:
    """Return a plan that tells what forgetting costs, of some of its steps or of all."""
    if plan.order is None:
        return plan
    asked = plan.order if steps is None else steps
    return replace(plan, forget_minutes=cost_of_forgetting(assembly, plan.order, asked))


def last_chances(plan: Plan) -> tuple[str, ...]:
    """Return the steps for which a plan has a last chance; none of a job too large to ask of."""
    steps = plan.order or ()
    if len(steps) > _LARGEST:
        return ()
    late = (one for step in steps for one in plan.steps[step].last_chance_for)
    return tuple(dict.fromkeys(late))


def is_dear(assembly: Assembly, minutes: float | None) -> bool:
    """Tell whether what forgetting costs is worth a STOP line; None: it cannot be put right."""
    stated = assembly.handling.stop_above
    least = STOP_ABOVE if stated is None else stated.si / 60
    return minutes is None or minutes >= least
