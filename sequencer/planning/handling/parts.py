"""The handling split into parts whose least costs add up, and parts joined where that is cheap."""

from __future__ import annotations

from collections import Counter
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.handling.hands import View, whole_view
from sequencer.planning.handling.relaxed import Relaxed
from sequencer.planning.handling.turning import Turning
from sequencer.planning.masks import steps_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.handling.budget import Budget
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.rules import Rules

# Turns are counted, and orders looked for by their number, where a turn costs at least so many
# times what the dearest thing does; else a turn is priced like a thing.
_DEAR = 2

_FLOORS = 100  # one part in so many of the budget may go into one floor
_SMALL = 1000  # parts with more beginnings than this between them are not joined
_SPARSE = 8  # joining takes about the square of their beginnings, divided by this, in states


class Part(NamedTuple):
    """Some things, the turns of some units, and a share of the price of the busiest one's turns."""

    things: int
    units: tuple[int, ...]
    share: int

    def joined(self, other: Part) -> Part:
        """Return what both parts hold."""
        return Part(self.things | other.things, self.units + other.units, self.share + other.share)


class Parts:
    """The parts of the handling, each to be solved for itself.

    To begin with each thing is a part, and the turns of each unit but the busiest. What they cost
    at least adds up to what an order costs at least.

    Attributes
    ----------
    counted : bool
        Whether the turns of the busiest unit are counted instead of priced.
    fewest : int
        No order has fewer turns of it.
    whole : View
        The view of all that costs anything.
    floors : dict of Part to int
        What each part costs at least, however often the busiest unit is turned.
    """

    def __init__(self, rules: Rules, kinds: Kinds, budget: Budget) -> None:
        self._rules = rules
        self._kinds = kinds
        self._turning = Turning(rules, kinds, ways=True)
        self.fewest = self._turning.fewest
        self.fewer = Turning(rules, kinds, ways=False).fewest if rules.careful else self.fewest
        self.counted = kinds.units > 0 and kinds.turn >= _DEAR * max(kinds.prices, default=0)
        self.whole = whole_view(kinds, counted=self.counted)
        parts = [Part(1 << thing, (), 0) for thing in range(len(kinds.prices))]
        parts += [Part(0, (unit,), 0) for unit in self.whole.units[1:]]
        parts = parts or [Part(0, (), 0)]
        floors = [self._floor(part, budget) for part in parts]
        shares = _split(kinds.turn if kinds.units and not self.counted else 0, floors)
        self.floors = {
            part._replace(share=share): floor
            for part, share, floor in zip(parts, shares, floors, strict=True)
        }

    def _floor(self, part: Part, budget: Budget) -> int:
        turns = (self._kinds.turn,) * len(part.units)
        view = View(part.things, part.units, turns, counted=False)
        relaxed = Relaxed(self._rules, self._kinds, view, self._turning, 0, 0)
        relaxed.run(budget.share(_FLOORS))
        budget.spend(relaxed.worked)
        return relaxed.bound

    def relaxed(self, part: Part, limit: int) -> Relaxed:
        """Return a part of all orders with at most so many counted turns, not yet solved."""
        busiest = (0,) if self._kinds.units else ()
        turns = (part.share,) * len(busiest) + (self._kinds.turn,) * len(part.units)
        view = View(part.things, busiest + part.units, turns, self.counted)
        limit = limit if self.counted else 0
        return Relaxed(self._rules, self._kinds, view, self._turning, limit, limit - self.fewer)

    def wanted_together(self) -> list[tuple[int, int]]:
        """Return pairs of things, as sets of one, by how many steps want both; most first."""
        count: Counter[tuple[int, int]] = Counter()
        for kind, members in zip(self._kinds.kinds, self._kinds.members, strict=True):
            things = [1 << thing for thing in steps_in(kind.things)]
            for pair in combinations(things, 2):
                count[pair] += members.bit_count()
        return sorted(count, key=lambda pair: (-count[pair], pair))


def _split(total: int, floors: Sequence[int]) -> list[int]:
    """Split a total into whole numbers that stand to each other about as the floors do."""
    shares: list[int] = []
    left, rest = total, sum(floors) + len(floors)
    for floor in floors:
        share = left * (floor + 1) // rest
        shares.append(share)
        left, rest = left - share, rest - floor - 1
    return shares


class Solving:
    """The parts of all orders with at most so many counted turns, solved bit by bit.

    Once they are solved, parts that are wanted in the same steps are joined as long as they stay
    small together: seen as one they cost as much or more, but take more work.
    """

    def __init__(self, parts: Parts, limit: int) -> None:
        self._parts = parts
        self._limit = limit
        self._relaxed = {part: parts.relaxed(part, limit) for part in parts.floors}
        self._floors = dict(parts.floors)

    @property
    def solved(self) -> list[Relaxed]:
        """The parts, as far as they are solved."""
        return list(self._relaxed.values())

    @property
    def bound(self) -> int:
        """What an order costs at least, counted turns left aside."""
        return sum(
            max(relaxed.bound, self._floors[part]) for part, relaxed in self._relaxed.items()
        )

    @property
    def complete(self) -> bool:
        """Whether every part is solved to the end."""
        return all(relaxed.beyond is None for relaxed in self.solved)

    def work(self, states: int) -> int:
        """Go on solving for so many states; return how many have been looked at."""
        worked = 0
        for relaxed in self.solved:
            before = relaxed.worked
            relaxed.run(before + states - worked, to_the_end=True)
            worked += relaxed.worked - before
        return worked

    def join(self, states: int) -> int:
        """Join parts within so many states; return how many have been looked at."""
        worked = 0
        for one, other in self._parts.wanted_together():
            first, second = self._with(one), self._with(other)
            size = len(self._relaxed[first].found) + len(self._relaxed[second].found)
            guess = size * size // _SPARSE
            if first == second or size > _SMALL or guess > states - worked:
                continue
            joined = first.joined(second)
            relaxed = self._parts.relaxed(joined, self._limit)
            relaxed.run(states - worked, to_the_end=True)
            worked += relaxed.worked
            if relaxed.beyond is None:
                del self._relaxed[first], self._relaxed[second]
                self._relaxed[joined] = relaxed
                self._floors[joined] = self._floors[first] + self._floors[second]
        return worked

    def _with(self, thing: int) -> Part:
        return next(part for part in self._relaxed if part.things & thing)
