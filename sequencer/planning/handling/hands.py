"""What is in hand and how the units lie: what each next step costs, worked out once and kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from sequencer.planning.handling.kinds import NOWHERE, Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.planning.handling.kinds import Kinds

State: TypeAlias = tuple[tuple[int, ...], int]  # how each unit lies, and the things
Going: TypeAlias = tuple[int, int, int]  # turns, price, and the number of the state after it


class View(NamedTuple):
    """What of the handling is looked at: some things, and the turns of some units.

    Attributes
    ----------
    things : int
        The things that count, as a set.
    units : tuple of int
        The units whose position is remembered.
    turns : tuple of int
        The price of a turn of each of these units.
    counted : bool
        Whether turns of the first of them are counted instead of priced.
    """

    things: int
    units: tuple[int, ...]
    turns: tuple[int, ...]
    counted: bool


class _Row(dict[int, Going]):
    """How to go on from one state by each kind, worked out when first asked for."""

    def __init__(self, going: Callable[[State, int], Going], state: State) -> None:
        self._going = going
        self._state = state

    def __missing__(self, kind: int) -> Going:
        going = self[kind] = self._going(self._state, kind)
        return going


class Hands:
    """States of the hands, seen through a view, and the way from each to the next by a kind.

    Going forwards a state is what the last step left: how the units lie, and what it used. Going
    backwards it is what the next step asks for.

    Attributes
    ----------
    kinds, members : list
        The kinds as they look in this view, each with its steps.
    states : list of State
        Each state as met; number 0 is the empty one, before or after all steps.
    rows : list of dict
        For each state turns, price and next state by kind.
    """

    def __init__(self, kinds: Kinds, view: View, *, backwards: bool = False) -> None:
        self.view = view
        self._price = kinds.price
        self._backwards = backwards
        found: dict[Kind, int] = {}
        for kind, members in zip(kinds.kinds, kinds.members, strict=True):
            seen = self._seen(kind)
            found[seen] = found.get(seen, 0) | members
        self.kinds = list(found)
        self.members = list(found.values())
        self.states: list[State] = []
        self.rows: list[_Row] = []
        self._numbers: dict[State, int] = {}
        self._free: dict[int, int] = {}
        self._number(((NOWHERE,) * len(view.units), 0))

    def _seen(self, kind: Kind) -> Kind:
        things = kind.things & self.view.things
        if kind.unit not in self.view.units:
            return Kind(NOWHERE, NOWHERE, things)
        return Kind(self.view.units.index(kind.unit), kind.place, things)

    def _number(self, state: State) -> int:
        number = self._numbers.get(state)
        if number is None:
            number = self._numbers[state] = len(self.states)
            self.states.append(state)
            self.rows.append(_Row(self._going, state))
        return number

    def _going(self, state: State, number: int) -> Going:
        kind = self.kinds[number]
        places, things = state
        more = things & ~kind.things if self._backwards else kind.things & ~things
        turns, price = 0, self._price(more)
        if kind.place != NOWHERE:
            turns, extra = self._turned(kind.unit, places[kind.unit], kind.place)
            price += extra
            places = (*places[: kind.unit], kind.place, *places[kind.unit + 1 :])
        return turns, price, self._number((places, kind.things))

    def _turned(self, unit: int, lies: int, wanted: int) -> tuple[int, int]:
        """Return the turns and the price of laying a unit as wanted."""
        if lies == wanted or NOWHERE in (lies, wanted):
            return 0, 0
        if unit == 0 and self.view.counted:
            return 1, 0
        return 0, self.view.turns[unit]

    def free(self, number: int) -> int:
        """Return the steps that cost nothing in a state and leave it as it is, as a set."""
        free = self._free.get(number)
        if free is None:
            places, things = self.states[number]
            free = 0
            for kind, members in zip(self.kinds, self.members, strict=True):
                lies = kind.place == NOWHERE or places[kind.unit] == kind.place
                if lies and kind.things == things:
                    free |= members
            self._free[number] = free
        return free

    def joined(self, state: State, asked: State) -> tuple[int, int]:
        """Return the turns and the price of going on from a state to what is asked for next."""
        turns, price = 0, self._price(asked[1] & ~state[1])
        for unit, (lies, wanted) in enumerate(zip(state[0], asked[0], strict=True)):
            more, extra = self._turned(unit, lies, wanted)
            turns += more
            price += extra
        return turns, price

    def gap(self, state: State, other: State) -> tuple[int, int]:
        """Return the turns and the price by which what comes before two ends may differ.

        Whatever can be done before the second end can be done before the first for as much and
        this on top. Both ends hold the same steps.
        """
        return self.joined((state[0], other[1]), (other[0], state[1]))


def whole_view(kinds: Kinds, *, counted: bool = False) -> View:
    """Return the view of all that costs anything."""
    units = tuple(range(kinds.units))
    return View((1 << len(kinds.prices)) - 1, units, (kinds.turn,) * len(units), counted)


def narrowed(state: State, whole: View, part: View) -> State:
    """Return a state of a view as it looks in a view of part of it."""
    places = tuple(state[0][whole.units.index(unit)] for unit in part.units)
    return places, state[1] & part.things
