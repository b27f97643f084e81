"""Computed checks: arithmetic over readings, with units checked and the worst-case spread."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.quantities import to_si
from sequencer.trade.basics import TradeError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.model.quantities import Amount
    from sequencer.trade.formulas import Formula, Node

_BASES = ("length", "mass", "time", "rotation", "current", "voltage", "angle")
Dimensions: TypeAlias = tuple[int, ...]
_NONE: Dimensions = (0,) * len(_BASES)


def _dimensions(**powers: int) -> Dimensions:
    return tuple(powers.get(base, 0) for base in _BASES)


QUANTITIES: dict[str, Dimensions] = {
    "number": _NONE,
    "ratio": _NONE,
    "length": _dimensions(length=1),
    "volume": _dimensions(length=3),
    "mass": _dimensions(mass=1),
    "time": _dimensions(time=1),
    "angle": _dimensions(angle=1),
    "rotation": _dimensions(rotation=1),
    "force": _dimensions(length=1, mass=1, time=-2),
    "torque": _dimensions(length=2, mass=1, time=-2),
    "pressure": _dimensions(length=-1, mass=1, time=-2),
    "current": _dimensions(current=1),
    "voltage": _dimensions(voltage=1),
    "resistance": _dimensions(voltage=1, current=-1),
}
"""The dimensions of each quantity that can be reckoned with, over `_BASES`.

A plain number has none. Temperatures are absolute, so that sums of them mean nothing,
and are left out.
"""

_MOST_UNSURE = 12


@dataclass(frozen=True, slots=True)
class Result:
    """What a formula gives, in SI units: the value, and its ends by the spreads of the inputs."""

    value: Fraction
    low: Fraction
    high: Fraction

    @property
    def spread(self) -> Fraction:
        """How far the value may be wrong, either way."""
        return max(self.high - self.value, self.value - self.low)


def check_formula(formula: Formula, quantities: Mapping[str, str], wanted: str) -> None:
    """Check that a formula reckons with like things and gives the quantity that is wanted.

    Parameters
    ----------
    formula : Formula
        The formula.
    quantities : mapping of str to str
        The quantity of each reading, such as ``{"face": "length"}``.
    wanted : str
        The quantity of the limit.

    Raises
    ------
    TradeError
        If a name is no reading, a quantity cannot be reckoned with, unlike things are added, or
        the result is of another quantity than the limit.
    """
    found = _dimensions_of(formula.tree, quantities, formula.text.strip())
    if wanted not in QUANTITIES:
        raise _not_reckoned(wanted, formula.text.strip())
    if found != QUANTITIES[wanted]:
        gives = next((q for q, dimensions in QUANTITIES.items() if dimensions == found), "")
        what = f"`{formula.text.strip()}` gives {_a(gives)}, where the limit is {_a(wanted)}"
        raise TradeError(what, "mend the formula, or the unit of the limit or of a reading")


def _a(quantity: str) -> str:
    if not quantity:
        return "something with no name here"
    return f"{'an' if quantity[0] in 'aeiou' else 'a'} {quantity}"


def _not_reckoned(quantity: str, where: str) -> TradeError:
    return TradeError(
        f"{_a(quantity)} cannot be reckoned with, in `{where}`",
        "reckon with lengths, masses, times, forces, torques, pressures or plain numbers",
    )


def _dimensions_of(node: Node, quantities: Mapping[str, str], where: str) -> Dimensions:
    if isinstance(node, Fraction):
        return _NONE
    if isinstance(node, str):
        if node not in quantities:
            raise TradeError(
                f"`{node}` in `{where}` is not a reading of this check",
                f"use {' or '.join(f'`{name}`' for name in quantities) or 'a reading'}",
            )
        if quantities[node] not in QUANTITIES:
            raise _not_reckoned(quantities[node], where)
        return QUANTITIES[quantities[node]]
    left = _dimensions_of(node.left, quantities, where)
    right = _dimensions_of(node.right, quantities, where)
    if node.sign in ("+", "-"):
        if left != right:
            raise TradeError(
                f"`{where}` adds or takes away unlike things", "give both sides the same quantity"
            )
        return left
    turn = 1 if node.sign == "*" else -1
    return tuple(one + turn * other for one, other in zip(left, right, strict=True))


def compute(formula: Formula, readings: Mapping[str, Amount], wanted: str) -> Result:
    """Return what a formula gives for readings as typed, with its worst-case spread.

    The spread is the worst over all corners of the readings' own bands (``25.03 mm ± 0.02``),
    which is exact where the result rises or falls steadily with each reading.

    Parameters
    ----------
    formula : Formula
        The formula.
    readings : mapping of str to Amount
        A figure for each name.
    wanted : str
        The quantity of the limit.

    Raises
    ------
    TradeError
        As for `check_formula`; if it divides by what is or may be nothing; if a reading is open
        at an end, or more than 12 readings carry a spread.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> from sequencer.trade.formulas import read_formula
    >>> typed = {"bore": "25.06 mm ± 0.02 mm", "journal": "25.02 mm ± 0.02 mm"}
    >>> figures = {name: read_amount(text, ("length",)) for name, text in typed.items()}
    >>> float(compute(read_formula("bore - journal"), figures, "length").spread * 1000)
    0.04
    """
    quantities = {name: amount.quantity for name, amount in readings.items()}
    check_formula(formula, quantities, wanted)
    bands = {name: _band(name, readings[name]) for name in formula.names}
    unsure = [name for name, (low, _, high) in bands.items() if low != high]
    if len(unsure) > _MOST_UNSURE:
        raise TradeError(
            f"more than {_MOST_UNSURE} readings with a spread in `{formula.text.strip()}`",
            "split it into several results",
        )
    sure = {name: middle for name, (_, middle, _) in bands.items()}
    value, signs = _value(formula, sure)
    corners = []
    for ends in product(*((bands[name][0], bands[name][2]) for name in unsure)):
        corner, corner_signs = _value(formula, sure | dict(zip(unsure, ends, strict=True)))
        if corner_signs != signs:
            raise _no_division(formula.text)
        corners.append(corner)
    return Result(value, min(value, *corners), max(value, *corners))


def _band(name: str, amount: Amount) -> tuple[Fraction, Fraction, Fraction]:
    if amount.low is None or amount.high is None:
        raise TradeError(f"the reading `{name}` is open at one end", "give the figure read")
    low, middle, high = (
        to_si(figure, amount.unit) for figure in (amount.low, amount.value, amount.high)
    )
    return low, middle, high


def _no_division(text: str) -> TradeError:
    return TradeError(
        f"`{text.strip()}` divides by what is or may be nothing",
        "check the readings below the line",
    )


def _value(formula: Formula, numbers: Mapping[str, Fraction]) -> tuple[Fraction, list[bool]]:
    """Return the value, and for each division whether what it divides by is above nothing."""
    signs: list[bool] = []

    def of(node: Node) -> Fraction:
        if isinstance(node, Fraction):
            return node
        if isinstance(node, str):
            return numbers[node]
        left, right = of(node.left), of(node.right)
        if node.sign == "/":
            if right == 0:
                raise _no_division(formula.text)
            signs.append(right > 0)
            return left / right
        if node.sign == "*":
            return left * right
        return left + right if node.sign == "+" else left - right

    return of(formula.tree), signs
