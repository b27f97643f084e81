"""Readings as typed at the bench, made into figures that a check can reckon with."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from sequencer.model.quantities import AmountError, plain_text, read_amount
from sequencer.model.units import UNITS
from sequencer.trade.arithmetic import check_formula
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from sequencer.trade.reckoning import division_of, results_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.checking import Check, Reading
    from sequencer.model.fastening import Tool
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit

_BARE = re.compile(r"[+-]?\s?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")
_MOST_BARE = 6
_YES = frozenset(("yes", "y", "goes", "goes in", "x", "ok"))
_NO = frozenset(("no", "n", "does not go", "does not go in"))


@dataclass(frozen=True, slots=True)
class Figures:
    """The figures of a check by the names of its readings; a single figure has no name.

    `read` are the names of those read at the bench; the others are known beforehand.
    """

    amounts: Mapping[str, Amount]
    divisions: Mapping[str, Amount]
    read: frozenset[str]


def figures_typed(check: Check, typed: Mapping[str, str], tools: Mapping[str, Tool]) -> Figures:
    """Return what was typed as figures, and the divisions of the gauges that they were read on.

    A bare number has the unit of its gauge, else that of the limit; where the check reckons with
    plain numbers, it is one.

    Raises
    ------
    AmountError
        If a reading is missing, or is not one figure.
    """
    readings = check.readings or (None,)
    divisions = {
        reading.name if reading else "": division
        for reading in readings
        if (division := division_of(tools, check, reading)) is not None
    }
    amounts: dict[str, Amount] = {}
    bare: dict[str, Unit] = {}
    for reading in readings:
        name = reading.name if reading else ""
        if reading is not None and reading.is_ is not None:
            amounts[name] = reading.is_
            continue
        text = typed.get(name, "").strip()
        if not text:
            raise AmountError(f"{_named(reading)} is not there yet", "read it, and type it")
        unit = bare_unit(check, divisions.get(name))
        if unit is not None and _BARE.fullmatch(plain_text(text).strip()):
            bare[name] = unit
        amounts[name] = _one_figure(text, unit)
    with_units = {
        name: _one_figure(f"{typed[name].strip()} {unit.symbol}", unit)
        for name, unit in bare.items()
    }
    known = {reading.name for reading in check.readings if reading.is_known}
    figures = _that_reckon(check, amounts, with_units)
    return Figures(figures, divisions, frozenset(figures) - known)


def _that_reckon(
    check: Check, amounts: Mapping[str, Amount], with_units: Mapping[str, Amount]
) -> dict[str, Amount]:
    """Return the figures with units put to bare numbers, to as many as can be reckoned with."""
    names = tuple(with_units)
    most = len(names) if len(names) <= _MOST_BARE else 0
    for plain in (left for count in range(most + 1) for left in combinations(names, count)):
        figures = {**amounts, **with_units, **{name: amounts[name] for name in plain}}
        if all(_reckons(check, figures)):
            return figures
    return {**amounts, **with_units}


def _reckons(check: Check, figures: Mapping[str, Amount]) -> Iterator[bool]:
    quantities = {name: amount.quantity for name, amount in figures.items()}
    for wanted in results_of(check):
        if wanted.limit is None:
            continue
        try:
            check_formula(read_formula(wanted.text), quantities, wanted.limit.value.quantity)
        except TradeError:
            yield False


def bare_unit(check: Check, division: Amount | None) -> Unit | None:
    """Return the unit that a bare number means: that of its gauge, else of a limit."""
    if division is not None:
        return division.unit
    limits = [check.limit, *(wanted.limit for wanted in results_of(check))]
    return next((limit.value.unit for limit in limits if limit is not None), None)


def _one_figure(text: str, unit: Unit | None) -> Amount:
    first = (unit.quantity,) if unit is not None else ()
    others = tuple(quantity for quantity in UNITS if quantity not in first)
    amount = read_amount(text, (*first, *others))
    if amount.low is None or amount.high is None:
        raise AmountError(f"`{text.strip()}` is not one figure", "give the figure that was read")
    return amount


def _named(reading: Reading | None) -> str:
    return f"the reading `{reading.name}`" if reading is not None else "the reading"


def yes_or_no(text: str, gauge: str) -> bool:
    """Return whether a gauge went in.

    Raises
    ------
    AmountError
        If the text says neither yes nor no, or nothing.
    """
    word = plain_text(text).strip().casefold()
    if not word:
        raise AmountError(
            f"nothing says yet whether {gauge} goes in", "try it, and write yes or no"
        )
    if word in _YES or word in _NO:
        return word in _YES
    raise AmountError(
        f"`{text.strip()}` does not say whether {gauge} goes in", "write `yes` or `no`"
    )
