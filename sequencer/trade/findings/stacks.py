"""Lengths known beforehand that, added up, may not come to what a check asks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import TradeError
from sequencer.trade.line_sums import known_sums
from sequencer.trade.measuring import Limits, limits_of
from sequencer.trade.spelt import spread
from sequencer.trade.stack import ASSUMED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.quantities import Amount
    from sequencer.trade.line_sums import KnownSum


def about_stacks(assembly: Assembly) -> Iterator[Problem]:
    """Yield sums of lengths that may not keep their limit: code `tolerance-stack`.

    The worst case is judged, then the root-sum-square; a sum of which anything is read at the
    bench is judged there.
    """
    lines = {line.id: line for line in assembly.lines}
    takers = {link.to: step.id for step in reversed(assembly.steps) for link in step.check}
    for check in assembly.checks:
        try:
            sums = tuple(known_sums(check, lines))
        except TradeError:
            continue  # told as what cannot be reckoned
        for one in sums:
            if one.limit is not None and one.limit.value.quantity == "length":
                yield from _judged(check, one, one.limit.value, takers.get(check.id))


def _judged(check: Check, one: KnownSum, limit: Amount, at: str | None) -> Iterator[Problem]:
    band = limits_of(limit)
    if _inside(one.total.worst, band):
        return
    about = f"result `{one.name}` of check `{check.id}`" if one.name else f"check `{check.id}`"
    worst, likely = (_told(ends, limit) for ends in (one.total.worst, one.total.likely))
    if _apart(one.total.worst, band):
        what = f"{about} cannot be met: its lengths come to {worst}"
    elif _inside(one.total.likely, band):
        what = f"{about} is met by root-sum-square, {likely}, and not in the worst case, {worst}"
    else:
        what = f"{about} may not be met: its lengths come to {worst} in the worst case, "
        what += f"and to {likely} by root-sum-square"
    yield Problem(
        "tolerance-stack",
        "warning",
        what,
        step=at,
        path=one.limit_path,
        facts=(Fact(f"the limit is `{limit.text.strip()}`", one.limit_path), *_lengths(check, one)),
        why="parts that are each good may not go together, and that shows when all are on; "
        f"root-sum-square takes it that {ASSUMED}",
        fix="mend the limit or a length, if one is wrong; else measure one of the lengths at the "
        "bench, and choose parts or shims by that",
    )


def _lengths(check: Check, one: KnownSum) -> Iterator[Fact]:
    for reading in one.readings:
        field = "line" if reading.line else "is"
        text = f"the widths along `{reading.line[0].to}`" if reading.line else ""
        if reading.is_ is not None:
            text = f"`{reading.is_.text.strip()}`"
        path = ("checks", check.id, "readings", reading.name, field)
        yield Fact(f"`{reading.name}` is {text}", path)


def _inside(ends: Limits, band: Limits) -> bool:
    return all(end is not None and band.holds(end) for end in (ends.low, ends.high))


def _apart(ends: Limits, band: Limits) -> bool:
    below = band.low is not None and ends.high is not None and ends.high < band.low
    above = band.high is not None and ends.low is not None and ends.low > band.high
    return below or above


def _told(ends: Limits, limit: Amount) -> str:
    factor = limit.unit.factor
    return spread((ends.low or 0) / factor, (ends.high or 0) / factor, limit.unit)
