"""Steps sorted by what they ask of the hands: steps of one kind follow each other free of cost."""

from __future__ import annotations

from collections import defaultdict
from functools import reduce
from operator import and_
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.handling.cost import tool_sets
from sequencer.planning.masks import steps_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.planning.handling.cost import Attributes, Prices

NOWHERE = -1  # no position, or of no unit that is ever turned


class Kind(NamedTuple):
    """What a step asks: how which unit lies (both numbers), and what is in hand, as a set."""

    unit: int
    place: int
    things: int


class Kinds:
    """The kinds of all steps, each with its members.

    A step with alternative tools is a member of several kinds. Only what costs something is told
    apart: a unit that always lies the same way is never turned, and what has no price is no
    thing.

    Attributes
    ----------
    kinds : list of Kind
        Every kind, as first met.
    members : list of int
        The steps of each kind, as a set.
    of : list of tuple of int
        The kinds of each step.
    prices : list of int
        The price of each thing: a tool or a compound.
    turn : int
        The price of a turn.
    units : int
        How many units are ever turned; unit 0 is the one with the most steps in a position.
    """

    def __init__(self, steps: Sequence[Attributes], prices: Prices) -> None:
        self.turn = prices.turn
        self.prices: list[int] = []
        places = _places(steps) if prices.turn else {}
        self.units = len(places)
        numbers = {unit: number for number, unit in enumerate(places)}
        bits = self._things(steps, prices)
        found: dict[Kind, int] = {}
        self.members: list[int] = []
        self.of: list[tuple[int, ...]] = []
        for number, step in enumerate(steps):
            place = places.get(step.unit, {}).get(step.position, NOWHERE)
            unit = NOWHERE if place == NOWHERE else numbers[step.unit]
            compounds = _bits(bits["compound"], step.compounds)
            mine = {
                found.setdefault(Kind(unit, place, tools | compounds), len(found))
                for tools in dict.fromkeys(_bits(bits["tool"], used) for used in tool_sets(step))
            }
            self.of.append(tuple(sorted(mine)))
            self.members.extend([0] * (len(found) - len(self.members)))
            for kind in mine:
                self.members[kind] |= 1 << number
        self.kinds = list(found)
        self._priced: dict[int, int] = {}

    def _things(self, steps: Sequence[Attributes], prices: Prices) -> dict[str, dict[str, int]]:
        tools = (tool for step in steps for entry in step.tools for tool in entry)
        compounds = (compound for step in steps for compound in step.compounds)
        bits: dict[str, dict[str, int]] = {}
        for sort, names, price in (
            ("tool", tools, prices.tool),
            ("compound", compounds, prices.compound),
        ):
            known = dict.fromkeys(names) if price else {}
            bits[sort] = {name: 1 << at for at, name in enumerate(known, len(self.prices))}
            self.prices.extend([price] * len(known))
        return bits

    def floor(self) -> int:
        """Return what any order costs at least: each position taken, and all that must be used."""
        places: set[tuple[int, int]] = set()
        things = 0
        for kinds in self.of:
            mine = [self.kinds[kind] for kind in kinds]
            things |= reduce(and_, (kind.things for kind in mine))
            places.update(kind[:2] for kind in mine if kind.place != NOWHERE)
        return self.price(things) + self.turn * (len(places) - self.units)

    def price(self, things: int) -> int:
        """Return what it costs to take up a set of things."""
        price = self._priced.get(things)
        if price is None:
            price = sum(self.prices[thing] for thing in steps_in(things))
            self._priced[things] = price
        return price


def _bits(bits: dict[str, int], names: Iterable[str]) -> int:
    mask = 0
    for name in names:
        mask |= bits.get(name, 0)
    return mask


def _places(steps: Sequence[Attributes]) -> dict[str, dict[str, int]]:
    """Give a number to each position of a unit that is ever turned, the busiest unit first."""
    positions: defaultdict[str, dict[str, int]] = defaultdict(dict)
    count: defaultdict[str, int] = defaultdict(int)
    for step in steps:
        if step.position:
            known = positions[step.unit]
            known.setdefault(step.position, len(known))
            count[step.unit] += 1
    turned = [unit for unit, known in positions.items() if len(known) > 1]
    return {unit: positions[unit] for unit in sorted(turned, key=lambda unit: -count[unit])}
