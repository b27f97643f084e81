"""Tightening in rounds: what to set for each, and angles after a torque."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.basics import ends_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sequencer.model.quantities import Amount
    from sequencer.trade.wrench import Reach, Setting

Way: TypeAlias = Literal["by hand", "pattern", "round"]


@dataclass(frozen=True, slots=True)
class Round:
    """One published round: parts of the target from `least` to `most`, and the way through."""

    name: str
    least: Fraction
    most: Fraction
    way: Way
    note: str = ""


_FULL = Fraction(1)

# The legacy cross-pattern procedure of ASME PCC-1, as quoted in secondary sources; snug is by
# hand, then 15 to 30 N·m (10 to 20 ft·lbf), not above 20 % of the target.
LEGACY_ROUNDS: tuple[Round, ...] = (
    Round("snug", Fraction(0), Fraction(1, 5), "by hand", "check that the gap is even"),
    Round("1", Fraction(1, 5), Fraction(3, 10), "pattern", "check that the gap is even"),
    Round("2", Fraction(1, 2), Fraction(7, 10), "pattern", "check that the gap is even"),
    Round("3", _FULL, _FULL, "pattern", "check that the gap is even"),
    Round("4", _FULL, _FULL, "round", "clockwise, until no nut turns"),
    Round("5", _FULL, _FULL, "round", "clockwise, after at least 4 h, if time allows"),
)

# 30, 60 and 100 %, then once round at 100 %: common in the trade, as quoted in secondary sources.
USUAL_SHARES: tuple[Fraction, ...] = (Fraction(30, 100), Fraction(60, 100), _FULL)


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass: what to set the wrench to, in its unit, and the way through the fasteners.

    `value` is None where the wrench has no mark that serves; `exact` is False where an early
    pass had to take the next lower mark.
    """

    share: Fraction
    way: Way
    value: Fraction | None
    exact: bool
    reach: Reach


def passes_for(
    setting: Setting,
    shares: Sequence[Fraction] = USUAL_SHARES,
) -> tuple[Pass, ...]:
    """Return the passes up to a setting, then the final one in the round.

    Each pass is rounded to what the wrench can show inside the target's band times its share; an
    early pass without a mark there takes the next lower one. No pass goes above the band, and the
    settings rise: an early pass that would repeat another has none.

    Parameters
    ----------
    setting : Setting
        The final setting, of `wrench.setting_for`; an adapter is in it already.
    shares : sequence of Fraction
        Parts of the target, rising; a last pass at the full figure is added if it is missing.

    Raises
    ------
    ValueError
        If the shares do not rise, or are not above nothing and at most one.
    """
    parts = [*shares, *([] if shares and shares[-1] == _FULL else [_FULL])]
    if any(not 0 < part <= _FULL for part in parts) or sorted(set(parts)) != parts:
        raise ValueError("the passes of a joint rise from above 0 % to 100 %")
    passes: list[Pass] = []
    before = Fraction(0)
    for part in parts[:-1]:
        step = early_pass(setting, part, before)
        before = step.value or before
        passes.append(step)
    last = Pass(_FULL, "pattern", setting.value, setting.value is not None, setting.reach)
    around = Pass(_FULL, "round", last.value, last.exact, last.reach)
    return (*passes, last, around)


def early_pass(setting: Setting, part: Fraction, before: Fraction) -> Pass:
    """Return what to set for a share of the target, above the pass `before` and below the target.

    The mark inside the target's band times the share; without one, the next lower mark.
    """
    wrench, aim = setting.wrench, setting.target.aim * part
    value = wrench.mark(aim, setting.target.low * part, setting.target.high * part)
    exact = value is not None
    if value is None:
        value = wrench.mark_below(aim)
    if value <= before or (setting.value is not None and value >= setting.value):
        value, exact = None, False
    reach = wrench.reach(aim if value is None else value)
    return Pass(part, "pattern", value, exact, reach)


@dataclass(frozen=True, slots=True)
class AngleTotal:
    """What the angles of several passes come to, in degrees, against a limit on their sum."""

    least_deg: Fraction
    most_deg: Fraction
    limit_deg: Fraction

    @property
    def impossible(self) -> bool:
        """Whether even the least angles are over the limit: the two figures contradict."""
        return self.least_deg > self.limit_deg

    @property
    def may_exceed(self) -> bool:
        """Whether the limit can be passed with every angle inside its own band."""
        return self.most_deg > self.limit_deg


def angle_total(angles: Mapping[str, Amount], named: Iterable[str], limit: Amount) -> AngleTotal:
    """Return what the angles of the named passes come to, against the limit on their sum.

    Passes go by name, never by number: instructions are renumbered.

    Raises
    ------
    KeyError
        If a name is not a pass.
    ValueError
        If an amount is not an angle, or a band is open at an end.
    """
    bands = [ends_in(angles[name], "°") for name in named]
    lows = [low for low, _ in bands if low is not None]
    highs = [high for _, high in bands if high is not None]
    most = ends_in(limit, "°")[1]
    if most is None or len(lows) != len(bands) or len(highs) != len(bands):
        raise ValueError("angles and their limit need both ends")
    return AngleTotal(sum(lows, Fraction(0)), sum(highs, Fraction(0)), most)
