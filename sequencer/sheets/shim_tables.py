"""The shim table in words: which pack serves which readings, from the sizes at hand."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.packs import pack_rule, served_by
from sequencer.trade.packs import shim_table as reckoned_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.model.checking import Check
    from sequencer.model.parts import Pack
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.packs import PackRule, ShimRow

_MOST_ROWS = 60


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
    if check.limit is None:
        return Unknown("a table needs a limit with both ends")
    limit = check.limit.value
    step = Fraction(1, 10**limit.places)
    if division is not None and division.quantity == limit.quantity and division.value > 0:
        step = converted(division.value, division.unit, limit.unit)
    try:
        rule = pack_rule(pack, limit)
    except TradeError as error:
        return Unknown(f"no table: {error.what}")
    rows = reckoned_table(rule, step)
    if isinstance(rows, Unknown):
        return rows
    if len(rows) > _MOST_ROWS:
        return Unknown("no table: too many packs serve")
    typed = {
        converted(size, one.unit, rule.unit): (size, one.unit)
        for one in pack.sizes
        for size in one.each
    }
    return tuple(_row(rule, row, typed, step) for row in rows)


def _row(
    rule: PackRule, row: ShimRow, typed: Mapping[Fraction, tuple[Fraction, Unit]], step: Fraction
) -> PackRow:
    measured = _span((row.first, row.last))
    if row.total is None or row.results is None:
        return PackRow(measured, "no pack does it", "", "", "")
    shims = [typed[shim] for shim in row.pack]
    units = {unit for _, unit in shims}
    whole = sum((size for size, _ in shims), Fraction(0))
    return PackRow(
        measured,
        " + ".join(_number(size) for size, _ in shims),
        f"{_number(whole)} {shims[0][1].symbol}" if len(units) == 1 else "",
        _span(row.results),
        _span(served_by(rule, row.total, step)),
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
