"""A torque against the published most for its thread: many times that is a unit that slipped."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.basics import Band
from sequencer.trade.torque_checks import SLIP_FROM, UnitSlip, unit_meant
from sequencer.trade.torque_tables import over_published

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount
    from sequencer.trade.threads import Thread

_DECIMALS = 6  # so that a figure of exactly 6 times is that


def published_slip(amount: Amount, thread: Thread) -> UnitSlip | None:
    """Return how many times the published most a figure is, if that looks like another unit.

    The most for a tension nut by FAA AC 43.13-1B, table 7-1. Other bolts are stronger, but not 6
    times.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> from sequencer.trade.threads import read_thread
    >>> slip = published_slip(read_amount("50 ft-lb", ("torque",)), read_thread("1/4-28"))
    >>> round(slip.ratio, 6), slip.unit.symbol
    (6.0, 'in·lbf')
    """
    ratio = over_published(thread, amount.si)
    if ratio is None or round(ratio, _DECIMALS) < SLIP_FROM:
        return None
    most = amount.si / ratio
    return UnitSlip(ratio, unit_meant(amount, Band(most / SLIP_FROM, most)))
