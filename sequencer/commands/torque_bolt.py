"""`sequencer torque sane` and `from-preload`: whether a torque suits its bolt, and which does."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, between, calculator, number
from sequencer.commands.bolt_words import (
    AREA,
    EQUATION,
    bolt_options,
    both_ends,
    factor_of,
    forces,
    grade_option,
    k_of,
    one,
    strength_named,
    torques,
)
from sequencer.commands.torque_preload import UNCERTAIN, preload_working

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.model.quantities import Amount
    from sequencer.trade.basics import Band
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread
    from sequencer.trade.torque_checks import TorqueCheck


@click.command("from-preload")
@click.argument("preload")
@bolt_options
@calculator
def from_preload_command(preload: str, thread: str, surface: str, nut_factor: str | None) -> Answer:
    """Tell what torque gives PRELOAD, such as "25 kN", as a band."""
    from sequencer.trade.basics import Band
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import torque_from_preload

    amount = above_nothing(preload, "force")
    known, factor = read_thread(thread), factor_of(surface, nut_factor)
    force, diameter = both_ends(amount, "N"), known.diameter_mm
    torque = Band(
        torque_from_preload(force.low, factor.band.low, diameter),
        torque_from_preload(force.high, factor.band.high, diameter),
    )
    usual = torque_from_preload(amount.si, factor.usual, diameter)
    numbers = (
        f"{k_of(factor)} × {number(diameter, 6)} mm × "
        f"{between(force.low, force.high, 5)} N = {between(torque.low, torque.high)} N·m"
    )
    return Answer(
        (
            f"{amount.text.strip()} on {known.name}, {factor.surface}: torque {torques(torque)}",
            f"  at the usual K {number(factor.usual)}: {torques(one(usual))}",
        ),
        (Working("T = K·D·F", (numbers,), f"{EQUATION}; K: {factor.source}"),),
        (UNCERTAIN,),
        {"torque_nm": [torque.low, torque.high], "usual_nm": usual},
    )


@click.command("sane")
@click.argument("torque")
@bolt_options
@grade_option
@calculator
def sane_command(
    torque: str, thread: str, surface: str, nut_factor: str | None, grade: str
) -> Answer:
    """Tell whether TORQUE is sane for a bolt: over-stressed, slack, or in the wrong unit."""
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque_checks import judge_torque

    amount = above_nothing(torque, "torque")
    known, factor = read_thread(thread), factor_of(surface, nut_factor)
    strength = strength_named(grade, known)
    check = judge_torque(amount, known, strength, factor)
    odd = tuple(_odd(amount, check))
    verdict = odd or ("nothing odd",)
    return Answer(
        (
            f"{amount.text.strip()} on {known.name}, grade {strength.grade} "
            f"({strength.standard}), {factor.surface}",
            *(f"  {words}" for words in verdict),
            f"  preload {forces(check.preload_n)}, "
            f"{_per_cent(check.share)} % of the {check.limit_name}",
            f"  usual torque {torques(one(check.usual_nm))}",
        ),
        tuple(_sane_working(amount, known, strength, factor, check)),
        (*_near_limit(check), UNCERTAIN),
        _sane_values(check),
        ok=not odd,
    )


def _per_cent(share: Band) -> str:
    return between(share.low * 100, share.high * 100)


def _sane_working(
    amount: Amount, thread: Thread, strength: Strength, factor: NutFactor, check: TorqueCheck
) -> Iterator[Working]:
    from sequencer.trade.torque import USUAL_SHARE, proof_load

    yield preload_working(both_ends(amount, "N·m"), factor, thread, check.preload_n)
    per_pitch, area_source = AREA[thread.metric]
    load = proof_load(thread, strength)
    yield Working(
        f"{strength.limit_name} = stress × π/4·(D − {per_pitch}·P)²",
        (
            f"{number(strength.limit_mpa, 5)} MPa × π/4·({number(thread.diameter_mm, 6)} − "
            f"{per_pitch} × {number(thread.pitch_mm, 6)})² mm² = {number(load / 1000, 4)} kN",
        ),
        f"{strength.source}; stress area: {area_source}",
    )
    yield Working(
        f"usual T = K·D·{USUAL_SHARE:g}·{strength.limit_name}",
        (
            f"{number(factor.usual)} × {number(thread.diameter_mm, 6)} mm × {USUAL_SHARE:g} × "
            f"{number(load / 1000, 4)} kN = {number(check.usual_nm)} N·m",
        ),
        f"{EQUATION}; 75 %: a machine-design textbook, as quoted in a secondary source; "
        "MIL-HDBK-60, 5.2, has 75 to 90 %",
    )


def _odd(amount: Amount, check: TorqueCheck) -> Iterator[str]:
    """Yield what is odd about a torque, in words."""
    from sequencer.trade.basics import plain_number

    if check.over_stressed:
        yield f"over-stressed: even the least preload is above the {check.limit_name}"
    if check.slack:
        yield f"slack: even the most preload is below 30 % of the {check.limit_name}"
    slip = check.unit_slip
    if slip is None:
        return
    times = (
        f"{number(slip.ratio, 2)} times"
        if slip.ratio > 1
        else f"only 1/{number(1 / slip.ratio, 2)} of"
    )
    meant = (
        f"was {plain_number(amount.value)} {slip.unit.symbol} meant?"
        if slip.unit
        else "no unit often confused with it would do"
    )
    yield f"likely a wrong unit: {times} what this bolt usually gets; {meant}"


def _near_limit(check: TorqueCheck) -> Iterator[str]:
    if check.share.low <= 1 < check.share.high:
        yield (
            f"the high end of the band is above the {check.limit_name}: "
            "where it matters, ask the maker, or measure the stretch"
        )


def _sane_values(check: TorqueCheck) -> dict[str, Value]:
    slip = check.unit_slip
    return {
        "preload_n": [check.preload_n.low, check.preload_n.high],
        "share": [check.share.low, check.share.high],
        "share_of": check.limit_name,
        "usual_nm": check.usual_nm,
        "over_stressed": check.over_stressed,
        "slack": check.slack,
        "unit_slip": slip is not None,
        "times_usual": None if slip is None else slip.ratio,
        "unit_meant": None if slip is None or slip.unit is None else slip.unit.symbol,
    }
