"""Torque wrenches: what their scale reaches, and what it can show without leaving the band."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.quantities import converted, to_si
from sequencer.trade.adapters import Adapter, wrench_setting

if TYPE_CHECKING:
    from sequencer.model.fastening import Tool
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.basics import Number

Reach: TypeAlias = Literal["in range", "low on the scale", "below the scale", "above the scale"]

# The part of the full scale that a wrench is used in. The default is common practice, without a
# source; MSFC-STD-486B, 4.2, has 20 to 80 %; since ISO 6789:2017 the range starts at the lowest
# value marked (as quoted in a secondary source).
WorkingRange: TypeAlias = tuple[Fraction, Fraction]
WORKING_RANGES: dict[str, WorkingRange] = {
    "common practice": (Fraction(1, 5), Fraction(1)),
    "MSFC-STD-486B": (Fraction(1, 5), Fraction(4, 5)),
    "ISO 6789:2017": (Fraction(0), Fraction(1)),
}
COMMON_RANGE = WORKING_RANGES["common practice"]

# What a setting wrench may be wrong by, and so the tolerance of a figure typed without one:
# ±4 % above 10 N·m, ±6 % up to and including it. ISO 6789, as quoted in a secondary source.
_SMALL_NM = 10
_TOLERANCE_SMALL, _TOLERANCE = Fraction(6, 100), Fraction(4, 100)


@dataclass(frozen=True, slots=True)
class Wrench:
    """A torque wrench: its scale from `low` to `high` and its division, in `unit`.

    `division` is None where the wrench shows any value.
    """

    unit: Unit
    low: Fraction
    high: Fraction
    division: Fraction | None = None
    name: str = ""

    def usable(self, working: WorkingRange = COMMON_RANGE) -> tuple[Fraction, Fraction]:
        """Return from where to where it is used, in its unit."""
        return max(self.low, working[0] * self.high), working[1] * self.high

    def reach(self, setting: Number, working: WorkingRange = COMMON_RANGE) -> Reach:
        """Tell where a setting in the wrench's unit lies on its scale."""
        least, most = self.usable(working)
        if setting > most:
            return "above the scale"
        if setting < self.low:
            return "below the scale"
        return "in range" if setting >= least else "low on the scale"

    def mark(self, aim: Fraction, low: Fraction, high: Fraction) -> Fraction | None:
        """Return the mark nearest to the aim that lies from low to high; None if none does."""
        if self.division is None:
            return min(max(aim, low), high)
        below = math.floor(aim / self.division) * self.division
        marks = [mark for mark in (below, below + self.division) if low <= mark <= high]
        return min(marks, key=lambda mark: abs(mark - aim), default=None)

    def mark_below(self, aim: Fraction) -> Fraction:
        """Return the last mark that is not above the aim."""
        return aim if self.division is None else math.floor(aim / self.division) * self.division


def wrench_of(tool: Tool) -> Wrench | None:
    """Return the torque wrench that a tool of the model is; None if its range is no torque."""
    scale = tool.range_
    if scale is None or scale.quantity != "torque" or scale.high is None:
        return None
    reads = tool.reads
    division = None
    if reads is not None and reads.quantity == "torque" and reads.value > 0:
        division = converted(reads.value, reads.unit, scale.unit)
    return Wrench(scale.unit, scale.low or Fraction(0), scale.high, division, tool.label)


@dataclass(frozen=True, slots=True)
class Target:
    """A torque to reach, in `unit`: what is aimed at, and the band around it.

    `assumed` is the tolerance taken where the figure was typed without one, as a part of one.
    """

    aim: Fraction
    low: Fraction
    high: Fraction
    unit: Unit
    assumed: Fraction | None = None

    def scaled(self, factor: Fraction) -> Target:
        """Return the target times a positive factor."""
        return Target(
            self.aim * factor, self.low * factor, self.high * factor, self.unit, self.assumed
        )


def target_of(amount: Amount, unit: Unit) -> Target:
    """Return a torque as typed as a target in the wrench's unit, exactly.

    A figure without a tolerance, or open at one end, gets the deviation that ISO 6789 allows a
    setting wrench on the side that is missing: 4 %, or 6 % up to 10 N·m.

    Raises
    ------
    ValueError
        If the amount and the unit are not both torques.
    """
    aim = converted(amount.value, amount.unit, unit)
    small = to_si(abs(amount.value), amount.unit) <= _SMALL_NM
    tolerance = _TOLERANCE_SMALL if small else _TOLERANCE
    low = None if amount.low is None else converted(amount.low, amount.unit, unit)
    high = None if amount.high is None else converted(amount.high, amount.unit, unit)
    if low is not None and high is not None and low < high:
        return Target(aim, low, high, unit)
    least, most = aim - abs(aim) * tolerance, aim + abs(aim) * tolerance
    one_sided = low is None or high is None
    return Target(
        aim,
        low if one_sided and low is not None else least,
        high if one_sided and high is not None else most,
        unit,
        tolerance,
    )


@dataclass(frozen=True, slots=True)
class Setting:
    """What to set a wrench to for a target, in the wrench's unit.

    `value` is None where no mark of the wrench lies inside the band: then it is unreadable.
    """

    wrench: Wrench
    target: Target
    value: Fraction | None
    reach: Reach

    @property
    def usable(self) -> bool:
        """Whether the wrench both reaches the setting and can show it."""
        return self.value is not None and self.reach == "in range"


def setting_for(
    amount: Amount,
    wrench: Wrench,
    arm: tuple[Number, Adapter] | None = None,
) -> Setting:
    """Return what to set the wrench to for a torque as typed.

    Parameters
    ----------
    amount : Amount
        The torque.
    wrench : Wrench
        The wrench; it is the setting, not the torque, that its range is compared with.
    arm : tuple, optional
        The wrench's length and the adapter on it, both in the same unit of length.

    Raises
    ------
    ValueError
        If the amount is not a torque; `TradeError` if the adapter reaches back to the grip.
    """
    target = target_of(amount, wrench.unit)
    if arm is not None:
        target = target.scaled(wrench_setting(1, *arm))
    value = wrench.mark(target.aim, target.low, target.high)
    reach = wrench.reach(target.aim if value is None else value)
    return Setting(wrench, target, value, reach)
