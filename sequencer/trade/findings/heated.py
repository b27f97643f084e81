"""Heated parts that cool before they are fitted, or that heat alone does not let on."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.problem import Fact, Problem
from sequencer.trade.basics import in_unit
from sequencer.trade.heating import (
    BEARING_LIMIT_C,
    ROOM_C,
    STEEL_PER_K,
    ShrinkFit,
    is_bearing,
    plan_heating,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Heat
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.model.units import Unit
    from sequencer.problem import Path
    from sequencer.trade.heating import HeatPlan


def about_heated_parts(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is found about heat: codes `cools-first` and `still-tight`."""
    yield from _too_slow(assembly)
    yield from _still_tight(assembly)


def _too_slow(assembly: Assembly) -> Iterator[Problem]:
    """Yield each step that fits what it heats, and by its stated time takes longer than it has."""
    for step in assembly.steps:
        heat, time = step.heat, step.time
        if heat is None or heat.fit_within is None or time is None:
            continue
        part = heat.part[0].to
        if time.si <= heat.fit_within.si or all(fit.part != part for fit in step.fits):
            continue
        within, takes = heat.fit_within.text.strip(), time.text.strip()
        here = ("steps", step.id, "heat", "fit_within")
        yield Problem(
            "cools-first",
            "warning",
            f"`{step.id}` takes {takes}, and `{part}`, hot, has to be in its place within {within}",
            step=step.id,
            path=here,
            facts=(
                Fact(f"`{part}` has to be in its place within {within}", here, heat.why),
                Fact(f"`{step.id}` takes {takes}", ("steps", step.id, "time")),
            ),
            why="it grips before it is home, and then neither goes on nor comes off",
            fix="lay all else ready in a step before, and let this one begin when the part is hot",
        )


def _still_tight(assembly: Assembly) -> Iterator[Problem]:
    """Yield each heated part whose bore, grown as steel grows, is still smaller than its seat.

    Only where a line gives both sizes; the part that is chilled counts if it is the line's shaft.
    """
    room = assembly.defaults.temperature
    start = float(in_unit(room, "°C")) if room is not None else ROOM_C
    for step in assembly.steps:
        heat = step.heat
        for line in assembly.lines if heat is not None else ():
            for at, place in enumerate(line.order):
                bore, seat = place.bore, place.seat
                if heat is None or bore is None or seat is None or not line.shaft:
                    continue
                if not place.part or place.part[0].to != heat.part[0].to:
                    continue
                cold = heat.cold
                chill = cold.to if cold and cold.part[0].to == line.shaft[0].to else None
                found = _plan(assembly, heat, (bore, seat), (start, chill))
                if found is not None:
                    path: Path = ("lines", line.id, "order", at)
                    yield _tight(step, heat, found, (bore, seat, path))


@dataclass(frozen=True, slots=True)
class _Found:
    """What the heat gives, what the slip wanted would take, and what the part bears, in °C.

    `at_most` is what both parts give where the one is as hot as it bears; None where that is not
    known.
    """

    given: HeatPlan
    wanted: HeatPlan
    slip_mm: float
    bears_c: float | None
    at_most: HeatPlan | None


def _plan(
    assembly: Assembly,
    heat: Heat,
    sizes: tuple[Amount, Amount],
    degrees: tuple[float, Amount | None],
) -> _Found | None:
    """Return what the heat of a step comes to; None where the part goes on as is wanted."""
    bore, seat = (float(to_si(size.value, size.unit)) * 1000 for size in sizes)
    start, chill = degrees
    slip = float(in_unit(heat.slip, "mm")) if heat.slip is not None else 0.0
    if seat + slip <= bore:
        return None

    def plan(limit_c: float | None) -> HeatPlan:
        return plan_heating(
            ShrinkFit(
                bore_mm=bore,
                shaft_mm=seat,
                slip_mm=slip,
                expansion_per_k=STEEL_PER_K,
                start_c=start,
                limit_c=limit_c,
                chill_c=float(in_unit(chill, "°C")) if chill is not None else None,
            )
        )

    given, bears = plan(float(in_unit(heat.to, "°C"))), _bears(assembly, heat)
    if given.reached:
        return None
    return _Found(given, plan(None), slip, bears, plan(bears) if bears is not None else None)


def _bears(assembly: Assembly, heat: Heat) -> float | None:
    """Return how hot the heated part may be: its maker's figure, else a bearing's usual limit."""
    part = next((one for one in assembly.parts if one.id == heat.part[0].to), None)
    if part is None:
        return None
    if part.hottest is not None:
        return float(in_unit(part.hottest, "°C"))
    return BEARING_LIMIT_C if is_bearing(part) else None


def _tight(step: Step, heat: Heat, found: _Found, sizes: tuple[Amount, Amount, Path]) -> Problem:
    bore, seat, path = sizes
    part, to = heat.part[0].to, heat.to.text.strip()
    clearance, unit = found.given.clearance_mm, bore.unit
    told = _length(abs(clearance), unit)
    if clearance <= 0:
        is_then, why = f"still {told} smaller than its seat", "it jams half way, cools, and grips"
        why += " there"
    else:
        slip = heat.slip.text.strip() if heat.slip is not None else ""
        is_then = f"only {told} larger than its seat, where {slip} is wanted"
        why = "it cools while it slides, and may grip half way"
    facts = [
        Fact(f"the bore of `{part}` is {bore.text.strip()}", (*path, "bore")),
        Fact(f"its seat is {seat.text.strip()}", (*path, "seat")),
    ]
    return Problem(
        "still-tight",
        "warning",
        f"`{step.id}` heats `{part}` to {to}, and if it is steel, its bore is then {is_then}",
        step=step.id,
        path=("steps", step.id, "heat", "to"),
        facts=tuple(facts),
        why=why,
        fix=_fix(heat, found, unit),
    )


def _fix(heat: Heat, found: _Found, unit: Unit) -> str:
    """Say what would do; never more heat than the part bears."""
    degrees = ceil(found.wanted.wanted_c - 1e-9)
    most = found.at_most
    if found.bears_c is None or degrees <= found.bears_c or most is None:
        return f"heat it to more than {degrees} °C, if it bears that, or chill the shaft as well"
    if heat.cold is None or heat.cold.to is None or most.chill_to_c is None:
        return "chill the shaft as well: heat alone does not do it within what the part bears"
    left = _length(abs(most.clearance_mm), unit)
    if most.clearance_mm <= 0:
        return f"press it: heated to what it bears, with the shaft chilled, it is {left} too tight"
    if most.clearance_mm >= found.slip_mm:
        return f"heat it to what it bears: with the shaft chilled that leaves {left} to slip"
    return (
        f"not reachable within what the part bears: with the shaft chilled that leaves {left}; "
        "do with that, or chill the shaft further"
    )


def _length(millimetres: float, unit: Unit) -> str:
    """Return a small length to two digits, in the unit of the bore."""
    return f"{millimetres / 1000 / float(unit.factor):.2g} {unit.symbol}"
