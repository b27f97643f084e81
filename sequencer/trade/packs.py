"""A model's pack of shims made ready to reckon with: every pack that serves a figure measured."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.measuring import Limits
from sequencer.trade.shims import Pack as MadePack
from sequencer.trade.shims import Shimming, Supply, choose_shims, read_effect, read_rounding

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.model.parts import Pack, ShimSize
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.basics import Number
    from sequencer.trade.shims import RoundingRule, ShimChoice

MOST_SHIMS = 3
"""How many shims make a pack at the most where nothing else is said."""

_MOST_READINGS, _MOST_ROWS = 4000, 200


@dataclass(frozen=True, slots=True)
class PackRule:
    """All that choosing a pack needs besides the figure measured; everything in `unit`.

    `effect` is the change of the figure for one of pack, `start` the pack that is in when it is
    measured, `aim` the figure wanted.
    """

    unit: Unit
    effect: Fraction
    start: Fraction
    supply: Supply
    limits: Limits
    aim: Fraction
    rounding: RoundingRule | None

    def measured(self, figure: Number) -> Shimming:
        """Return a figure measured, with what packs do to it."""
        return Shimming(figure, self.effect, self.start)


@dataclass(frozen=True, slots=True)
class Chosen:
    """The packs that serve a figure measured, in the unit of the rule.

    `choice` has every pack that serves, the best first. Where a table rounds, `rounded` is the
    total that it comes to, and `by_table` the pack of that total: None if no pack has it.
    """

    choice: ShimChoice
    rounded: Fraction | None = None
    by_table: MadePack | None = None


def sizes_in(sizes: Iterable[ShimSize], unit: Unit) -> dict[Fraction, int | None]:
    """Return every size at hand in a unit, as `Supply` wants them: as many as needed of each.

    Raises
    ------
    ValueError
        If the sizes and the unit measure different quantities.
    """
    return {converted(size, run.unit, unit): None for run in sizes for size in run.each}


def pack_rule(pack: Pack, limit: Amount) -> PackRule:
    """Return what a model says of a pack, ready to reckon with, in the unit of the limit.

    The digit that a rounding rule speaks of is the last one of the limit as typed.

    Raises
    ------
    TradeError
        If the limit has an open end or is no length, no size is given, the effect or the
        rounding rule cannot be read, or the aim is outside the limit.
    """
    unit, (low, high) = limit.unit, _both_ends(limit)
    if not pack.sizes:
        raise TradeError("it has no sizes", "list the shims at hand under `sizes`")
    effect = _effect(pack.effect)
    if pack.aim is not None and pack.aim.quantity != "length":
        raise TradeError(f"its aim `{pack.aim.text.strip()}` is not a length", "mend its unit")
    start, aim = (
        converted(amount.value, amount.unit, unit) if amount is not None else None
        for amount in (pack.start, pack.aim)
    )
    if aim is not None and not low <= aim <= high:
        what = f"its aim is outside the limit `{limit.text.strip()}`"
        raise TradeError(what, "aim inside it, or leave `aim` out for its middle")
    return PackRule(
        unit,
        effect,
        start or Fraction(0),
        Supply(sizes_in(pack.sizes, unit), pack.at_most or MOST_SHIMS),
        Limits(low, high),
        (low + high) / 2 if aim is None else aim,
        read_rounding(pack.rounding, Fraction(1, 10**limit.places)) if pack.rounding else None,
    )


def _both_ends(limit: Amount) -> tuple[Fraction, Fraction]:
    typed = limit.text.strip()
    if limit.quantity != "length":
        raise TradeError(f"the limit `{typed}` is not a length", "give the limit of a gap or play")
    if limit.low is None or limit.high is None:
        raise TradeError(f"the limit `{typed}` is open at one end", "give both ends of the limit")
    return limit.low, limit.high


def _effect(text: str) -> Fraction:
    if not text:
        raise TradeError(
            "nothing says what it does to the figure",
            "write `effect`, such as `+1 mm pack = -1 mm float`",
        )
    effect = read_effect(text)
    if effect == 0:
        raise TradeError(f"by `{text.strip()}` it does nothing", "mend its effect")
    return effect


def choose_pack(rule: PackRule, figure: Number) -> Chosen:
    """Return every pack that brings a figure measured within its limit, the best first.

    Best is nearest to the aim, of equals the one with the fewest shims.

    Parameters
    ----------
    rule : PackRule
        What packs do, and what there is.
    figure : Fraction or int
        What was measured, in the unit of the rule.

    Raises
    ------
    TradeError
        If there are too many different packs to list.
    """
    shimming = rule.measured(figure)
    choice = choose_shims(shimming, rule.supply, rule.limits, rule.aim)
    if rule.rounding is None:
        return Chosen(choice)
    rounded = rule.rounding.round(choice.ideal)
    shims = rule.supply.totals(rounded).get(rounded) if rounded > 0 else None
    made = MadePack(shims, rounded, shimming.result(rounded)) if shims else None
    return Chosen(choice, rounded, made)


@dataclass(frozen=True, slots=True)
class ShimRow:
    """Readings in a row, and the pack that serves them best: none where no pack does it.

    All in the unit of the rule; `results` are what the pack makes of the first and the last
    reading, the smaller first.
    """

    first: Fraction
    last: Fraction
    pack: tuple[Fraction, ...]
    total: Fraction | None
    results: tuple[Fraction, Fraction] | None


def shim_table(rule: PackRule, step: Fraction) -> tuple[ShimRow, ...] | Unknown:
    """Return which pack serves which readings best, to print before anything is measured.

    A rounding rule comes first wherever its pack exists and serves; else the pack nearest to the
    aim, of equals the one with the fewest shims. Readings below nothing are left out where the
    limit has none.

    Parameters
    ----------
    rule : PackRule
        What packs do, and what there is.
    step : Fraction
        From one reading to the next, in the unit of the rule; above nothing.

    Returns
    -------
    tuple of ShimRow or Unknown
        Or why there is no table, in words.
    """
    try:
        packs = rule.supply.totals(max(rule.supply.sizes) * rule.supply.at_most)
    except TradeError as error:
        return Unknown(error.what)
    del packs[Fraction(0)]
    totals = sorted(packs)
    readings = _readings(rule, (totals[0], totals[-1]), step)
    if not readings:
        return Unknown("no pack from these sizes brings a figure within the limit")
    if len(readings) > _MOST_READINGS:
        return Unknown("too many readings are possible for a table")
    chosen = [(at * step, _best(rule, at * step, totals, packs)) for at in readings]
    rows = []
    for total, group in groupby(chosen, key=lambda pair: pair[1]):
        first, *_, last = [reading for reading, _ in group] * 2
        rows.append(_row(rule, first, last, total, packs))
    if len(rows) > _MOST_ROWS:
        return Unknown("too many packs serve for a table")
    return tuple(rows)


def served_by(rule: PackRule, total: Fraction, step: Fraction) -> tuple[Fraction, Fraction]:
    """Return the first and the last reading that a pack of this total brings within the limit.

    Readings go by the step; those below nothing are left out where the limit has none.
    """
    first, last = _served(rule, total, step)
    return first * step, last * step


def _served(rule: PackRule, total: Fraction, step: Fraction) -> tuple[int, int]:
    low, high = rule.limits.low or Fraction(0), rule.limits.high or Fraction(0)
    shift = rule.effect * (total - rule.start)
    first = ceil((low - shift) / step)
    return max(first, 0) if low >= 0 else first, floor((high - shift) / step)


def _readings(rule: PackRule, ends: tuple[Fraction, Fraction], step: Fraction) -> range:
    """Return the readings that may be served, as multiples of the step."""
    served = [_served(rule, total, step) for total in ends]
    return range(min(first for first, _ in served), max(last for _, last in served) + 1)


def _best(
    rule: PackRule,
    reading: Fraction,
    totals: list[Fraction],
    packs: Mapping[Fraction, tuple[Fraction, ...]],
) -> Fraction | None:
    shimming = rule.measured(reading)
    ideal = shimming.pack_for(rule.aim)
    if rule.rounding is not None:
        rounded = rule.rounding.round(ideal)
        if rounded in packs and rule.limits.holds(shimming.result(rounded)):
            return rounded
    at = bisect_left(totals, ideal)
    near = [
        total
        for total in totals[max(at - 1, 0) : at + 1]
        if rule.limits.holds(shimming.result(total))
    ]
    return min(near, key=lambda total: (abs(total - ideal), len(packs[total]), total), default=None)


def _row(
    rule: PackRule,
    first: Fraction,
    last: Fraction,
    total: Fraction | None,
    packs: Mapping[Fraction, tuple[Fraction, ...]],
) -> ShimRow:
    if total is None:
        return ShimRow(first, last, (), None, None)
    results = sorted(rule.measured(reading).result(total) for reading in (first, last))
    return ShimRow(first, last, packs[total], total, (results[0], results[1]))
