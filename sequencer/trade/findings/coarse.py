"""Figures of several readings that their gauges tell too coarsely for the limit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from sequencer.trade.line_sums import with_line_sums
from sequencer.trade.measuring import coarseness, limits_of
from sequencer.trade.reckoning import division_of, fineness, gauge_id, results_of
from sequencer.trade.spelt import spelt

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check, Reading
    from sequencer.model.fastening import Tool
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path, Severity
    from sequencer.trade.measuring import Limits

_TENTH = 10


def about_coarse_results(assembly: Assembly) -> Iterator[Problem]:
    """Yield what the readings of a check tell too coarsely: code `result-too-coarse`.

    What one gauge may be off by adds up over the readings of a result: two calipers that read
    0.02 mm tell a difference to 0.04 mm. A note above a tenth of the limit, a warning above a
    quarter; above the whole of it, with what figures known beforehand leave open, nothing can be
    told. A limit with one end that is a mark of the gauge is left alone: in or out shows on the
    gauge itself, as with a feeler blade.
    """
    tools = {tool.id: tool for tool in assembly.tools}
    lines = {line.id: line for line in assembly.lines}
    takers = {link.to: step.id for step in reversed(assembly.steps) for link in step.check}
    for asked in assembly.checks:
        try:
            check = with_line_sums(asked, lines)
        except TradeError:
            continue  # told as what cannot be reckoned
        for told in (*_single(check, tools), *_reckoned(check, tools)):
            finding = told.finding(takers.get(check.id))
            if finding is not None:
                yield finding


@dataclass(frozen=True, slots=True)
class _Told:
    """How finely one figure of a check is told, in SI units, beside its limit.

    `gauges` are the tools read, each with its path; `unsure` is how wide a band figures known
    beforehand leave open.
    """

    check: Check
    name: str
    step: Fraction
    unsure: Fraction
    limit: Amount
    limit_path: Path
    gauges: Mapping[str, tuple[Tool, Path]]

    def finding(self, at: str | None) -> Problem | None:
        """Return the finding, if the gauges are too coarse for it."""
        band = limits_of(self.limit)
        width = band.width
        grade = coarseness(self.step, band)
        if width is None or grade is None or _is_mark(self.step, band):
            return None
        if self.step + self.unsure > width:
            return self._told("warning", self._cannot(width), at)
        if grade == "fine":
            return None
        share = "a quarter" if grade == "too coarse" else "a tenth"
        message = f"{self._reads()}, more than {share} of the limit of {self._about()}, "
        message += f"which is {self._words(width)} wide"
        return self._told("warning" if grade == "too coarse" else "note", message, at)

    def _cannot(self, width: Fraction) -> str:
        many = "s" if len(self.gauges) > 1 else ""
        unsure = f", and {self._words(self.unsure)} is open beforehand" if self.unsure else ""
        return (
            f"{self._about()} cannot be told with this gauge{many}: {self._reads()}{unsure}, "
            f"and the limit is {self._words(width)} wide"
        )

    def _reads(self) -> str:
        names = " and ".join(f"`{name}`" for name in self.gauges)
        told = self._words(self.step)
        if not self.name and not self.check.compute:
            return f"{names} reads {told}"
        return f"with {names} the figure is told to {told}"

    def _about(self) -> str:
        result = f"result `{self.name}` of " if self.name else ""
        return f"{result}check `{self.check.id}`"

    def _words(self, value: Fraction) -> str:
        return spelt(value / self.limit.unit.factor, self.limit.unit)

    def _told(self, severity: Severity, message: str, at: str | None) -> Problem:
        width = limits_of(self.limit).width or Fraction(0)
        reads = (
            Fact(
                f"`{name}` reads {tool.reads.text.strip() if tool.reads else ''}",
                ("tools", name, "reads"),
            )
            for name, (tool, _) in self.gauges.items()
        )
        finer = self._words(width / _TENTH)
        return Problem(
            "result-too-coarse",
            severity,
            message,
            step=at,
            path=next(iter(self.gauges.values()))[1],
            facts=(*reads, Fact(f"the limit is `{self.limit.text.strip()}`", self.limit_path)),
            why="near an end of the limit, what is bad passes and what is good does not",
            fix=f"use what tells the figure to {finer}, a tenth of the limit"
            if not self.unsure
            else f"measure what is known beforehand, and tell the figure to {finer}",
        )


def _is_mark(step: Fraction, band: Limits) -> bool:
    """Tell whether a limit with one end is a whole number of divisions."""
    if (band.low is None) == (band.high is None):
        return False
    end = band.low if band.high is None else band.high
    return step > 0 and end is not None and (end / step).denominator == 1


def _single(check: Check, tools: Mapping[str, Tool]) -> Iterator[_Told]:
    """Yield each gauge of readings that are held against the limit as they stand."""
    if check.limit is None or results_of(check):
        return
    told: set[str] = set()
    for reading in check.readings:
        gauge = gauge_id(check, reading)
        division = division_of(tools, check, reading)
        if division is None or gauge in told or not _alike(division, check.limit.value):
            continue
        told.add(gauge)
        step = division.value * division.unit.factor
        limit_path: Path = ("checks", check.id, "limit")
        gauges = {gauge: (tools[gauge], _path(check, reading))}
        yield _Told(check, "", step, Fraction(0), check.limit.value, limit_path, gauges)


def _reckoned(check: Check, tools: Mapping[str, Tool]) -> Iterator[_Told]:
    """Yield each result that is reckoned from readings by a sum."""
    for wanted in results_of(check):
        if wanted.limit is None:
            continue
        try:
            formula = read_formula(wanted.text)
            fine = fineness(formula, check, tools)
        except TradeError:
            continue  # told as what cannot be reckoned
        limit = wanted.limit.value
        read = {
            reading: division
            for reading in check.readings
            if reading.name in formula.names and not reading.is_known
            if (division := division_of(tools, check, reading)) is not None
        }
        if fine is None or not read or not all(_alike(one, limit) for one in read.values()):
            continue
        gauges = {
            gauge_id(check, reading): (tools[gauge_id(check, reading)], _path(check, reading))
            for reading in read
        }
        yield _Told(check, wanted.name, fine.step, fine.unsure, limit, wanted.limit_path, gauges)


def _alike(division: Amount, limit: Amount) -> bool:
    return division.quantity == limit.quantity and division.value > 0


def _path(check: Check, reading: Reading) -> Path:
    here: Path = ("checks", check.id)
    if reading.with_:
        return (*here, "readings", reading.name, "with")
    return (*here, "with")
