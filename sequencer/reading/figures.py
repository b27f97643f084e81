"""Figures and torques from a model's text: the model's grammar, and what a bench adds to it."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from sequencer.model.fastening import TorqueValue
from sequencer.model.quantities import Amount, AmountError, read_amount
from sequencer.model.units import UNITS
from sequencer.problem import Problem
from sequencer.reading.decoding import named
from sequencer.reading.source import HIDDEN

if TYPE_CHECKING:
    from sequencer.model.fields import Figure

_ANY = tuple(UNITS)
_NEVER_BELOW_NOTHING = frozenset(("length", "mass", "time", "torque"))
_WHY = "a figure that cannot be read cannot be compared, nor printed in other units"
_BY_HAND = re.compile(r"(?:finger|hand)[ -]tight", re.IGNORECASE)
_THEN = re.compile(  # no run of spaces is gone through twice
    r"(?<!\s)\s*+,?\s*+\b(?:then|plus)\b\s*+|(?<!\s)\s*+\+\s*+(?=[0-9.,/ ]++(?:°|º|deg|turn))",
    re.IGNORECASE,
)


def read_figure(kind: Figure, text: str) -> Amount:
    """Return the figure that stands in a field of this kind.

    Raises
    ------
    AmountError
        If the text is no such figure, or is below nothing where that makes no sense.
    """
    amount = _amount(text, kind.quantities or _ANY, kind.limits)
    least = amount.low if amount.low is not None else amount.high
    if kind.quantities and amount.quantity in _NEVER_BELOW_NOTHING and least and least < 0:
        raise AmountError(f"`{text.strip()}` is less than nothing", "write it without the minus")
    return amount


def read_torque(text: str) -> TorqueValue:
    """Return a torque, a torque then an angle, or the words `finger tight`.

    Raises
    ------
    AmountError
        If the text is anything else.

    Examples
    --------
    >>> value = read_torque("40 N·m then 90°")
    >>> value.amount.si, value.angle.si
    (40.0, 90.0)
    >>> read_torque("finger tight").amount is None
    True
    """
    typed = text.strip()
    then = _THEN.search(text)
    first = text[: then.start()] if then else text
    amount = None if _BY_HAND.fullmatch(first.strip()) else _amount(first, ("torque",), True)
    least = None if amount is None else amount.high if amount.low is None else amount.low
    if least is not None and least <= 0:
        what = f"`{typed}` is no torque: it must be more than nothing"
        raise AmountError(what, "write the torque that is meant, or `finger tight`")
    angle = _angle(text, then.end()) if then else None
    return TorqueValue(text=typed, amount=amount, angle=angle)


def _angle(text: str, start: int) -> Amount:
    try:
        return _amount(text[start:], ("angle",), True)
    except AmountError as error:
        fix = "write the angle as `90°` or `1/4 turn`"
        raise AmountError(error.what, fix, start + error.start, error.width) from None


@lru_cache(maxsize=4096)
def _amount(text: str, quantities: tuple[str, ...], limits: bool) -> Amount:
    return read_amount(text, quantities, limits=limits)


def figure_problem(error: AmountError, text: str) -> tuple[Problem, int, int | None]:
    """Return the problem of a figure, and where in its text it lies: a start and a width."""
    for found in HIDDEN.finditer(text):
        if not found.group().isspace():
            message = f"the figure holds an unseen {named(found.group())}"
            problem = Problem(
                "hidden-character", "error", message, why=_WHY, fix="type the figure again"
            )
            return problem, found.start(), 1
    problem = Problem("figure", "error", error.what, why=_WHY, fix=error.fix)
    return problem, error.start, error.width
