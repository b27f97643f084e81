"""The figures that a check comes to, from its readings: value, spread, and how finely told."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.units import UNITS
from sequencer.trade.arithmetic import check_formula, compute
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from sequencer.trade.measuring import Limits, limits_of, resolution
from sequencer.trade.reckoning import results_of, shares
from sequencer.trade.spelt import spelt

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.checking import Check
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.formulas import Formula
    from sequencer.trade.reckoning import Wanted
    from sequencer.trade.typed_readings import Figures


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a check, in SI units.

    `spread` is how far it may be wrong either way by what the readings carry, `step` how finely
    its gauges and the digits typed tell it. `unit` is that of its limit; without one, that of a
    reading. `is_read` is true of a length that was read as it stands, and not reckoned.
    """

    name: str
    value: Fraction
    spread: Fraction
    step: Fraction
    limit: Amount | None
    unit: Unit
    is_read: bool = False

    @property
    def text(self) -> str:
        """The figure in its unit, never rounded over its limit, with its spread rounded up."""
        limit = self.limit
        band = Limits(limit.low, limit.high) if limit is not None else Limits(None, None)
        shown = spelt(self.value / self.unit.factor - self.unit.offset, self.unit, band)
        if not self.spread:
            return shown
        spread = self.spread / self.unit.factor
        return f"{shown} ± {spelt(spread, self.unit, Limits(spread, None))}"


def reckoned(check: Check, figures: Figures) -> Iterator[Figure]:
    """Yield each figure that a check is judged by, in the order written.

    A check that reckons nothing is judged by its readings, each against its limit.

    Raises
    ------
    TradeError
        If a formula cannot be read or reckoned with these readings, or a reading measures another
        quantity than the limit.
    """
    wanted = results_of(check)
    for one in wanted:
        yield _result(one, figures)
    if not wanted:
        limit = check.limit.value if check.limit is not None else None
        for name, amount in figures.amounts.items():
            yield _reading(name, amount, figures, limit)


def _reading(name: str, amount: Amount, figures: Figures, limit: Amount | None) -> Figure:
    if limit is not None and limit.quantity != amount.quantity:
        raise TradeError(
            f"`{amount.text.strip()}` is not compared with the limit `{limit.text.strip()}`",
            "give it in a unit of what the limit is for",
        )
    band = limits_of(amount)
    if band.low is None or band.high is None:
        raise TradeError(f"`{amount.text.strip()}` is not one figure", "give the figure read")
    value, spread = (band.low + band.high) / 2, (band.high - band.low) / 2
    unit = limit.unit if limit is not None else amount.unit
    step = _step(name, amount, figures) if name in figures.read else Fraction(0)
    return Figure(name, value, spread, step, limit, unit, amount.quantity == "length")


def _result(wanted: Wanted, figures: Figures) -> Figure:
    formula = read_formula(wanted.text)
    limit = wanted.limit.value if wanted.limit is not None else None
    quantity = limit.quantity if limit is not None else _quantity(formula, figures.amounts)
    found = compute(formula, figures.amounts, quantity)
    step = _step_of(formula, figures, quantity)
    unit = limit.unit if limit is not None else _unit(quantity, figures.amounts)
    return Figure(wanted.name, found.value, found.spread, step, limit, unit)


def _step(name: str, amount: Amount, figures: Figures) -> Fraction:
    """Return how finely a reading is told: by its gauge or its digits, whichever is coarser."""
    division = figures.divisions.get(name)
    if division is None or division.quantity != amount.quantity:
        return resolution(amount)
    return max(resolution(amount), division.value * division.unit.factor)


def _step_of(formula: Formula, figures: Figures, quantity: str) -> Fraction:
    """Return how finely a result is told, every reading being off by its own step."""
    steps = {
        name: _step(name, figures.amounts[name], figures)
        for name in formula.names
        if name in figures.read
    }
    linear = shares(formula)
    if linear is not None:
        return sum((abs(linear[name]) * step for name, step in steps.items()), Fraction(0))
    off = {
        name: _off_by(figures.amounts[name], steps.get(name, Fraction(0))) for name in formula.names
    }
    return compute(formula, off, quantity).spread


def _off_by(amount: Amount, step: Fraction) -> Amount:
    """Return the figure with its own band left out, and so much either way instead."""
    either_way = step / amount.unit.factor
    low, high = amount.value - either_way, amount.value + either_way
    return replace(amount, low=low, high=high, nominal=amount.value)


def _quantity(formula: Formula, amounts: Mapping[str, Amount]) -> str:
    """Return what a formula gives, where no limit says what is wanted."""
    quantities = {name: amount.quantity for name, amount in amounts.items()}
    for quantity in dict.fromkeys((*quantities.values(), *UNITS)):
        try:
            check_formula(formula, quantities, quantity)
        except TradeError:
            continue
        return quantity
    return next(iter(quantities.values()), "number")


def _unit(quantity: str, amounts: Mapping[str, Amount]) -> Unit:
    units = [amount.unit for amount in amounts.values() if amount.quantity == quantity]
    return units[0] if units else next(iter(UNITS[quantity].values()))
