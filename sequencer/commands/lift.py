"""`sequencer lift`: how much one person should lift by hand, by the published equation."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, at_most, calculator, number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.model.quantities import Amount
    from sequencer.trade.lifting import Coupling, Duration, Lift, Multipliers, System

_SOURCE = "NIOSH Publication 94-110, revised lifting equation, as quoted in a secondary source"
_FREQUENCY = "NIOSH Publication 94-110, p 16"
_NOT_FOR = "not for one hand, sitting or kneeling, unstable loads, carrying, or over eight hours"
_QUARTER = 15
_CONSTANTS = {"metric": 23, "US": 51}


@click.command("lift")
@click.argument("mass")
@click.option("--reach", help="From the ankles to the hands; near by, if not given.")
@click.option("--height", help="From the floor to the hands; at the knuckles, if not given.")
@click.option("--travel", help="How far up or down; a little, if not given.")
@click.option("--twist", default="0", show_default=True, help="Degrees away from straight ahead.")
@click.option("--per-minute", default="0.2", show_default=True, help="How many lifts.")
@click.option("--working", help='Of every 15 minutes, such as "8 min"; else all of them.')
@click.option(
    "--for", "duration", default="short", type=click.Choice(["short", "moderate", "long"])
)
@click.option("--coupling", default="good", type=click.Choice(["good", "fair", "poor"]))
@calculator
def lift_command(  # noqa: PLR0913  # click hands over every option
    mass: str,
    *,
    reach: str | None,
    height: str | None,
    travel: str | None,
    twist: str,
    per_minute: str,
    working: str | None,
    duration: Duration,
    coupling: Coupling,
) -> Answer:
    """Tell how MASS, such as "18 kg", stands to what one person should lift with two hands.

    Reckoned in the metric or the US system, by the unit of MASS. --for is short up to 1 h,
    moderate up to 2 h, long up to 8 h. Exit code: 0 if it is within the limit, 1 if not, 2 if a
    figure cannot be read.
    """
    from sequencer.trade.basics import in_unit
    from sequencer.trade.lifting import Lift, multipliers, recommended_limit

    load = above_nothing(mass, "mass", limits=False)
    system: System = "US" if load.unit.symbol in ("lb", "oz") else "metric"
    symbol, weight = ("in", "lb") if system == "US" else ("cm", "kg")
    far, high, way = (
        None if text is None else float(in_unit(_read(text, "length"), symbol))
        for text in (reach, height, travel)
    )
    rate, averaged = _rate(per_minute, working)
    task = Lift(
        system=system,
        reach=far or 0.0,
        height=high,
        travel=way or 0.0,
        twist_deg=_degrees(twist),
        per_minute=rate,
        duration=duration,
        coupling=coupling,
    )
    limit, printed = recommended_limit(task), recommended_limit(task, two_decimals=True)
    lifted = float(in_unit(load, weight))
    index = lifted / limit if limit else float("inf")
    told = "one person should not lift it so at all: one of the multipliers is nothing"
    if limit:
        told = f"one person: at most {at_most(limit)} {weight}; {mass.strip()} is "
        told += f"{number(index)} times that"
    lines = (
        told,
        f"  with multipliers of two decimals, as the worksheets have it: {printed:.1f} {weight}",
    )
    found = Working(
        "limit = LC·HM·VM·DM·AM·FM·CM",
        (f"{_product(system, multipliers(task))} = {number(limit, 4)} {weight}",),
        _SOURCE,
    )
    values: dict[str, Value] = {"limit": limit, "unit": weight, "index": index if limit else None}
    return Answer(lines, (*averaged, found), tuple(_notes(task, index)), values, ok=index <= 1)


def _read(text: str, *quantities: str) -> Amount:
    from sequencer.model.quantities import read_amount

    return read_amount(text, quantities, limits=False)


def _degrees(text: str) -> float:
    from sequencer.trade.basics import in_unit

    turned = _read(text, "angle", "number")
    return float(in_unit(turned, "°") if turned.quantity == "angle" else turned.value)


def _rate(per_minute: str, working: str | None) -> tuple[float, tuple[Working, ...]]:
    """Return the lifts a minute to reckon with, and how they were averaged."""
    from sequencer.trade.basics import in_unit
    from sequencer.trade.lifting import averaged_frequency

    rate = float(_read(per_minute, "number").value)
    if working is None:
        return rate, ()
    minutes = float(in_unit(above_nothing(working, "time", limits=False), "min"))
    found = averaged_frequency(rate, minutes)
    numbers = f"{rate:g} × {minutes:g} / {_QUARTER} = {number(found)} a minute"
    return found, (Working("F = lifts a minute × minutes of work / 15", (numbers,), _FREQUENCY),)


def _product(system: System, found: Multipliers) -> str:
    each = (
        *(found.horizontal, found.vertical, found.distance),
        *(found.asymmetric, found.frequency, found.coupling),
    )
    return " × ".join([str(_CONSTANTS[system]), *(number(one) for one in each)])


def _notes(task: Lift, index: float) -> Iterator[str]:
    yield _NOT_FOR
    if index > 1:
        yield "lift it with a second person or a hoist, or bring it nearer"
    if task.system == "US":
        yield "the US constants are no exact conversions of the metric ones"
