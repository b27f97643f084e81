"""`sequencer torque pattern`: the order for the fasteners of a circle, and for loosening them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, calculator

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.trade.patterns import Pattern

_RULE = "; pairs lie opposite, each far from what is done: common practice, no source"
_LEGACY = ", as quoted in two secondary sources"
_REVERSED = "loosening in reverse: one manual's worked case, as quoted in a secondary source"
_FEWEST, _MOST, _OF_HANDBOOK = 2, 500, 16


@click.command("pattern")
@click.argument("count", type=click.IntRange(_FEWEST, _MOST))
@calculator
def pattern_command(count: int) -> Answer:
    """Tell the order for COUNT fasteners on a circle, clockwise, and for loosening them."""
    from sequencer.trade.patterns import circle, handbook_circle_of_16

    patterns = [circle(count)]
    if count == _OF_HANDBOOK:
        patterns.append(handbook_circle_of_16())
    working = tuple(
        Working(
            "the turn of each fastener, clockwise, from the first",
            (_dashed(pattern.labels),),
            f"{pattern.name}{_further(pattern)}",
        )
        for pattern in patterns
    )
    values = {pattern.name: list(pattern.order) for pattern in patterns}
    lines = [line for pattern in patterns for line in _lines(pattern)]
    return Answer(tuple(lines), working, (_REVERSED,), values)


def _lines(pattern: Pattern) -> Iterator[str]:
    yield f"{pattern.name}:"
    yield f"  tighten {_dashed(pattern.order)}"
    yield f"  loosen  {_dashed(pattern.removal)}"


def _further(pattern: Pattern) -> str:
    if pattern.name.startswith("legacy"):
        return _LEGACY
    return "" if "figure" in pattern.name else _RULE


def _dashed(numbers: Sequence[int]) -> str:
    return "-".join(map(str, numbers))
