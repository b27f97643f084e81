"""Short ways to type figures in tests of the trade's numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.fastening import Grade, Joint, Torque, TorqueValue
from sequencer.model.quantities import Amount, read_amount
from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from sequencer.trade.basics import Unknown
    from sequencer.trade.torque_checks import TorqueCheck


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


def check_torque(text: str, thread: str, grade: str, surface: str) -> TorqueCheck | Unknown | None:
    """Check a torque against thread, grade and surface as a joint of a model has them."""
    value = TorqueValue(text=text, amount=torque(text))
    joint = Joint(
        id="joint",
        thread=thread,
        grade=Grade(name=grade),
        surface=surface,
        torque=Torque(value=value),
    )
    return bench_of(Assembly(assembly="unit", joints=(joint,), steps=())).worked(joint).check
