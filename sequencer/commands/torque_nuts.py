"""`sequencer torque drag`: self-locking nuts, and castle nuts that must line up."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, calculator, number
from sequencer.commands.bolt_words import both_ends

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.model.units import Unit
    from sequencer.trade.basics import Band
    from sequencer.trade.locking import Counted

_SOURCES = {
    "added": "FAA AC 43.13-1B, 7-40; MSFC-STD-486B, A3.8; MIL-HDBK-60, 110.3",
    "included": "NASA-STD-5020B, 4.8.3",
}
_PRELOAD = "NASA-STD-5020B, equations 29 and 30"
_FINE, _DIGITS = 10**9, 6
_RULES = {"faa": "FAA AC 43.13-1B", "msfc": "MSFC-STD-486B"}


@click.command("drag")
@click.argument("torque")
@click.option("--drag", required=True, help="What the nut takes to run down before it seats.")
@click.option("--counted", required=True, type=click.Choice(["added", "included"]))
@click.option("--breakaway", help="The least it takes to start it back: for `included`.")
@click.option("--castle", type=click.Choice(list(_RULES)), help="Whose rule for the slot.")
@click.option("--reading", help="With --castle: what the wrench reads now, the slot not in line.")
@calculator
def drag_command(  # click hands over every option
    torque: str,
    *,
    drag: str,
    counted: Counted,
    breakaway: str | None,
    castle: str | None,
    reading: str | None,
) -> Answer:
    """Tell what the wrench must read for TORQUE on a nut that has drag, measured on that nut.

    Documents differ about what a figure means, so `--counted` has no default: is the drag to be
    added to the figure, or included in it?
    """
    from sequencer.trade.locking import band_to_reach

    amount = above_nothing(torque, "torque")
    unit, asked = amount.unit, both_ends(amount, amount.unit.symbol)
    running = _figure(drag, unit)
    band = band_to_reach(asked, running, counted)
    sign = "+" if counted == "added" else "with"
    lines = [f"{amount.text.strip()}, drag {drag.strip()} {counted}: read {_in(band, unit)}"]
    working = [
        Working(
            "reading = figure + drag" if counted == "added" else "reading = figure",
            (f"{_in(asked, unit)} {sign} {_one(running, unit)} = {_in(band, unit)}",),
            _SOURCES[counted],
        )
    ]
    if counted == "included":
        line, more = _making_preload(band, running, breakaway, unit)
        lines.append(line)
        working.append(more)
    ok = True
    if castle is not None:
        extra = running if counted == "added" else 0.0
        words, more, ok = _castle((asked, extra), castle, reading, unit)
        lines += words
        working.append(more)
    values: dict[str, Value] = {"unit": unit.symbol, "reading": [band.low, band.high]}
    return Answer(tuple(lines), tuple(working), tuple(_notes(castle)), values, ok=ok)


def _making_preload(
    band: Band, running: float, breakaway: str | None, unit: Unit
) -> tuple[str, Working]:
    from sequencer.trade.locking import torque_making_preload

    least = 0.0
    if breakaway is not None:
        least = _figure(breakaway, unit)
    found = torque_making_preload(band, running, least)
    numbers = (
        f"{_one(band.low, unit)} − {_one(running, unit)} to {_one(band.high, unit)} − "
        f"{_one(least, unit)} = {_in(found, unit)}"
    )
    line = f"  of which {_in(found, unit)} makes preload"
    formula = "least = least figure − most drag; most = most figure − least breakaway"
    return line, Working(formula, (numbers,), _PRELOAD)


def _castle(
    figure: tuple[Band, float], castle: str, reading: str | None, unit: Unit
) -> tuple[list[str], Working, bool]:
    from sequencer.trade.locking import CASTLE_RULES, castle_band, castle_step

    (asked, drag), rule = figure, CASTLE_RULES[_RULES[castle]]
    band = castle_band(asked, rule, drag)
    over = f" × {1 + rule.over:g}" if rule.over else ""
    numbers = (
        f"{_one(asked.low, unit)} + {_one(drag, unit)} to {_one(asked.high, unit)}{over} + "
        f"{_one(drag, unit)} = {_in(band, unit)}"
    )
    lines = [f"  the slot must line up at {_in(band, unit)}"]
    step = "tighten on"
    if reading is not None:
        step = castle_step(band, _figure(reading, unit), lined_up=False)
        lines.append(f"  at {reading.strip()}, not in line: {step}")
    working = Working("from the least figure to the most, with the drag", (numbers,), rule.source)
    return lines, working, step == "tighten on"


def _notes(castle: str | None) -> Iterator[str]:
    yield "the drag is measured on this nut and this bolt, each time"
    if castle is not None:
        yield "a nut is never backed off to line up: change the washer or the nut"


def _figure(text: str, unit: Unit) -> float:
    return both_ends(above_nothing(text, "torque", limits=False), unit.symbol).low


def _in(band: Band, unit: Unit) -> str:
    """Return a band to stay within, in the unit typed and another, its ends rounded inwards."""
    from sequencer.model.assembly import Prints
    from sequencer.model.quantities import Amount
    from sequencer.sheets.figures import convert, printed_units

    low, high = (Fraction(end).limit_denominator(_FINE) for end in (band.low, band.high))
    amount = Amount("", unit, low, high)
    first, *others = (convert(amount, one) for one in printed_units(unit, Prints()))
    return f"{first} ({others[0]})" if others else first


def _one(value: float, unit: Unit) -> str:
    return f"{number(value, _DIGITS)} {unit.symbol}"
