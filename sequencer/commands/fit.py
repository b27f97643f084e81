"""`sequencer fit`: the limits of a fit by ISO 286, and how far to heat one part on to the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, calculator, exactly
from sequencer.commands.shrinking import (
    celsius,
    heat_lines,
    heat_notes,
    heating_options,
    rise_working,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from sequencer.trade.fits import Deviations, Fit

_TABLES = "ISO 286-1, tables from memory, compared with two packages that carry them"
_UM = 1000


@click.command("fit")
@click.argument("name")
@click.argument("size")
@heating_options
@calculator
def fit_command(  # noqa: PLR0913  # click hands over every option
    name: str,
    size: str,
    *,
    slip: str | None,
    limit: str | None,
    start: str,
    chill: str | None,
    expansion: str | None,
) -> Answer:
    """Give the limits of the fit NAME, such as H7/p6, at a SIZE such as "40 mm".

    For an interference fit it tells how far the part with the bore is heated, at the worst. Exit
    code: 0 if all is well, 1 if the heat allowed does not do it, 2 if a figure cannot be read.
    """
    from sequencer.commands.warmth import expansion_per_k
    from sequencer.trade.basics import in_unit
    from sequencer.trade.fits import fit
    from sequencer.trade.heating import STEEL_PER_K, ShrinkFit, plan_heating

    nominal = in_unit(above_nothing(size, "length", limits=False), "mm")
    found = fit(name, nominal)
    values = _values(found)
    tight = -found.least_clearance_um / _UM
    if tight <= 0:
        return Answer(tuple(_limits(found)), (_clearances(found),), (), values)
    gap = _slip(slip, nominal)
    joint = ShrinkFit(
        bore_mm=float(nominal + found.hole.lower_um / _UM),
        shaft_mm=float(nominal + found.shaft.upper_um / _UM),
        slip_mm=float(gap),
        expansion_per_k=STEEL_PER_K if expansion is None else expansion_per_k(expansion),
        start_c=celsius(start),
        limit_c=None if limit is None else celsius(limit),
        chill_c=None if chill is None else celsius(chill),
    )
    plan = plan_heating(joint)
    values["heat_to_c"] = plan.heat_to_c
    values["clearance_um"] = plan.clearance_mm * _UM
    return Answer(
        (*_limits(found), *heat_lines(plan, joint)),
        (_clearances(found), rise_working(plan, joint, own=expansion is not None)),
        tuple(heat_notes(plan, joint)),
        values,
        ok=plan.reached,
    )


def _slip(text: str | None, nominal: Fraction) -> Fraction:
    from sequencer.trade.basics import in_unit

    if text is None:
        return nominal / 1000
    return in_unit(above_nothing(text, "length", limits=False), "mm")


def _values(found: Fit) -> dict[str, float]:
    return {
        "size_mm": float(found.size_mm),
        "hole_lower_um": float(found.hole.lower_um),
        "hole_upper_um": float(found.hole.upper_um),
        "shaft_lower_um": float(found.shaft.lower_um),
        "shaft_upper_um": float(found.shaft.upper_um),
        "least_clearance_um": float(found.least_clearance_um),
        "most_clearance_um": float(found.most_clearance_um),
    }


def _limits(found: Fit) -> Iterator[str]:
    hole, _, shaft = found.name.partition("/")
    yield f"{found.name} at {exactly(found.size_mm)} mm: {_what(found)}"
    width = max(len(hole), len(shaft))
    for kind, name, off in (("hole", hole, found.hole), ("shaft", shaft, found.shaft)):
        yield f"  {kind:<5} {name:<{width}}  {_band(found.size_mm, off)}"


def _what(found: Fit) -> str:
    least, most = found.least_clearance_um, found.most_clearance_um
    if found.kind == "clearance":
        return f"clearance of {exactly(least)} to {exactly(most)} µm"
    if found.kind == "interference":
        return f"interference of {exactly(-most)} to {exactly(-least)} µm"
    return f"from {exactly(-least)} µm interference to {exactly(most)} µm clearance"


def _band(size: Fraction, off: Deviations) -> str:
    from sequencer.model.quantities import read_amount
    from sequencer.model.units import unit_for
    from sequencer.sheets.figures import convert

    low, high = (
        f"{float(size + end / _UM):.4f}".removesuffix("0") for end in (off.lower_um, off.upper_um)
    )
    typed = read_amount(f"{low} to {high} mm", ("length",))
    return f"{typed.text} ({convert(typed, unit_for('in'))})"


def _clearances(found: Fit) -> Working:
    hole, shaft = found.hole, found.shaft
    return Working(
        "least clearance = least hole − largest shaft; most = largest hole − least shaft",
        (
            _less(hole.lower_um, shaft.upper_um),
            _less(hole.upper_um, shaft.lower_um),
        ),
        _TABLES,
    )


def _less(one: Fraction, other: Fraction) -> str:
    taken = f"({exactly(other)})" if other < 0 else exactly(other)
    return f"{exactly(one)} − {taken} = {exactly(one - other)} µm"
