"""Figures, units and formulas as the page reckons with them: exact, as plain values for JSON.

A number is text, whole or as a fraction (``"1/1000"``), so that nothing is lost on the way: the
page reckons with whole numbers of any length, and never with floating point.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.model.spellings import ASKED
from sequencer.model.units import UNITS
from sequencer.trade.arithmetic import QUANTITIES

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount
    from sequencer.model.units import Unit
    from sequencer.trade.formulas import Node

Plain = dict[str, object]
"""An object of the page's data: what JSON can hold."""


def band(amount: Amount) -> Plain:
    """Return a limit: its ends in SI units (none where it is open), and how it is said.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> found = band(read_amount("at most 0.05 mm", ("length",)))
    >>> found["low"], found["high"], found["asked"], found["unit"]
    (None, '1/20000', 'at most 0.05 mm', 'mm')
    """
    ends = (amount.low, amount.high)
    low, high = (None if end is None else str(to_si(end, amount.unit)) for end in ends)
    return {
        "quantity": amount.quantity,
        "unit": amount.unit.symbol,
        "low": low,
        "high": high,
        "asked": amount.text.strip(),
    }


def division(amount: Amount | None) -> Plain | None:
    """Return the smallest step of a gauge in SI units, and how it is said."""
    if amount is None:
        return None
    step = str(amount.unit.factor * amount.value)
    return {"quantity": amount.quantity, "step": step, "said": amount.text.strip()}


def known(amount: Amount) -> Plain:
    """Return a figure known beforehand: its ends and its value in its own unit."""
    ends = (amount.low, amount.high)
    low, high = (None if end is None else str(end) for end in ends)
    return {
        "unit": amount.unit.symbol,
        "quantity": amount.quantity,
        "low": low,
        "high": high,
        "value": str(amount.value),
        "places": amount.places,
        "text": amount.text,
    }


def units() -> list[Plain]:
    """Return every unit with its spellings, in the order in which quantities are tried."""
    spellings: dict[Unit, list[str]] = {}
    for of_quantity in UNITS.values():
        for spelling, unit in of_quantity.items():
            spellings.setdefault(unit, []).append(spelling)
    return [
        {
            "symbol": unit.symbol,
            "quantity": unit.quantity,
            "factor": str(unit.factor),
            "offset": str(unit.offset),
            "spellings": names,
        }
        for unit, names in spellings.items()
    ]


def no_units() -> list[list[str]]:
    """Return what looks like a unit of a quantity and is none, with what to say of it."""
    return [[*spelling, *words] for spelling, words in ASKED.items()]


def dimensions() -> dict[str, list[int]]:
    """Return the dimensions of the quantities that formulas may reckon with."""
    return {quantity: list(powers) for quantity, powers in QUANTITIES.items()}


def tree(node: Node) -> object:
    """Return a formula as nested lists: a number or a name as text, else sign, left and right.

    Examples
    --------
    >>> from sequencer.trade.formulas import read_formula
    >>> tree(read_formula("(bottom - top) / 2").tree)
    ['/', ['-', 'bottom', 'top'], '2']
    """
    if isinstance(node, Fraction | str):
        return str(node)
    return [node.sign, tree(node.left), tree(node.right)]
