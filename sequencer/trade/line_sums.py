"""Sums along the lines of a model, and what a check comes to that is reckoned from such."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import Amount
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from sequencer.trade.measuring import Limits, limits_of
from sequencer.trade.reckoning import results_of, shares
from sequencer.trade.spelt import spread
from sequencer.trade.stack import stack_up

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from sequencer.model.checking import Check, Reading
    from sequencer.model.common import Limit
    from sequencer.model.lines import Line, LinePlace
    from sequencer.model.units import Unit
    from sequencer.problem import Path
    from sequencer.trade.stack import StackUp


def sum_of_widths(line: Line) -> StackUp:
    """Return how long the places of a line are together, in metres.

    Raises
    ------
    TradeError
        If a place has no width, or one that is open at an end.

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
    return stack_up((1, width) for width in _widths(line))


def with_line_sums(check: Check, lines: Mapping[str, Line]) -> Check:
    """Return a check whose readings along lines are figures known beforehand, in the worst case.

    Parameters
    ----------
    check : Check
        The check.
    lines : mapping of str to Line
        The lines of the model by id.

    Raises
    ------
    TradeError
        As for `sum_of_widths`.
    """
    if not any(reading.line for reading in check.readings):
        return check
    readings = tuple(
        replace(reading, is_=_as_amount(lines[reading.line[0].to])) if reading.line else reading
        for reading in check.readings
    )
    return replace(check, readings=readings)


@dataclass(frozen=True, slots=True)
class KnownSum:
    """What a figure of a check comes to before anything is read: its name, limit, and the sum.

    `limit_path` is where the limit stands in the model, `readings` those that are added up.
    """

    name: str
    limit: Limit | None
    limit_path: Path
    readings: tuple[Reading, ...]
    total: StackUp


def known_sums(check: Check, lines: Mapping[str, Line]) -> Iterator[KnownSum]:
    """Yield each figure of a check that is a sum of lengths known beforehand, every one of them.

    Each width of a line counts by itself for the root-sum-square. What is read at the bench, is no
    length, or is no sum of readings, has none.

    Raises
    ------
    TradeError
        If a formula cannot be read, or as for `sum_of_widths`.
    """
    known = {reading.name: reading for reading in check.readings if reading.is_known}
    if not known:
        return
    wanted = [
        (one.name, shares(read_formula(one.text)), one.limit, one.limit_path)
        for one in results_of(check)
    ]
    here: Path = ("checks", check.id, "limit")
    for name, by_reading, limit, path in wanted or [
        (name, {name: Fraction(1)}, check.limit, here) for name in known
    ]:
        if not by_reading or not by_reading.keys() <= known.keys():
            continue
        used = tuple(known[one] for one in by_reading)
        sizes = [(by_reading[one.name], size) for one in used for size in _sizes(one, lines)]
        if all(size.quantity == "length" for _, size in sizes):
            yield KnownSum(name, limit, path, used, stack_up(sizes))


@dataclass(frozen=True, slots=True)
class Serving:
    """Where the one reading of a check may lie, in `unit`, for its result to keep the limit.

    In the worst case: wherever in their bands the known lengths are. The low end is above the
    high one where no reading serves.
    """

    name: str
    unit: Unit
    ends: Limits


def serving(check: Check, lines: Mapping[str, Line]) -> Serving | None:
    """Return where the one reading that is taken beside sums along lines serves.

    None where it is not the only thing to read, or the check has no line.

    Raises
    ------
    TradeError
        As for `known_sums`.
    """
    wanted, read = results_of(check), [one for one in check.readings if not one.is_known]
    if len(wanted) != 1 or len(read) != 1 or not any(one.line for one in check.readings):
        return None
    by_reading, limit = shares(read_formula(wanted[0].text)), wanted[0].limit
    if by_reading is None or limit is None or not by_reading.get(read[0].name):
        return None
    share = by_reading[read[0].name]
    sizes = [
        (by_reading.get(one.name, Fraction(0)), size)
        for one in check.readings
        for size in _sizes(one, lines)
    ]
    if limit.value.quantity != "length" or any(size.quantity != "length" for _, size in sizes):
        return None
    known, band = stack_up(sizes).worst, limits_of(limit.value)
    unit = limit.value.unit
    ends = [
        None if end is None or other is None else (end - other) / share / unit.factor
        for end, other in ((band.low, known.low), (band.high, known.high))
    ]
    return Serving(read[0].name, unit, Limits(*(ends if share > 0 else ends[::-1])))


def _sizes(reading: Reading, lines: Mapping[str, Line]) -> Iterable[Amount]:
    if reading.line:
        return _widths(lines[reading.line[0].to])
    return (reading.is_,) if reading.is_ is not None else ()


def _as_amount(line: Line) -> Amount:
    """Return the sum of a line as one figure, in the unit of its first width."""
    widths, total = _widths(line), sum_of_widths(line).worst
    unit = widths[0].unit
    low, high = ((end or 0) / unit.factor for end in (total.low, total.high))
    return Amount(spread(low, high, unit), unit, low, high, None, max(w.places for w in widths))


def _widths(line: Line) -> tuple[Amount, ...]:
    widths: list[Amount] = []
    for place in line.order:
        width = place.width
        if width is None:
            what = f"{_named(place)} of line `{line.id}` has no width"
            raise TradeError(what, "write its `width`, with a tolerance")
        if width.low is None or width.high is None:
            raise TradeError(
                f"the width of {_named(place)} is open at one end", "give both its ends"
            )
        widths.append(width)
    return tuple(widths)


def _named(place: LinePlace) -> str:
    return f"`{place.part[0].to}`" if place.part else "a shoulder"
