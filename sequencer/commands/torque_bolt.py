"""`sequencer torque sane`, `preload` and `from-preload`: what a torque does to its bolt."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import click

from sequencer.commands.bench import Answer, Working, above_nothing, between, calculator, number

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import Any

    from sequencer.commands.bench import Value
    from sequencer.model.quantities import Amount
    from sequencer.trade.basics import Band
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread
    from sequencer.trade.torque_checks import TorqueCheck

_Command = TypeVar("_Command", bound="Callable[..., Any]")

_EQUATION = "NASA-STD-5020B, equation 24"
# The factor of the stress area and its source, by whether the thread is metric.
_AREA = {
    True: ("0.938194", "ISO 898-1"),
    False: ("0.9743", "FED-STD-H28/2B, table II.B.1, formula 1b"),
}
_UNCERTAIN = (
    "the band comes from the nut factor K, which nobody knows better for a joint not tested; "
    "its ends are rounded outwards"
)


def _bolt_options(command: _Command) -> _Command:
    thread = click.option("--thread", required=True, help="The thread, such as M10 or 1/4-20.")
    surface = click.option(
        "--surface", default="", help="Such as dry or oiled; any surface is reckoned with if none."
    )
    own = click.option("--nut-factor", help="The nut factor K that a compound's maker states.")
    return thread(surface(own(command)))


@click.command("preload")
@click.argument("torque")
@_bolt_options
@calculator
def preload_command(torque: str, thread: str, surface: str, nut_factor: str | None) -> Answer:
    """Tell what preload TORQUE may leave in a bolt, as a band."""
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import preload_band

    amount = above_nothing(torque, "torque")
    known, factor = read_thread(thread), _factor(surface, nut_factor)
    torque_nm = _both_ends(amount, "N·m")
    preload = preload_band(torque_nm, factor, known)
    line = f"{amount.text.strip()} on {known.name}, {factor.surface}: preload {_forces(preload)}"
    working = _preload_working(torque_nm, factor, known, preload)
    values = {"preload_n": [preload.low, preload.high]}
    return Answer((line,), (working,), (_UNCERTAIN,), values)


@click.command("from-preload")
@click.argument("preload")
@_bolt_options
@calculator
def from_preload_command(preload: str, thread: str, surface: str, nut_factor: str | None) -> Answer:
    """Tell what torque gives PRELOAD, such as "25 kN", as a band."""
    from sequencer.trade.basics import Band
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque import torque_from_preload

    amount = above_nothing(preload, "force")
    known, factor = read_thread(thread), _factor(surface, nut_factor)
    force, diameter = _both_ends(amount, "N"), known.diameter_mm
    torque = Band(
        torque_from_preload(force.low, factor.band.low, diameter),
        torque_from_preload(force.high, factor.band.high, diameter),
    )
    usual = torque_from_preload(amount.si, factor.usual, diameter)
    numbers = (
        f"{_k(factor)} × {number(diameter, 6)} mm × "
        f"{between(force.low, force.high, 5)} N = {between(torque.low, torque.high)} N·m"
    )
    return Answer(
        (
            f"{amount.text.strip()} on {known.name}, {factor.surface}: torque {_torques(torque)}",
            f"  at the usual K {number(factor.usual)}: {_torques(Band(usual, usual))}",
        ),
        (Working("T = K·D·F", (numbers,), f"{_EQUATION}; K: {factor.source}"),),
        (_UNCERTAIN,),
        {"torque_nm": [torque.low, torque.high], "usual_nm": usual},
    )


@click.command("sane")
@click.argument("torque")
@_bolt_options
@click.option("--grade", required=True, help="As marked on the head: 8.8, 5, A2-70, B7.")
@calculator
def sane_command(
    torque: str, thread: str, surface: str, nut_factor: str | None, grade: str
) -> Answer:
    """Tell whether TORQUE is sane for a bolt: over-stressed, slack, or in the wrong unit."""
    from sequencer.trade.basics import Band, TradeError, Unknown
    from sequencer.trade.strengths import strength_of
    from sequencer.trade.threads import read_thread
    from sequencer.trade.torque_checks import judge_torque

    amount = above_nothing(torque, "torque")
    known, factor = read_thread(thread), _factor(surface, nut_factor)
    strength = strength_of(grade, known)
    if isinstance(strength, Unknown):
        raise TradeError(strength.words, "give the grade marked on the head: 8.8, A2-70, 5, B7")
    check = judge_torque(amount, known, strength, factor)
    odd = tuple(_odd(amount, check))
    verdict = odd or ("nothing odd",)
    return Answer(
        (
            f"{amount.text.strip()} on {known.name}, grade {strength.grade} "
            f"({strength.standard}), {factor.surface}",
            *(f"  {words}" for words in verdict),
            f"  preload {_forces(check.preload_n)}, "
            f"{_per_cent(check.share)} % of the {check.limit_name}",
            f"  usual torque {_torques(Band(check.usual_nm, check.usual_nm))}",
        ),
        tuple(_sane_working(amount, known, strength, factor, check)),
        (*_near_limit(check), _UNCERTAIN),
        _sane_values(check),
        ok=not odd,
    )


def _factor(surface: str, own: str | None) -> NutFactor:
    from sequencer.trade.basics import TradeError
    from sequencer.trade.nut_factors import NUT_FACTORS, nut_factor_for

    named = surface.strip().lower()
    if own is not None:
        return nut_factor_for(named or "as stated", above_nothing(own, "number"))
    if named and named not in NUT_FACTORS:
        known = ", ".join(NUT_FACTORS)
        raise TradeError(
            f"`{surface.strip()}` is no surface with a nut factor here",
            f"use one of {known}; leave it out to reckon with any; or give `--nut-factor`",
        )
    return nut_factor_for(named or "surface not stated")


def _k(factor: NutFactor) -> str:
    low, high = number(factor.band.low), number(factor.band.high)
    return f"K {low}" if low == high else f"K {low} to {high}"


def _both_ends(amount: Amount, symbol: str) -> Band:
    """Return both ends of a figure in a unit; where one is open, the other stands for both."""
    from sequencer.trade.basics import Band, ends_in

    ends = [float(end) for end in ends_in(amount, symbol) if end is not None]
    return Band(min(ends), max(ends))


def _in(band: Band, symbol: str, per: float = 1.0) -> str:
    from sequencer.model.units import unit_for

    one = per / float(unit_for(symbol).factor)
    return f"{between(band.low * one, band.high * one)} {symbol}"


def _forces(newtons: Band) -> str:
    return f"{_in(newtons, 'kN')} ({_in(newtons, 'lbf')})"


def _torques(newton_metres: Band) -> str:
    return f"{_in(newton_metres, 'N·m')} ({_in(newton_metres, 'ft·lbf')})"


def _per_cent(share: Band) -> str:
    return between(share.low * 100, share.high * 100)


def _preload_working(torque_nm: Band, factor: NutFactor, thread: Thread, preload: Band) -> Working:
    numbers = (
        f"{between(torque_nm.low, torque_nm.high, 5)} N·m / "
        f"({_k(factor)} × {number(thread.diameter_mm, 6)} mm) = "
        f"{_in(preload, 'kN')}"
    )
    return Working("F = T/(K·D)", (numbers,), f"{_EQUATION}; K: {factor.source}")


def _sane_working(
    amount: Amount, thread: Thread, strength: Strength, factor: NutFactor, check: TorqueCheck
) -> Iterator[Working]:
    from sequencer.trade.torque import USUAL_SHARE, proof_load

    yield _preload_working(_both_ends(amount, "N·m"), factor, thread, check.preload_n)
    per_pitch, area_source = _AREA[thread.metric]
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
        f"{_EQUATION}; 75 %: a machine-design textbook, as quoted in a secondary source; "
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
