"""What the handling of an order costs: the single definition that everything else is held to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isfinite, lcm
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence


@dataclass(frozen=True, slots=True)
class Attributes:
    """What a step asks of the hands.

    Attributes
    ----------
    position : str
        How the unit has to lie; empty where it may lie as it does.
    tools : tuple of tuple of str
        The tools it needs; each entry names the alternatives, of which one will do.
    compounds : tuple of str
        What is put on.
    unit : str
        The unit it is done to; the position of each is remembered apart.
    """

    position: str = ""
    tools: tuple[tuple[str, ...], ...] = ()
    compounds: tuple[str, ...] = ()
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Weights:
    """Seconds for turning a unit over, for picking up a tool and for getting a compound ready."""

    turn: float = 120
    tool: float = 15
    compound: float = 20

    def __post_init__(self) -> None:
        if not all(isfinite(weight) and weight >= 0 for weight in self.each()):
            raise ValueError("a weight must be a number of seconds, not below 0")

    def each(self) -> tuple[float, float, float]:
        """Return the three weights: turn, tool, compound."""
        return self.turn, self.tool, self.compound


@dataclass(frozen=True, slots=True)
class Handling:
    """What an order asks of the hands: how often, and how long in all."""

    turns: int
    tools: int
    compounds: int
    seconds: float


class Prices:
    """The weights as whole numbers of one small part of a second, so that sums are exact."""

    def __init__(self, weights: Weights) -> None:
        exact = [Fraction(weight) for weight in weights.each()]
        self.per_second = lcm(*(weight.denominator for weight in exact))
        self.turn, self.tool, self.compound = (int(weight * self.per_second) for weight in exact)

    def of(self, handling: Handling) -> int:
        """Return the price of what an order asks of the hands."""
        return (
            handling.turns * self.turn
            + handling.tools * self.tool
            + handling.compounds * self.compound
        )

    def seconds(self, price: int) -> float:
        """Return a price in seconds; a whole number wherever it is one."""
        return float(Fraction(price, self.per_second))


def seconds_of(
    order: Sequence[int], steps: Sequence[Attributes], weights: Weights | None = None
) -> float:
    """Return the seconds that the handling of an order takes; see `handling_of`."""
    return handling_of(order, steps, weights).seconds


def handling_of(
    order: Sequence[int], steps: Sequence[Attributes], weights: Weights | None = None
) -> Handling:
    """Count turns, tools picked up and compounds got ready over an order.

    Parameters
    ----------
    order : sequence of int
        Steps by number, in the order in which they are done.
    steps : sequence of Attributes
        What each step asks, by its number.
    weights : Weights, optional
        What each costs.

    Returns
    -------
    Handling
        A unit is turned when a step asks for another position than the last one asked for of the
        same unit. A tool is picked up when the step before did not use it, a compound likewise.
        Of alternative tools those are taken with which the whole order costs least and, at the
        same cost, the fewest are picked up.

    Examples
    --------
    >>> steps = [
    ...     Attributes("upright", (("spanner",),)),
    ...     Attributes("", (("spanner", "socket"),), ("grease",)),
    ...     Attributes("on its side", (("socket",),)),
    ... ]
    >>> handling_of([0, 1, 2], steps)
    Handling(turns=1, tools=2, compounds=1, seconds=170.0)
    """
    prices = Prices(weights or Weights())
    turns = _turns(order, steps)
    compounds = 0
    last: tuple[str, ...] = ()
    held: dict[frozenset[str], int] = {frozenset(): 0}
    for step in order:
        held = _taken_up(held, steps[step])
        compounds += len({*steps[step].compounds}.difference(last))
        last = steps[step].compounds
    tools = min(held.values())
    price = turns * prices.turn + tools * prices.tool + compounds * prices.compound
    return Handling(turns, tools, compounds, prices.seconds(price))


def _turns(order: Sequence[int], steps: Sequence[Attributes]) -> int:
    lies: dict[str, str] = {}
    turns = 0
    for step in order:
        unit, position = steps[step].unit, steps[step].position
        if position:
            turns += lies.get(unit, position) != position
            lies[unit] = position
    return turns


def _taken_up(held: dict[frozenset[str], int], step: Attributes) -> dict[frozenset[str], int]:
    """Return the fewest tools picked up so far for each set of tools that the step may use."""
    return {
        tools: min(count + len(tools - before) for before, count in held.items())
        for tools in tool_sets(step)
    }


def tool_sets(step: Attributes) -> Iterator[frozenset[str]]:
    """Yield every set of tools that the step can be done with, each once, as written."""
    sets: dict[frozenset[str], None] = {frozenset(): None}
    for entry in step.tools:
        sets = {tools | {tool}: None for tools in sets for tool in entry} if entry else sets
    yield from sets
