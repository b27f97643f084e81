"""Checks that reckon with readings: whether they can be reckoned at all, and then judged."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from sequencer.model.units import UNITS
from sequencer.problem import Fact, Problem
from sequencer.trade.arithmetic import check_formula
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from sequencer.trade.line_sums import with_line_sums
from sequencer.trade.reckoning import division_of, results_of, shares

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.fastening import Tool
    from sequencer.trade.formulas import Formula
    from sequencer.trade.reckoning import Wanted

_MOST_UNKNOWN, _MOST_TRIED = 2, 6


def about_formulas(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is wrong with what checks reckon: codes `formula`, `unused-reading`, `unjudged`.

    The quantity of a reading is known where its gauge states a division, or where it is a figure
    known beforehand. Where it is not, a formula is at fault only if no quantity would do.
    """
    tools = {tool.id: tool for tool in assembly.tools}
    lines = {line.id: line for line in assembly.lines}
    takers = _takers(assembly)
    for asked in assembly.checks:
        at = takers.get(asked.id)
        try:
            check = with_line_sums(asked, lines)
        except TradeError as error:
            yield _not_added(asked, error, at)
            continue
        if check.go or check.no_go:
            yield from _gauging(check, at)
        if check.readings or check.compute or check.results:
            yield from _reckoning(check, tools, at)


def _not_added(check: Check, error: TradeError, at: str | None) -> Problem:
    reading = next(reading for reading in check.readings if reading.line)
    path = ("checks", check.id, "readings", reading.name, "line")
    return Problem(
        "formula",
        "error",
        f"reading `{reading.name}` of check `{check.id}` cannot be added up: {error.what}",
        step=at,
        path=path,
        facts=(Fact(f"it is the sum along `{reading.line[0].to}`", path),),
        why="the builder would have no figure to hold against a limit",
        fix=error.fix,
    )


def _takers(assembly: Assembly) -> dict[str, str]:
    """Return for each check the first step that takes it."""
    return {link.to: step.id for step in reversed(assembly.steps) for link in step.check}


def _reckoning(check: Check, tools: Mapping[str, Tool], at: str | None) -> Iterator[Problem]:
    every = results_of(check)
    if not every:
        if check.limit is None:
            yield _unjudged(check, at)
        return
    used: set[str] = set()
    sound = True
    for wanted in every:
        try:
            formula = read_formula(wanted.text)
            _try(check, wanted, formula, tools)
        except TradeError as error:
            sound = False
            yield _not_reckoned(check, wanted, error, at)
            continue
        used.update(formula.names)
        if wanted.limit is None:
            yield _without_limit(check, wanted, at)
    for reading in check.readings if sound else ():
        if reading.name not in used:
            yield _unused(check, reading.name, at)


def _try(check: Check, wanted: Wanted, formula: Formula, tools: Mapping[str, Tool]) -> None:
    """Reckon with quantities only.

    Raises
    ------
    TradeError
        If that cannot be done, whatever the readings of unknown quantity measure.
    """
    known = _known(check, tools)
    likely = wanted.limit.value.quantity if wanted.limit is not None else ""
    names = {reading.name for reading in check.readings}
    unknown = [name for name in formula.names if name in names - set(known)]
    linear = shares(formula) is not None
    faults: list[TradeError] = []
    for tried in _quantities(0 if linear else len(unknown), likely):
        quantities = dict.fromkeys(names, likely or next(iter(known.values()), "length"))
        quantities |= known | dict(zip(unknown, tried, strict=False))
        fault = _fault(formula, quantities, (likely,) if likely else tuple(UNITS))
        if fault is None:
            return
        faults.append(fault)
    if set(formula.names) - names or linear or len(unknown) <= _MOST_UNKNOWN:
        raise faults[0]


def _known(check: Check, tools: Mapping[str, Tool]) -> dict[str, str]:
    """Return what readings measure, as far as the model tells."""
    known: dict[str, str] = {}
    for reading in check.readings:
        if reading.is_ is not None:
            if reading.is_.low is None or reading.is_.high is None:
                what = f"`{reading.name}` is `{reading.is_.text.strip()}`, open at one end"
                raise TradeError(what, "give both its ends, or one figure")
            known[reading.name] = reading.is_.quantity
        elif (division := division_of(tools, check, reading)) is not None:
            known[reading.name] = division.quantity
    return known


def _quantities(count: int, likely: str) -> Iterator[Sequence[str]]:
    """Yield what readings of unknown quantity may measure, the likeliest first.

    In a sum all measure what the limit does; where readings are multiplied, anything may do.
    """
    every = sorted(UNITS, key=lambda quantity: quantity != likely)
    if count <= _MOST_UNKNOWN:
        yield from product(every, repeat=count)
    else:
        yield from product((likely or "length", "number"), repeat=min(count, _MOST_TRIED))


