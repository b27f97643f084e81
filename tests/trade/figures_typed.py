"""Short ways to type figures in tests of the trade's numbers."""

from __future__ import annotations

from fractions import Fraction

from sequencer.model.quantities import Amount, read_amount


def torque(text: str) -> Amount:
    return read_amount(text, ("torque",))


def length(text: str) -> Amount:
    return read_amount(text, ("length",))


def angle(text: str) -> Amount:
    return read_amount(text, ("angle",))


def figure(text: str) -> Amount:
    """Read a figure of any quantity that a limit may have."""
    return read_amount(text, ("length", "angle", "force", "torque", "pressure", "time", "number"))


def exact(*texts: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(text) for text in texts)
