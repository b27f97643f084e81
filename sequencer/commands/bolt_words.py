"""What the calculators about a bolt share: its options, its nut factor, and bands in two units."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

import click

from sequencer.commands.bench import above_nothing, between, number

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from sequencer.model.quantities import Amount
    from sequencer.trade.basics import Band
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread

_Command = TypeVar("_Command", bound="Callable[..., Any]")

EQUATION = "NASA-STD-5020B, equation 24"
# The factor of the stress area and its source, by whether the thread is metric.
AREA = {
    True: ("0.938194", "ISO 898-1"),
    False: ("0.9743", "FED-STD-H28/2B, table II.B.1, formula 1b"),
}

thread_option = click.option("--thread", required=True, help="The thread, such as M10 or 1/4-20.")
grade_option = click.option("--grade", required=True, help="As marked on the head: 8.8, 5, A2-70.")


def bolt_options(command: _Command) -> _Command:
    """Give a command the thread, the surface and a nut factor of one's own."""
    surface = click.option(
        "--surface", default="", help="Such as dry or oiled; any surface is reckoned with if none."
    )
    own = click.option("--nut-factor", help="The nut factor K that a compound's maker states.")
    return thread_option(surface(own(command)))


def factor_of(surface: str, own: str | None) -> NutFactor:
    """Return the nut factor of a surface as typed, or the one typed.

    Raises
    ------
    TradeError
        If the surface has none here.
    """
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


def strength_named(grade: str, thread: Thread) -> Strength:
    """Return the strength of a grade as typed.

    Raises
    ------
    TradeError
        If the tables do not have it.
    """
    from sequencer.trade.basics import TradeError, Unknown
    from sequencer.trade.strengths import strength_of

    strength = strength_of(grade, thread)
    if isinstance(strength, Unknown):
        raise TradeError(strength.words, "give the grade marked on the head: 8.8, A2-70, 5, B7")
    return strength


def k_of(factor: NutFactor) -> str:
    """Return a nut factor as it stands in a formula."""
    low, high = number(factor.band.low), number(factor.band.high)
    return f"K {low}" if low == high else f"K {low} to {high}"


def both_ends(amount: Amount, symbol: str) -> Band:
    """Return both ends of a figure in a unit; where one is open, the other stands for both."""
    from sequencer.trade.basics import Band, ends_in

    ends = [float(end) for end in ends_in(amount, symbol) if end is not None]
    return Band(min(ends), max(ends))


def in_unit_of(band: Band, symbol: str) -> str:
    """Return a band in SI units in another unit, rounded outwards."""
    from sequencer.model.units import unit_for

    one = 1.0 / float(unit_for(symbol).factor)
    return f"{between(band.low * one, band.high * one)} {symbol}"


def forces(newtons: Band) -> str:
    """Return a force in both units."""
    return f"{in_unit_of(newtons, 'kN')} ({in_unit_of(newtons, 'lbf')})"


def torques(newton_metres: Band) -> str:
    """Return a torque in both units."""
    return f"{in_unit_of(newton_metres, 'N·m')} ({in_unit_of(newton_metres, 'ft·lbf')})"


def one(value: float) -> Band:
    """Return a single figure as a band."""
    from sequencer.trade.basics import Band

    return Band(value, value)
