"""The sum of the widths along a line of a model: worst case, and what is likely."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown
from sequencer.trade.stack import stack_up

if TYPE_CHECKING:
    from sequencer.model.lines import Line, LinePlace
    from sequencer.trade.stack import StackUp


def sum_of_widths(line: Line) -> StackUp | Unknown:
    """Return how long the places of a line are together, in metres.

    With `stack_up` a figure known beforehand can be taken from it, such as the depth of a bore.

    Returns
    -------
    StackUp or Unknown
        Or the words which place has no width.

    Examples
    --------
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.lines import Line, LinePlace
    >>> from sequencer.model.quantities import read_amount
    >>> widths = [read_amount(text, ("length",)) for text in ("15 mm ± 0.1", "20 mm ± 0.1")]
    >>> places = tuple(LinePlace(part=(Link("x", "part"),), width=width) for width in widths)
    >>> total = sum_of_widths(Line(id="spindle", order=places))
    >>> float(total.worst.low * 1000), float(total.worst.high * 1000)
    (34.8, 35.2)
    """
    lacking = [place for place in line.order if place.width is None]
    if lacking:
        return Unknown(f"{_named(lacking[0])} of line `{line.id}` has no width")
    for place in line.order:
        if place.width is not None and (place.width.low is None or place.width.high is None):
            return Unknown(f"the width of {_named(place)} is open at one end")
    return stack_up([(1, place.width) for place in line.order if place.width is not None])


def _named(place: LinePlace) -> str:
    return f"`{place.part[0].to}`" if place.part else "a shoulder"
