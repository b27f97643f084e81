"""What to set a torque wrench to when an adapter moves the fastener out of its line."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.trade.basics import TradeError

if TYPE_CHECKING:
    from sequencer.trade.basics import Number

_EXACT_COSINES = {
    0: Fraction(1),
    60: Fraction(1, 2),
    90: Fraction(0),
    120: Fraction(-1, 2),
    180: Fraction(-1),
}
_TURN, _HALF_TURN = 360, 180


@dataclass(frozen=True, slots=True)
class Adapter:
    """A crow-foot or the like: its length from square drive to fastener, and its angle.

    `length` is in the unit of the wrench's length and may be negative, which is the same as an
    angle of 180°: it points back along the handle. At 0° it lies in line, at 90° it changes
    nothing. The wrench's length goes from the drive to the middle of the grip.
    """

    length: Number
    angle_deg: float = 0.0

    @property
    def reach(self) -> Fraction:
        """How much longer the adapter makes the wrench: E·cos θ, in the unit of its length."""
        angle = abs(self.angle_deg) % _TURN
        angle = min(angle, _TURN - angle)
        cosine = _EXACT_COSINES.get(int(angle)) if angle == int(angle) else None
        if cosine is None:
            cosine = Fraction(math.cos(math.radians(angle)))
        return self.length * cosine


def wrench_setting(torque: Number, wrench_length: Number, adapter: Adapter) -> Fraction:
    """Return what to set, T·L/(L + E·cos θ), in the unit of the torque.

    The straight and reversed cases are printed in US Army TM 1-1500-204-23-9 and others, the
    unchanged square case in TM 9-2350-277-20-2; the cosine between is geometry. A published text
    that multiplies instead of adding (TM 9-254, angled extension) is wrong.

    Raises
    ------
    TradeError
        If the adapter reaches back to the grip or beyond, or the wrench has no length.

    Examples
    --------
    >>> wrench_setting(300, 18, Adapter(6)), wrench_setting(300, 18, Adapter(6, angle_deg=90))
    (Fraction(225, 1), Fraction(300, 1))
    """
    return torque * Fraction(wrench_length) / _whole_arm(wrench_length, adapter)


def true_torque(setting: Number, wrench_length: Number, adapter: Adapter) -> Fraction:
    """Return what a setting puts on the fastener, Tset·(L + E·cos θ)/L (US Army TM 9-254).

    Raises
    ------
    TradeError
        As for `wrench_setting`.
    """
    return setting * _whole_arm(wrench_length, adapter) / Fraction(wrench_length)


def correction_share(wrench_length: Number, adapter: Adapter) -> Fraction:
    """Return by what part of the torque the setting is changed; nothing at 90°.

    There is no adapter too short to matter: 1 in on a 10 in wrench is a ninth part. Compare this
    with the tolerance of the torque instead.

    Raises
    ------
    TradeError
        As for `wrench_setting`.
    """
    return 1 - wrench_setting(1, wrench_length, adapter)


def _whole_arm(wrench_length: Number, adapter: Adapter) -> Fraction:
    arm = wrench_length + adapter.reach
    if wrench_length <= 0 or arm <= 0:
        raise TradeError(
            "the adapter reaches back to the grip of the wrench",
            "give the wrench's length from drive to grip, and the adapter's in the same unit",
        )
    return Fraction(arm)
