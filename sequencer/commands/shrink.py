"""`sequencer shrink`: how far to heat a measured bore on to a measured shaft."""

from __future__ import annotations

import click

from sequencer.commands.bench import Answer, above_nothing, calculator
from sequencer.commands.shrinking import (
    celsius,
    heat_lines,
    heat_notes,
    heating_options,
    rise_working,
)


@click.command("shrink")
@click.argument("bore")
@click.argument("shaft")
@heating_options
@calculator
def shrink_command(  # noqa: PLR0913  # click hands over every option
    bore: str,
    shaft: str,
    *,
    slip: str | None,
    limit: str | None,
    start: str,
    chill: str | None,
    expansion: str | None,
) -> Answer:
    """Tell how far to heat a BORE, as measured, for a SHAFT, as measured, to slip in.

    Never above --limit: where heat alone does not do it, it tells what heat and --chill leave.
    Exit code: 0 if the slip wanted is reached, 1 if not, 2 if a figure cannot be read.
    """
    from sequencer.commands.warmth import expansion_per_k
    from sequencer.trade.basics import in_unit
    from sequencer.trade.heating import STEEL_PER_K, ShrinkFit, plan_heating

    sizes = [
        float(in_unit(above_nothing(text, "length", limits=False), "mm")) for text in (bore, shaft)
    ]
    gap = sizes[0] / 1000
    if slip is not None:
        gap = float(in_unit(above_nothing(slip, "length", limits=False), "mm"))
    joint = ShrinkFit(
        bore_mm=sizes[0],
        shaft_mm=sizes[1],
        slip_mm=gap,
        expansion_per_k=STEEL_PER_K if expansion is None else expansion_per_k(expansion),
        start_c=celsius(start),
        limit_c=None if limit is None else celsius(limit),
        chill_c=None if chill is None else celsius(chill),
    )
    plan = plan_heating(joint)
    head = f"bore {bore.strip()} on shaft {shaft.strip()}:"
    return Answer(
        (head, *heat_lines(plan, joint)),
        (rise_working(plan, joint, own=expansion is not None),),
        tuple(heat_notes(plan, joint, measured=True)),
        {
            "rise_k": plan.rise_k,
            "heat_to_c": plan.heat_to_c,
            "clearance_hot_mm": plan.clearance_hot_mm,
            "clearance_mm": plan.clearance_mm,
        },
        ok=plan.reached,
    )
