"""How sums along a line are printed: the worst case, and by root-sum-square what that assumes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.quantities import Amount
from sequencer.model.units import unit_for
from sequencer.sheets.figures import convert, printed_units
from sequencer.trade.basics import TradeError
from sequencer.trade.line_sums import known_sums, serving, sum_of_widths
from sequencer.trade.spelt import spread
from sequencer.trade.stack import ASSUMED

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.assembly import Prints
    from sequencer.model.checking import Check
    from sequencer.model.lines import Line
    from sequencer.model.units import Unit
    from sequencer.sheets.job import Job
    from sequencer.trade.measuring import Limits
    from sequencer.trade.stack import StackUp


def along(job: Job, line: Line) -> tuple[str, str]:
    """Return the sum of the widths along a line in the worst case, and in words what it is made of.

    Nothing and why not, where a width is not known.
    """
    try:
        total = sum_of_widths(line)
    except TradeError as error:
        return "", f"cannot be added up: {error.what}"
    unit, prints = _unit(line), job.assembly.prints
    widths = " + ".join(f"{name} {text}" for name, text in typed_widths(job, line))
    return _in_units(total.worst, unit, prints), f"{widths}. {_kinds(total, unit, prints)}"


def typed_widths(job: Job, line: Line) -> Iterator[tuple[str, str]]:
    """Yield what has its place along a line, and its width as typed."""
    for place in line.order:
        if place.width is not None:
            name = job.parts[place.part[0].to].label if place.part else "Shoulder"
            yield name, place.width.text.strip()


def worked_out(job: Job, check: Check) -> Mapping[str, tuple[str, str]]:
    """Return what results come to of which every length is known: the worst case, and in words.

    By the names of the results.
    """
    lines = {line.id: line for line in job.assembly.lines}
    prints = job.assembly.prints
    try:
        sums = tuple(known_sums(check, lines))
    except TradeError:
        return {}
    units = {
        one.name: one.limit.value.unit if one.limit is not None else unit_for("mm") for one in sums
    }
    return {
        one.name: (
            _in_units(one.total.worst, units[one.name], prints),
            _kinds(one.total, units[one.name], prints),
        )
        for one in sums
        if units[one.name].quantity == "length"
    }


def serves(job: Job, check: Check) -> tuple[str, str]:
    """Return the one reading taken beside a sum along a line, and in words where it serves."""
    try:
        found = serving(check, {line.id: line for line in job.assembly.lines})
    except TradeError:
        return "", ""
    if found is None:
        return "", ""
    ends = found.ends
    if ends.low is not None and ends.high is not None and ends.low > ends.high:
        return found.name, "No reading serves in the worst case."
    band = Amount("", found.unit, ends.low, ends.high)
    prints = job.assembly.prints
    first, *others = (convert(band, unit) for unit in printed_units(found.unit, prints))
    second = f" ({'; '.join(others)})" if others else ""
    return found.name, f"Serves at {first}{second}, whatever the rest is within its bands."


def _kinds(total: StackUp, unit: Unit, prints: Prints) -> str:
    """Say what the worst case is, and what the root-sum-square comes to and takes for granted."""
    if total.worst.low == total.worst.high:
        return "No tolerance is given."
    likely = _in_units(total.likely, unit, prints)
    return f"Worst case; by root-sum-square {likely}, if {ASSUMED}."


def _in_units(ends: Limits, typed: Unit, prints: Prints) -> str:
    first, *others = (
        spread((ends.low or 0) / unit.factor, (ends.high or 0) / unit.factor, unit)
        for unit in printed_units(typed, prints)
    )
    return f"{first} ({'; '.join(others)})" if others else first


def _unit(line: Line) -> Unit:
    return next(place.width.unit for place in line.order if place.width is not None)
