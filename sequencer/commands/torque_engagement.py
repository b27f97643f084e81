"""`sequencer torque engagement`: how much thread must be engaged for the bolt to break first."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, at_least, calculator, number
from sequencer.commands.bolt_words import strength_named, thread_option

if TYPE_CHECKING:
    from sequencer.trade.threads import Thread

_INCH_MM = 25.4
_EQUAL = "FED-STD-H28/2B, table II.B.2, formula 13"
_WEAKER = "FED-STD-H28/2B, formulas 8, 9 and 16"
_HOLLOW = "FED-STD-H28/2B, 90.1"


@click.command("engagement")
@thread_option
@click.option("--grade", help="As marked on the head; wanted for a strength under --into.")
@click.option("--into", default="", help='What is tapped: "aluminium", or its strength "200 MPa".')
@click.option("--bore", help="Of a hollow bolt: the hole through it.")
@click.option("--minor", help="Of a hollow bolt: the minor diameter of the tapped thread.")
@calculator
def engagement_command(
    *, thread: str, grade: str | None, into: str, bore: str | None, minor: str | None
) -> Answer:
    """Tell how much thread must be engaged for the bolt to break before its threads strip."""
    from sequencer.trade.basics import TradeError
    from sequencer.trade.joint_length import ENGAGEMENT_RULES
    from sequencer.trade.threads import read_thread

    known = read_thread(thread)
    rule = ENGAGEMENT_RULES.get(into.strip().lower())
    if bore is not None and minor is not None:
        least, working = _hollow(known, bore, minor)
        where = f"hollow, {bore.strip()}"
    elif rule is not None:
        least = float(rule.diameters) * known.diameter_mm
        numbers = f"{number(rule.diameters)} × {number(known.diameter_mm, 6)} mm = "
        working = Working(
            "engagement = diameters × D", (f"{numbers}{number(least)} mm",), rule.source
        )
        where = f"in {into.strip()}"
    elif into and grade is not None:
        least, working = _weaker(known, grade, into)
        where = f"of grade {grade.strip()} in {into.strip()}"
    else:
        what = "nothing says what the thread is tapped into"
        known_rules = ", ".join(ENGAGEMENT_RULES)
        raise TradeError(
            what,
            f"give --into with one of {known_rules}; or its strength, and --grade; or for a hollow "
            "bolt --bore and --minor",
        )
    line = f"{known.name} {where}: at least {at_least(least)} mm ({at_least(least / _INCH_MM)} in)"
    return Answer((line,), (working,), _notes(), {"engagement_mm": least})


def _weaker(thread: Thread, grade: str, into: str) -> tuple[float, Working]:
    from sequencer.trade.basics import in_unit
    from sequencer.trade.thread_strength import (
        equal_strength_engagement,
        strength_ratio,
        weaker_thread_engagement,
    )

    strength = strength_named(grade, thread)
    tapped = float(in_unit(above_nothing(into, "pressure", limits=False), "MPa"))
    equal = equal_strength_engagement(thread)
    least = weaker_thread_engagement(thread, tapped, strength.tensile_mpa)
    ratio = strength_ratio(tapped, strength.tensile_mpa)
    numbers = [
        f"4 × {number(thread.stress_area_mm2, 4)} mm² / (π × "
        f"{number(thread.pitch_diameter_mm, 5)} mm) = {number(equal, 4)} mm",
        f"0.8333 / ({number(tapped, 4)} MPa / {number(strength.tensile_mpa, 4)} MPa) = "
        f"{number(ratio, 4)}" + ("" if ratio > 1 else ", so no longer than that"),
    ]
    if ratio > 1:
        numbers.append(f"{number(equal, 4)} mm × {number(ratio, 4)} = {number(least, 4)} mm")
    formula = (
        "LE = 4·As/(π·d2), times 0.8333/(tapped strength / bolt strength) where that is over 1"
    )
    return least, Working(formula, tuple(numbers), f"{_EQUAL}; {_WEAKER}; {strength.source}")


def _hollow(thread: Thread, bore: str, minor: str) -> tuple[float, Working]:
    from sequencer.trade.basics import in_unit
    from sequencer.trade.thread_strength import HollowBolt, hollow_engagement

    hole, inner = (
        float(in_unit(above_nothing(text, "length", limits=False), "mm")) for text in (bore, minor)
    )
    bolt = HollowBolt(
        area=thread.stress_area_mm2,
        bore=hole,
        minor=inner,
        pitch_diameter=thread.pitch_diameter_mm,
        pitch=thread.pitch_mm,
    )
    least = hollow_engagement(bolt)
    pitch, across = number(thread.pitch_mm, 5), number(thread.pitch_diameter_mm, 6)
    numbers = (
        f"2 × ({number(thread.stress_area_mm2, 5)} − 0.7854 × {number(hole, 5)}²) × {pitch} / "
        f"(π × {number(inner, 6)} × ({pitch}/2 + 0.57735 × ({across} − {number(inner, 6)}))) = "
        f"{number(least)} mm"
    )
    formula = "LE = 2·(As − 0.7854·dh²)·P/(π·D1·(P/2 + 0.57735·(d2 − D1)))"
    return least, Working(formula, (numbers,), f"{_HOLLOW}, with the basic pitch diameter")


def _notes() -> tuple[str, ...]:
    from sequencer.trade.joint_length import MOST_WASHERS

    return (
        "any tapped hole has one diameter at least: MSFC-STD-486B, 4.3 f",
        f"washers take from it; not more than {MOST_WASHERS} under a fastener: "
        "MSFC-STD-486B, 4.3 g",
    )
