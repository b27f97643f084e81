"""Gauges too coarse for the limits that they are read against."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.problem import Fact, Problem
from sequencer.trade.measuring import coarseness, limits_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.common import Limit
    from sequencer.model.fastening import Tool
    from sequencer.model.quantities import Amount
    from sequencer.problem import Severity

_RULE = "a tenth of the band is usual, and more than a quarter of it is no measurement"


def about_gauges(assembly: Assembly) -> Iterator[Problem]:
    """Yield checks whose gauge is divided too coarsely for the limit.

    Of a limit with one end only there is no band: its gauge must be able to show it at all.
    """
    tools = {tool.id: tool for tool in assembly.tools}
    for check in assembly.checks:
        gauge = tools.get(check.with_)
        if gauge is None or gauge.reads is None or check.limit is None or not check.measure:
            continue
        if gauge.reads.quantity == check.limit.value.quantity:
            yield from _about(check, check.limit, (gauge, gauge.reads))


def _about(check: Check, limit: Limit, gauge: tuple[Tool, Amount]) -> Iterator[Problem]:
    tool, reads = gauge
    division, limits = to_si(reads.value, reads.unit), limits_of(limit.value)
    if limits.low is not None and limits.high is not None:
        width = limits.high - limits.low
        how = coarseness(division, limits)
        if division >= width:
            yield _told(check, limit, tool, "warning", "so it cannot tell")
        elif how == "too coarse":
            yield _told(check, limit, tool, "warning", "too coarse for")
        elif how == "coarse":
            yield _told(check, limit, tool, "note", "coarse for")
    elif limits.high is not None and division > abs(limits.high):
        yield _told(check, limit, tool, "warning", "so it cannot tell")


def _told(check: Check, limit: Limit, tool: Tool, severity: Severity, what: str) -> Problem:
    typed = limit.value.text.strip()
    reads = tool.reads.text.strip() if tool.reads is not None else ""
    return Problem(
        "too-coarse",
        severity,
        f"`{tool.id}` reads {reads}, {what} {typed} of check `{check.id}`",
        path=("checks", check.id, "with"),
        facts=(
            Fact(f"the limit is {typed}", ("checks", check.id, "limit")),
            Fact(f"`{tool.id}` reads {reads}", ("tools", tool.id, "reads")),
        ),
        why="a figure inside the limit may be outside it in truth, and one outside inside",
        fix=f"use a finer gauge: {_RULE}",
    )
