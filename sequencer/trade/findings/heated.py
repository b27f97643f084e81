"""Heated parts that cool before they are fitted, or that heat alone does not let on."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.problem import Fact, Problem
from sequencer.trade.basics import in_unit
from sequencer.trade.heating import ROOM_C, STEEL_PER_K, ShrinkFit, plan_heating

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Heat
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
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


def _plan(
    assembly: Assembly,
    heat: Heat,
    sizes: tuple[Amount, Amount],
    degrees: tuple[float, Amount | None],
) -> tuple[HeatPlan, HeatPlan, float | None] | None:
    """Return what the heat gives, what just letting it on would take, and what the part bears.

    None where it goes on.
    """
    bore, seat = (float(to_si(size.value, size.unit)) * 1000 for size in sizes)
    start, chill = degrees
    part = next((one for one in assembly.parts if one.id == heat.part[0].to), None)
    bears = part.hottest if part is not None else None
    most = float(in_unit(bears, "°C")) if bears is not None else None
    if seat <= bore:
        return None

    def plan(limit_c: float | None) -> HeatPlan:
        return plan_heating(
            ShrinkFit(
                bore_mm=bore,
                shaft_mm=seat,
                slip_mm=0.0,
                expansion_per_k=STEEL_PER_K,
                start_c=start,
                limit_c=limit_c,
                chill_c=float(in_unit(chill, "°C")) if chill is not None else None,
            )
        )

    given = plan(float(in_unit(heat.to, "°C")))
    return None if given.reached else (given, plan(None), most)


def _tight(
    step: Step,
    heat: Heat,
    found: tuple[HeatPlan, HeatPlan, float | None],
    sizes: tuple[Amount, Amount, Path],
) -> Problem:
    given, wanted, most = found
    bore, seat, path = sizes
    part, to = heat.part[0].to, heat.to.text.strip()
    degrees = ceil(wanted.wanted_c - 1e-9)
    fix = f"heat it to more than {degrees} °C, if it bears that, or chill the shaft as well"
    if most is not None and degrees > most:
        fix = "chill the shaft as well: heat alone does not do it within what the part bears"
    return Problem(
        "still-tight",
        "warning",
        f"`{step.id}` heats `{part}` to {to}, and if it is steel, its bore is then still "
        f"{-given.clearance_mm:.2g} mm smaller than its seat",
        step=step.id,
        path=("steps", step.id, "heat", "to"),
        facts=(
            Fact(f"the bore of `{part}` is {bore.text.strip()}", (*path, "bore")),
            Fact(f"its seat is {seat.text.strip()}", (*path, "seat")),
        ),
        why="it jams half way, cools, and grips there",
        fix=fix,
    )
