"""Whether a torque is sane for its thread: judgements only, none changes the maker's figure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.model.units import unit_for
from sequencer.trade.basics import Band
from sequencer.trade.torque import preload_band, proof_load, usual_torque

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread

# A figure that is so many times too large or too small looks like a figure in another unit: the
# units that are confused differ 7 to 12 times, and a joint may want half or twice the usual.
SLIP_FROM, SLIP_TO = 6.0, 25.0
# How near to the usual torque the figure must come in the other unit.
_SENSIBLE = 3.0
# Less than this part of the proof load is slack.
_SLACK_SHARE = 0.30

# Which unit may have been meant, likeliest first.
_CONFUSED = {
    "ft·lbf": ("in·lbf", "kgf·m"),
    "in·lbf": ("ft·lbf", "N·m", "in·ozf"),
    "in·ozf": ("in·lbf", "ft·lbf"),
    "N·m": ("in·lbf", "kgf·m", "kgf·cm", "N·cm"),
    "N·cm": ("N·mm", "N·m", "in·lbf"),
    "N·mm": ("N·cm", "in·lbf"),
    "kgf·m": ("N·m", "ft·lbf"),
    "kgf·cm": ("N·m", "ft·lbf", "in·lbf"),
    "daN·m": ("N·m", "ft·lbf"),
    "kN·m": ("N·m", "ft·lbf"),
}


@dataclass(frozen=True, slots=True)
class UnitSlip:
    """The figure is `ratio` times what the thread wants; in `unit` it would make sense.

    `unit` is None where no unit that people confuse with the typed one would.
    """

    ratio: float
    unit: Unit | None


@dataclass(frozen=True, slots=True)
class TorqueCheck:
    """What a torque does to a joint: preload in N, its share of the limit, and what is odd."""

    preload_n: Band
    share: Band
    usual_nm: float
    limit_name: str
    over_stressed: bool
    slack: bool
    unit_slip: UnitSlip | None


def judge_torque(
    amount: Amount, thread: Thread, strength: Strength, factor: NutFactor
) -> TorqueCheck:
    """Check a torque against a known thread, strength and nut factor.

    Over-stressed: even the low end of the preload band is above the limit. Slack: even its high
    end is below 30 % of it. Unit slip: the figure is 6 to 25 times the usual torque (75 % of the
    limit at the usual nut factor), or a sixth to a twenty-fifth of it.
    """
    torque = _newton_metres(amount)
    preload = preload_band(torque, factor, thread)
    limit = proof_load(thread, strength)
    share = preload.scaled(1 / limit)
    usual = usual_torque(thread, strength, factor)
    return TorqueCheck(
        preload,
        share,
        usual,
        strength.limit_name,
        over_stressed=share.low > 1,
        slack=share.high < _SLACK_SHARE,
        unit_slip=_unit_slip(amount, usual),
    )


def _newton_metres(amount: Amount) -> Band:
    ends = [float(to_si(end, amount.unit)) for end in (amount.low, amount.high) if end is not None]
    return Band(min(ends), max(ends))


def _unit_slip(amount: Amount, usual_nm: float) -> UnitSlip | None:
    ratio = amount.si / usual_nm
    if ratio <= 0:
        return None
    away = max(ratio, 1 / ratio)
    if not SLIP_FROM <= away <= SLIP_TO:
        return None
    return UnitSlip(ratio, unit_meant(amount, Band(usual_nm / _SENSIBLE, usual_nm * _SENSIBLE)))


def unit_meant(amount: Amount, sensible_nm: Band) -> Unit | None:
    """Return the likeliest unit in which the typed number would be sensible."""
    units = (unit_for(symbol) for symbol in _CONFUSED.get(amount.unit.symbol, ()))
    return next((u for u in units if sensible_nm.holds(float(to_si(amount.value, u)))), None)


@dataclass(frozen=True, slots=True)
class Reduced:
    """A dry figure scaled to another surface, in N·m: a question to the maker, no instruction."""

    usual_nm: float
    band_nm: Band
    words: str


def reduced_for_surface(torque_nm: float, stated: NutFactor, actual: NutFactor) -> Reduced | None:
    """Return what a figure for one surface might be on a slipperier one; None if it is not.

    T2 = T1·K2/K1 at the usual factors, and between the ends of the actual surface's factor.
    Published reductions for oil run from 15 to 50 %, so nothing is ever scaled silently: the
    result is there to ask the maker with.
    """
    if actual.usual >= stated.usual:
        return None
    band = Band(
        rescaled_torque(torque_nm, stated.usual, actual.band.low),
        rescaled_torque(torque_nm, stated.usual, min(actual.band.high, stated.usual)),
    )
    words = (
        f"K {stated.usual:g} {stated.surface} against "
        f"{actual.usual:g} {actual.surface}: ask the maker for the figure"
    )
    return Reduced(rescaled_torque(torque_nm, stated.usual, actual.usual), band, words)


def rescaled_torque(torque: float, factor_from: float, factor_to: float) -> float:
    """Return T2 = T1·K2/K1, in the unit of T1: the same preload at another nut factor.

    Raises
    ------
    ZeroDivisionError
        If the first factor is nothing.
    """
    return torque * factor_to / factor_from
