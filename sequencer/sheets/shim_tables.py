"""The shim table: which pack serves which readings, from the sizes at hand."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.measuring import Limits
from sequencer.trade.shims import Shimming, Supply, read_effect, read_rounding

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.checking import Check
    from sequencer.model.parts import Pack, ShimSize
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.shims import RoundingRule

MOST_SHIMS = 3
"""How many shims make a pack at the most where the model does not say."""

_MOST_ROWS = 60
_MOST_READINGS = 4000
_MOST_SIZES = 500


@dataclass(frozen=True, slots=True)
class PackRow:
    """Readings that a pack serves best, the pack, and what the figure comes to with it.

    `serves` are all readings that it brings within the limit: of packs that do, the choice is the
    builder's.
    """

    measured: str
    pack: str
    total: str
    gives: str
    serves: str


@dataclass(frozen=True, slots=True)
class _Choosing:
    """All that choosing a pack needs, in the unit of the limit."""

    shimming: Shimming
    limits: Limits
    aim: Fraction
    totals: Sequence[Fraction]
    packs: dict[Fraction, tuple[Fraction, ...]]
    rule: RoundingRule | None

    def for_reading(self, reading: Fraction) -> Fraction | None:
        """Return the total of the pack for a reading, None if no pack does it.

        The one nearest to the aim within the limits, of equals that with the fewest shims; a rule
        of rounding comes first, where its total can be made and lies within.
        """
        shimming = Shimming(reading, self.shimming.effect, self.shimming.start)
        ideal = shimming.pack_for(self.aim)
        if self.rule is not None:
            rounded = self.rule.round(ideal)
            if rounded in self.packs and self.limits.holds(shimming.result(rounded)):
                return rounded
        at = bisect_left(self.totals, ideal)
        good = [
            total
            for total in self.totals[max(at - 1, 0) : at + 1]
            if self.limits.holds(shimming.result(total))
        ]
        return min(
            good,
            key=lambda total: (abs(total - ideal), len(self.packs[total]), total),
            default=None,
        )

    def readings(self, step: Fraction) -> range:
        """Return the readings that may be served, as multiples of a step."""
        ends = [self._served(total, step) for total in (self.totals[0], self.totals[-1])]
        return range(min(first for first, _ in ends), max(last for _, last in ends) + 1)

    def served_by(self, total: Fraction, step: Fraction) -> list[Fraction]:
        """Return the first and the last reading that a pack of this total brings within."""
        return [at * step for at in self._served(total, step)]

    def _served(self, total: Fraction, step: Fraction) -> tuple[int, int]:
        """Return the same by multiples of a step; none below nothing, where none is wanted."""
        low, high = self.limits.low or Fraction(0), self.limits.high or Fraction(0)
        shift = Fraction(self.shimming.effect) * (total - self.shimming.start)
        first = ceil((low - shift) / step)
        return max(first, 0) if low >= 0 else first, floor((high - shift) / step)


def shim_table(
    pack: Pack, check: Check, division: Amount | None = None
) -> tuple[PackRow, ...] | Unknown:
    """Return which pack serves which readings, in the unit of the check's limit.

    Parameters
    ----------
    pack : Pack
        Sizes at hand, what a pack does, what is in when it is measured.
    check : Check
        The check that settles it, with a limit of both ends.
    division : Amount, optional
        The gauge's; readings go by it, else by the decimals of the limit as typed.

    Returns
    -------
    tuple of PackRow or Unknown
        Readings in a row that the same pack serves are one row; those that none serves say so.
        Or the words why there is no table.
    """
    limit = check.limit.value if check.limit is not None else None
    if limit is None or limit.low is None or limit.high is None:
        return Unknown("a table needs a limit with both ends")
    step = Fraction(1, 10**limit.places)
    if division is not None and division.quantity == limit.quantity and division.value > 0:
        step = converted(division.value, division.unit, limit.unit)
    try:
        choosing = _choosing(pack, limit)
    except TradeError as error:
        return Unknown(f"no table: {error.what}")
    if len(choosing.readings(step)) > _MOST_READINGS:
        return Unknown("no table: too many readings are possible")
    rows = tuple(_rows(choosing, step, pack, limit.unit))
    if len(rows) > _MOST_ROWS:
        return Unknown("no table: too many packs serve")
    return rows or Unknown("no pack from these sizes comes within the limit")


def _choosing(pack: Pack, limit: Amount) -> _Choosing:
    unit = limit.unit
    if any(size.unit.quantity != unit.quantity for size in pack.sizes):
        raise TradeError("the sizes and the limit are of different kinds", "mend one of them")
    effect = read_effect(pack.effect)
    if effect == 0:
        raise TradeError("a pack without effect settles nothing", "state its effect")
    sizes = {converted(size, one.unit, unit): None for one in pack.sizes for size in _each(one)}
    if not sizes:
        raise TradeError("no sizes are given", "list the sizes at hand")
    supply = Supply(sizes, pack.at_most or MOST_SHIMS)
    packs = supply.totals(max(sizes) * supply.at_most)
    del packs[Fraction(0)]
    start = converted(pack.start.value, pack.start.unit, unit) if pack.start else Fraction(0)
    limits = Limits(limit.low, limit.high)
    aim = converted(pack.aim.value, pack.aim.unit, unit) if pack.aim else limits.middle
    if aim is None or not limits.holds(aim):
        raise TradeError("the aim lies outside the limit", "mend `aim`, or the limit")
    rule = None
    if pack.rounding:
        rule = read_rounding(pack.rounding, Fraction(1, 10**limit.places))
    return _Choosing(Shimming(0, effect, start), limits, aim, sorted(packs), packs, rule)


def _each(size: ShimSize) -> list[Fraction]:
    if size.step is None or size.step <= 0:
        return [size.low]
    count = floor((size.high - size.low) / size.step) + 1
    if count > _MOST_SIZES:
        raise TradeError("too many sizes to choose from", "give fewer, or a larger step")
    return [size.low + at * size.step for at in range(count)]


def _rows(choosing: _Choosing, step: Fraction, pack: Pack, unit: Unit) -> Iterator[PackRow]:
    names = {
        converted(size, one.unit, unit): (size, one.unit)
        for one in pack.sizes
        for size in _each(one)
    }
    readings = [at * step for at in choosing.readings(step)]
    chosen = [(reading, choosing.for_reading(reading)) for reading in readings]
    for total, group in groupby(chosen, key=lambda pair: pair[1]):
        served = [reading for reading, _ in group]
        measured = _span([served[0], served[-1]])
        if total is None:
            yield PackRow(measured, "no pack does it", "", "", "")
            continue
        shims = [names[shim] for shim in choosing.packs[total]]
        effect, start = choosing.shimming.effect, choosing.shimming.start
        results = [Shimming(reading, effect, start).result(total) for reading in served]
        units = {one for _, one in shims}
        whole = sum((size for size, _ in shims), Fraction(0))
        yield PackRow(
            measured,
            " + ".join(_number(size) for size, _ in shims),
            f"{_number(whole)} {shims[0][1].symbol}" if len(units) == 1 else "",
            _span([min(results), max(results)]),
            _span(choosing.served_by(total, step)),
        )


def _span(ends: Sequence[Fraction]) -> str:
    first, last = (_number(end) for end in ends)
    return first if first == last else f"{first} to {last}"


def _number(value: Fraction) -> str:
    """Return a figure with the decimals that it has, at least two, at most five.

    Examples
    --------
    >>> _number(Fraction(1, 2)), _number(Fraction("-0.125")), _number(Fraction(1, 3))
    ('0.50', '−0.125', '0.33333')
    """
    exact = (places for places in range(2, 5) if (value * 10**places).denominator == 1)
    places = next(exact, 5)
    scaled = floor(abs(value) * 10**places + Fraction(1, 2))
    sign = "−" if value < 0 and scaled else ""
    return f"{sign}{Decimal(scaled).scaleb(-places):f}"
