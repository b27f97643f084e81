"""What a check reckons: its results with their limits, and how finely each can be told."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.trade.basics import TradeError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.checking import Check, Reading
    from sequencer.model.common import Limit
    from sequencer.model.fastening import Tool
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path
    from sequencer.trade.formulas import Formula, Node


@dataclass(frozen=True, slots=True)
class Wanted:
    """One figure that a check reckons: its name (none if it is the only one), how, and its limit.

    `path` and `limit_path` are where the formula and the limit stand in the model.
    """

    name: str
    text: str
    limit: Limit | None
    path: Path
    limit_path: Path


def results_of(check: Check) -> tuple[Wanted, ...]:
    """Return what a check reckons, in the order written.

    A result without a limit of its own takes the check's, unless the check reckons a figure for
    that itself.
    """
    here: Path = ("checks", check.id)
    shared = None if check.compute else check.limit
    own = (
        (Wanted("", check.compute, check.limit, (*here, "compute"), (*here, "limit")),)
        if check.compute
        else ()
    )
    return (
        *own,
        *(
            Wanted(
                result.name,
                result.compute,
                result.limit or shared,
                (*here, "results", result.name, "compute"),
                (*here, "results", result.name, "limit") if result.limit else (*here, "limit"),
            )
            for result in check.results
        ),
    )


def gauge_id(check: Check, reading: Reading | None = None) -> str:
    """Return what a reading is taken with: its own gauge, else the check's."""
    return (reading.with_ if reading is not None else "") or check.with_


def division_of(
    tools: Mapping[str, Tool], check: Check, reading: Reading | None = None
) -> Amount | None:
    """Return the smallest division of the gauge, if the model says what that is."""
    tool = tools.get(gauge_id(check, reading))
    return tool.reads if tool is not None else None


def shares(formula: Formula) -> dict[str, Fraction] | None:
    """Return how far the result moves for a move of one in each reading.

    Returns
    -------
    dict or None
        None where that depends on the readings themselves, as in a product of two.

    Raises
    ------
    TradeError
        If something is divided by nothing.

    Examples
    --------
    >>> from sequencer.trade.formulas import read_formula
    >>> found = shares(read_formula("(bottom - top) / 2"))
    >>> {name: str(share) for name, share in found.items()}
    {'bottom': '1/2', 'top': '-1/2'}
    """
    found = _sum(formula.tree, formula.text.strip())
    if found is None:
        return None
    return {name: share for name, share in found.items() if name}


def _sum(node: Node, text: str) -> dict[str, Fraction] | None:
    """Return the share of each reading, and under no name what is added to them."""
    if isinstance(node, Fraction):
        return {"": node}
    if isinstance(node, str):
        return {node: Fraction(1)}
    left, right = _sum(node.left, text), _sum(node.right, text)
    if node.sign == "/" and right is not None and not any(right.values()):
        raise TradeError(f"`{text}` divides by nothing", "mend what stands below the line")
    if left is None or right is None:
        return None
    if node.sign in ("+", "-"):
        sign = 1 if node.sign == "+" else -1
        names = (*left, *(name for name in right if name not in left))
        return {name: left.get(name, Fraction(0)) + sign * right.get(name, 0) for name in names}
    if node.sign == "*" and not set(left) - {""}:
        left, right = right, left
    if set(right) - {""}:
        return None
    by = right.get("", Fraction(0))
    return {name: share * by if node.sign == "*" else share / by for name, share in left.items()}


@dataclass(frozen=True, slots=True)
class Fineness:
    """How finely a result is told, in SI units: by one division of each gauge, and what is unsure.

    `unsure` is how wide the band is that figures known beforehand leave open, whatever is read.
    """

    step: Fraction
    unsure: Fraction


def fineness(formula: Formula, check: Check, tools: Mapping[str, Tool]) -> Fineness | None:
    """Return how finely a result can be told; None where that depends on the readings.

    A reading whose gauge the model does not describe counts as exact.
    """
    by_reading = shares(formula)
    if by_reading is None:
        return None
    step, unsure = Fraction(0), Fraction(0)
    for reading, share in _read(check, by_reading):
        known = reading.is_
        if known is None:
            division = division_of(tools, check, reading)
            step += abs(share) * division.value * division.unit.factor if division else 0
        elif known.low is not None and known.high is not None:
            unsure += abs(share) * (known.high - known.low) * known.unit.factor
    return Fineness(step, unsure)


def _read(check: Check, by_reading: Mapping[str, Fraction]) -> Iterator[tuple[Reading, Fraction]]:
    for reading in check.readings:
        if reading.name in by_reading:
            yield reading, by_reading[reading.name]
