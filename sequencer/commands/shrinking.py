"""How calculators say how far one part is heated on to another, and read what that needs."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING, TypeVar

import click

from sequencer.commands.bench import Working, number

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.trade.heating import HeatPlan, ShrinkFit

    _Command = TypeVar("_Command", bound=Callable[..., object])

_RISE = "as worked in secondary sources; steel 11.16e-6 per K: MIL-HDBK-60, 6.3.2"
_OWN_RISE = "as worked in secondary sources; expansion as given"
_BEARING = (
    "a rolling bearing is not heated above 120 °C unless its maker says otherwise "
    "(as quoted in secondary sources)"
)
_ZERO_C = Fraction("273.15")
_UM, _INCH_MM = 1000, 25.4


def heating_options(command: _Command) -> _Command:
    """Give a calculator what a heated joint depends on besides its sizes."""
    for option in (
        click.option(
            "--expansion", help='Such as "11.2e-6 per K" or "6.2e-6 per °F"; steel if not given.'
        ),
        click.option("--chill", help="The temperature that the shaft can be chilled to."),
        click.option(
            "--from", "start", default="20 °C", show_default=True, help="The temperature now."
        ),
        click.option("--limit", help="The highest temperature that the heated part bears."),
        click.option(
            "--slip", help="Clearance wanted while it slides on; a thousandth if not given."
        ),
    ):
        command = option(command)
    return command


def celsius(text: str) -> float:
    """Read a temperature in °C."""
    from sequencer.model.quantities import read_amount

    amount = read_amount(text, ("temperature",), limits=False)
    return float(Fraction(amount.si).limit_denominator(10**6) - _ZERO_C)


def heat_lines(plan: HeatPlan, joint: ShrinkFit) -> Iterator[str]:
    """Say how far to heat; never a temperature above the limit, but what the limit leaves."""
    if plan.within_limit:
        most = joint.limit_c
        yield f"  heat the bore to {_degrees(plan.wanted_c, most)} at the worst"
        return
    yield "  not reachable within the limit by heat alone"
    hot = f"heated to {_degrees(plan.heat_to_c, plan.heat_to_c)}"
    clearance = plan.clearance_mm if plan.chill_to_c is not None else plan.clearance_hot_mm
    if plan.chill_to_c is not None:
        hot += f", the shaft chilled to {_degrees(plan.chill_to_c, plan.chill_to_c)}"
    left = f"{number(abs(clearance) * _UM)} µm ({number(abs(clearance) / _INCH_MM, 2)} in)"
    what = f"{left} of clearance" if clearance > 0 else f"{left} still too tight"
    yield f"  {hot}: {what}"


def _degrees(celsius: float, most: float | None) -> str:
    """Return a temperature to reach, rounded up to whole degrees but never past the most."""
    both = []
    for value, top, unit in (
        (celsius, most, "°C"),
        (celsius * 1.8 + 32, None if most is None else most * 1.8 + 32, "°F"),
    ):
        both.append(f"{_rounded_up(value, top)} {unit}".replace("-", "−"))
    return f"{both[0]} ({both[1]})"


def _rounded_up(value: float, top: float | None) -> str:
    """Return a figure rounded up to the fewest decimals that keep it to the top; the top down."""
    for places in (0, 2, 4):
        rounded = ceil(round(value * 10**places, 6)) / 10**places
        if top is None or rounded <= round(top, 6):
            return _plain(rounded, places)
    return _plain(floor(round(value * 100, 6)) / 100, 2)


def _plain(value: float, places: int) -> str:
    told = f"{value:.{places}f}"
    return told.rstrip("0").rstrip(".") if places else told


def rise_working(plan: HeatPlan, joint: ShrinkFit, *, own: bool) -> Working:
    """Return the working of a rise; `own` tells whether the expansion was given."""
    tight, slip, bore = joint.interference_mm, joint.slip_mm, joint.bore_mm
    rise = (
        f"({number(tight, 6)} mm + {number(slip, 6)} mm) / "
        f"({joint.expansion_per_k:.4g} per K × {number(bore, 7)} mm) = {number(plan.rise_k, 4)} K"
    )
    start = number(joint.start_c, 5)
    added = f"{start} °C + {number(plan.rise_k, 4)} K = {number(plan.wanted_c, 4)} °C"
    if not plan.within_limit:
        room = number(plan.heat_to_c - joint.start_c, 4)
        added = f"from {start} °C the limit leaves a rise of {room} K"
    formula = "ΔT = (interference + slip) / (α·d), from the temperature now"
    return Working(formula, (rise, added), _OWN_RISE if own else _RISE)


def heat_notes(plan: HeatPlan, joint: ShrinkFit, *, measured: bool = False) -> Iterator[str]:
    """Say what to mind about heating, and what else may do."""
    if not measured:
        yield "reckoned with the tightest parts that the fit allows; measured ones may need less"
    if joint.limit_c is None:
        yield f"no limit was given, so nothing stops the temperature: {_BEARING}"
    if not plan.within_limit and plan.chill_to_c is None:
        yield "chilling the shaft as well may do it: give `--chill`"
    if not plan.reached:
        yield "the slip wanted is not reached"
