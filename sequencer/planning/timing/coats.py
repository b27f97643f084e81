"""What lies on each surface along an order: cleaned, coated, closed, loaded, and when."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from itertools import chain
from math import inf
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.compounds import Compound
    from sequencer.problem import Path

_CLEANERS = ("clean", "degreas", "solvent")
_GROUNDS = ("primer", "activator", *_CLEANERS)


class Coat(NamedTuple):
    """A compound that a step puts on a surface.

    `closed` holds the turns that close the surface over it: all up to where the surface is
    cleaned or coated again after the first of them. `gone` is the turn that cleans it off.
    """

    step: int
    turn: int
    compound: Compound
    surface: str
    path: Path
    closed: tuple[int, ...]
    gone: float


class _Log:
    """The turns at which things are done to one surface."""

    def __init__(self) -> None:
        self.cleaned: list[int] = []
        self.coated: list[tuple[int, Compound, Path]] = []
        self.closed: list[int] = []
        self.loaded: list[int] = []


class Coats:
    """What an order does to the surfaces of a model; linear in the size of the model.

    Attributes
    ----------
    on : list of Coat
        Every coat, in the order of its turns. A cleaner put on in a step that also cleans the
        surface leaves none.
    of_surface, of_step : dict of str or int to list of Coat
        The same, of each surface and of each step.
    cleaned, loaded : dict of str to list of int
        For each surface, the turns at which it is cleaned, and those at which it is loaded.
    """

    def __init__(self, assembly: Assembly, order: Sequence[int]) -> None:
        self.compounds = {compound.id: compound for compound in assembly.compounds}
        logs: defaultdict[str, _Log] = defaultdict(_Log)
        for turn, number in enumerate(order):
            step = assembly.steps[number]
            for link in step.cleans:
                logs[link.to].cleaned.append(turn)
            for item, applied in enumerate(step.apply):
                named = [self.compounds.get(link.to) for link in applied.compound]
                for compound in filter(None, named):
                    for place, link in enumerate(applied.to):
                        path = ("steps", step.id, "apply", item, "to", place)
                        logs[link.to].coated.append((turn, compound, path))
            for link in step.closes:
                logs[link.to].closed.append(turn)
            for link in step.loads:
                logs[link.to].loaded.append(turn)
        self.cleaned = {surface: log.cleaned for surface, log in logs.items()}
        self.loaded = {surface: log.loaded for surface, log in logs.items()}
        of_surfaces = (_coats(surface, log, order) for surface, log in logs.items())
        self.on = sorted(chain.from_iterable(of_surfaces), key=lambda coat: coat.turn)
        self.of_surface: defaultdict[str, list[Coat]] = defaultdict(list)
        self.of_step: defaultdict[int, list[Coat]] = defaultdict(list)
        self._spoilers: defaultdict[str, set[str]] = defaultdict(set)
        self._spoiled: defaultdict[str, list[int]] = defaultdict(list)
        for coat in self.on:
            self.of_surface[coat.surface].append(coat)
            self.of_step[coat.step].append(coat)
            if spoils_cleaning(coat.compound):
                self._spoilers[coat.surface].add(coat.compound.id)
                self._spoiled[coat.surface].append(coat.turn)

    def last_cleaned(self, surface: str, turn: int) -> int | None:
        """Return the turn at which a surface was last cleaned, up to the one given."""
        return _last(self.cleaned.get(surface, []), turn)

    def last_spoiled(self, surface: str, turn: int) -> int | None:
        """Return the turn at which its cleaning was last undone, up to the one given."""
        return _last(self._spoiled[surface], turn)

    def spoiled_by(self, coat: Coat, since: int) -> Coat | None:
        """Return the first other compound put on from a turn on that undoes the cleaning for one.

        More of the same compound does not undo it.
        """
        if not self._spoilers[coat.surface] - {coat.compound.id}:
            return None
        for other in self.of_surface[coat.surface]:
            here = since <= other.turn < coat.turn and other.compound.id != coat.compound.id
            if here and spoils_cleaning(other.compound):
                return other
        return None


def _coats(surface: str, log: _Log, order: Sequence[int]) -> Iterable[Coat]:
    coated = [turn for turn, _, _ in log.coated]
    for turn, compound, path in log.coated:
        gone = _first(log.cleaned, turn + 1)
        if is_cleaner(compound) and _first(log.cleaned, turn) == turn:
            continue
        first = _first(log.closed, turn)
        again = _first(coated, first + 1)
        end = bisect_left(log.closed, min(gone, again))
        closed = tuple(log.closed[bisect_left(log.closed, turn) : end])
        yield Coat(order[turn], turn, compound, surface, path, closed, gone)


def _first(turns: Sequence[int], least: float) -> float:
    """Return the first of the turns from the one given; infinite if there is none."""
    at = bisect_left(turns, least)
    return turns[at] if at < len(turns) else inf


def _last(turns: Sequence[int], most: int) -> int | None:
    """Return the last of the turns up to the one given; None if there is none."""
    at = bisect_left(turns, most + 1)
    return turns[at - 1] if at else None


def is_cleaner(compound: Compound) -> bool:
    """Tell whether a compound takes dirt away, by what its `kind` says."""
    return any(word in compound.kind.lower() for word in _CLEANERS)


def spoils_cleaning(compound: Compound) -> bool:
    """Tell whether a surface with it on is no longer clean and dry: no cleaner, no primer."""
    return not any(word in compound.kind.lower() for word in _GROUNDS)


def excludes(one: Compound, other: Compound) -> Link | None:
    """Return the entry of `not_with` in the first compound that names the second, if any."""
    return next((link for link in one.not_with if link.to == other.id), None)