def _fault(
    formula: Formula, quantities: Mapping[str, str], wanted: Sequence[str]
) -> TradeError | None:
    faults = []
    for quantity in wanted:
        try:
            check_formula(formula, quantities, quantity)
        except TradeError as error:
            faults.append(error)
        else:
            return None
    return faults[0]


def _about(check: Check, wanted: Wanted) -> str:
    return f"result `{wanted.name}` of check `{check.id}`" if wanted.name else f"check `{check.id}`"


def _not_reckoned(check: Check, wanted: Wanted, error: TradeError, at: str | None) -> Problem:
    hyphened = [reading.name for reading in check.readings if "-" in reading.name]
    cut = next((name for name in hyphened if name in wanted.text), "")
    facts = [Fact(f"it is reckoned as `{wanted.text.strip()}`", wanted.path)]
    if wanted.limit is not None:
        facts.append(Fact(f"its limit is `{wanted.limit.value.text.strip()}`", wanted.limit_path))
    return Problem(
        "formula",
        "error",
        f"{_about(check, wanted)} cannot be reckoned: {error.what}",
        step=at,
        path=wanted.path,
        facts=tuple(facts),
        why="the builder would have readings, and no figure to hold against a limit",
        fix=f"give reading `{cut}` a name without a hyphen, which reads as a minus"
        if cut
        else error.fix,
    )


def _without_limit(check: Check, wanted: Wanted, at: str | None) -> Problem:
    return Problem(
        "unjudged",
        "warning",
        f"{_about(check, wanted)} is reckoned, and nothing says what is good",
        step=at,
        path=wanted.path,
        facts=(Fact(f"it is reckoned as `{wanted.text.strip()}`", wanted.path),),
        why="the builder has a figure and no way to judge it",
        fix="write a `limit` for it, or leave it out",
    )


def _unjudged(check: Check, at: str | None) -> Problem:
    path = ("checks", check.id, "readings")
    names = " and ".join(f"`{reading.name}`" for reading in check.readings[:2])
    return Problem(
        "unjudged",
        "warning",
        f"check `{check.id}` has readings, and nothing says what is good",
        step=at,
        path=path,
        facts=(Fact(f"it reads {names}{' and more' if check.readings[2:] else ''}", path),),
        why="the builder has figures and no way to judge them",
        fix="write `compute` and a `limit`, or a `limit` alone that each reading must lie in",
    )


def _unused(check: Check, name: str, at: str | None) -> Problem:
    path = ("checks", check.id, "readings", name)
    return Problem(
        "unused-reading",
        "warning",
        f"reading `{name}` of check `{check.id}` stands in no formula",
        step=at,
        path=path,
        facts=tuple(Fact(f"`{one.text.strip()}`", one.path) for one in results_of(check)),
        why="it is taken for nothing, or a formula lacks it and gives the wrong figure",
        fix=f"put `{name}` into the formula that wants it, or take it out of `readings`",
    )


def _gauging(check: Check, at: str | None) -> Iterator[Problem]:
    """Yield a check by gauges that tells nothing, or half."""
    same = bool(check.go) and check.go.strip() == check.no_go.strip()
    if same:
        yield _gauged(
            check,
            at,
            f"check `{check.id}` names one gauge that must go in and must not, `{check.go}`",
            ("no part can pass, or whoever checks has to guess", "name the gauge of each end"),
        )
    elif check.limit is None and not (check.go and check.no_go):
        there, lacking = ("go", "no_go") if check.go else ("no_go", "go")
        does, other = ("must go in", "must not") if check.go else ("must not go in", "must")
        wrong = "large" if check.go else "small"
        yield _gauged(
            check,
            at,
            f"check `{check.id}` has a gauge that {does}, and none that {other}",
            (
                f"a hole that is too {wrong} passes as well",
                f"write `{lacking}` beside `{there}`, or a `limit`",
            ),
        )


def _gauged(check: Check, at: str | None, message: str, told: tuple[str, str]) -> Problem:
    field = "go" if check.go else "no_go"
    path = ("checks", check.id, field)
    facts = tuple(
        Fact(f"`{gauge}` {what}", ("checks", check.id, name))
        for name, gauge, what in (
            ("go", check.go, "must go in"),
            ("no_go", check.no_go, "must not go in"),
        )
        if gauge
    )
    return Problem(
        "unjudged", "warning", message, step=at, path=path, facts=facts, why=told[0], fix=told[1]
    )
