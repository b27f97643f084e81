"""Passes and positions of fasteners, as a model's author types them."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from sequencer.model.fastening import PassValue
from sequencer.model.fields import Figure
from sequencer.model.numerals import AmountError, Cursor
from sequencer.model.quantities import read_amount, to_si
from sequencer.problem import Problem
from sequencer.reading.figures import read_figure
from sequencer.reading.nodes import Scalar, Sequence
from sequencer.reading.plain import figure_fault, scalar_of, wrong_kind

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.fields import PassText, Points
    from sequencer.model.units import Unit
    from sequencer.problem import Path
    from sequencer.reading.binder import Binder
    from sequencer.reading.nodes import Node

_SHARE = re.compile(r"[0-9.,]+\s*%")
_BACK = re.compile(r"\s*(?:back\s+(?:off\s+)?|-\s?(?=[0-9]))", re.IGNORECASE)
_ANGLE_OR_TORQUE = Figure(("angle", "torque"), limits=True)
_ANGLE = Figure(("angle",), limits=True)
_PAIR = 2
_FULL = 100


def read_pass(binder: Binder, _kind: PassText, node: Node, path: Path) -> PassValue | None:
    """Return what one pass goes to: a share, a torque, an angle, or an angle back."""
    scalar = scalar_of(binder, node, path, "a pass is")
    if scalar is None:
        return None
    try:
        return _pass(scalar.text)
    except AmountError as error:
        figure_fault(binder, error, scalar, path)
        return None


def _pass(text: str) -> PassValue:
    typed = text.strip()
    if _SHARE.fullmatch(typed):
        cursor = Cursor(text)
        percent, _ = cursor.number()
        if not 0 < percent <= _FULL:
            what = f"`{typed}` is no share of a torque"
            raise AmountError(what, "write more than 0 % and at most 100 %")
        return PassValue(typed, share=percent / _FULL)
    cursor = Cursor(text)
    back = cursor.take(_BACK)
    if back:
        angle = read_figure(_ANGLE, " " * cursor.at + text[cursor.at :])
        return PassValue(typed, angle=angle, back=True)
    amount = read_figure(_ANGLE_OR_TORQUE, text.removeprefix("+"))
    least = amount.low if amount.low is not None else amount.high
    if least is None or least <= 0:
        what = f"`{typed}` turns nothing: a pass goes to more than nothing"
        raise AmountError(what, "write a torque, an angle, or `back 180°`")
    if amount.quantity == "torque":
        return PassValue(typed, torque=amount)
    return PassValue(typed, angle=amount)


def read_points(
    binder: Binder, _kind: Points, node: Node, path: Path
) -> tuple[tuple[Fraction, Fraction], ...] | None:
    """Return where fasteners sit, right and up: in metres where units are typed."""
    if not isinstance(node, Sequence):
        binder.fault(_no_points(), node, path)
        return None
    points: list[tuple[Fraction, Fraction]] = []
    units: set[Unit | None] = set()
    for index, item in binder.items(node, path):
        here = (*path, index)
        numbers = item.items if isinstance(item, Sequence) else ()
        if len(numbers) != _PAIR or not all(isinstance(number, Scalar) for number in numbers):
            binder.fault(_no_points(), item, here)
            return None
        point = []
        for number in numbers:
            read = _coordinate(binder, number, here)
            if read is None:
                return None
            point.append(read[0])
            units.add(read[1])
        points.append((point[0], point[1]))
    if len({unit is None for unit in units}) > 1:
        message = "some of these figures have a unit and some have none"
        fix = "give every one of them a unit, or none"
        why = "the pattern is drawn to scale from them"
        binder.fault(Problem("figure", "error", message, why=why, fix=fix), node, path)
        return None
    return tuple(points)


def _coordinate(binder: Binder, node: Node, path: Path) -> tuple[Fraction, Unit | None] | None:
    """Return a figure of a position: in metres with its unit, or a plain number."""
    if not isinstance(node, Scalar):
        return None
    try:
        cursor = Cursor(node.text)
        value, _ = cursor.signed()
        if not cursor.rest.strip():
            return value, None
        amount = read_amount(node.text, ("length",), limits=False)
    except AmountError as error:
        figure_fault(binder, error, node, path)
        return None
    return to_si(amount.value, amount.unit), amount.unit


def _no_points() -> Problem:
    return wrong_kind(
        "a list of positions is wanted here, each two figures in brackets",
        "write it like `[[0, 0], [40, 0], [40, 25]]`: how far right, and how far up",
    )
