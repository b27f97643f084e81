"""Decide whether an order exists where things come off again or are barred for a while.

What is only ever shut can be peeled. An obstacle that is cleared again leaves a choice: the step
comes before what raises it, or after what clears it (or goes another way meanwhile). With every
choice made, nothing but shutting is left, and the peel is exact. Choices are made as written; each
time the peel sticks, the choices that its clash rests on cannot all stand, and one is turned over.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

from sequencer.planning.narrowed import narrowed, rules_among
from sequencer.planning.network import Need, Network, Obstacle, Relation, Way
from sequencer.planning.peel import Peeled, peel
from sequencer.planning.reasons import Reasons

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sequencer.planning.network import Rule

# How many peels one decision may take.
PEELS = 400
_STARTS = 4
_TURNS = 20_000  # how many choices may be turned over in one decision

# A choice is an obstacle that is cleared again, by its number; True means after it is cleared.
_Choices: TypeAlias = dict[int, bool]
_Nogood: TypeAlias = frozenset[tuple[int, bool]]


@dataclass(frozen=True, slots=True)
class Decision:
    """Whether an order exists, and if so one.

    Attributes
    ----------
    order : tuple of int or None
        A valid order; None if there is none, or none was found.
    peeled : Peeled
        The last peel: what is stuck under the choices made last.
    undecided : bool
        Whether the bound on work ended the search.
    grounds : tuple of Rule
        Facts under which no order exists; empty if one does or the search was cut short.
    """

    order: tuple[int, ...] | None
    peeled: Peeled
    undecided: bool = False
    grounds: tuple[Rule, ...] = ()


def decide(
    network: Network, ranks: Sequence[int] | None = None, most_peels: int = PEELS
) -> Decision:
    """Find a valid order, or that there is none.

    Parameters
    ----------
    network : Network
        The rules.
    ranks : sequence of int, optional
        For each step where it should stand; the default is the written order. If the order by
        rank is valid, it is the one found.
    most_peels : int
        Bound on the work; where it is reached the answer is `undecided`, never a wrong no.

    Returns
    -------
    Decision

    Notes
    -----
    One peel where nothing is cleared again. Otherwise a search directed by conflicts: every clash
    is kept as a set of choices that cannot all stand.
    """
    passing = [obstacle for obstacle in network.obstacles() if obstacle.clearers]
    if not passing:
        peeled = peel(network, ranks)
        grounds = tuple(rules_among(network, peeled.stuck))
        return Decision(None if peeled.stuck else peeled.order, peeled, grounds=grounds)
    return _Search(network, ranks, passing).run(most_peels)


class _WorkSpentError(Exception):
    """The bound on work is reached."""


class _Search:
    def __init__(
        self, network: Network, ranks: Sequence[int] | None, passing: list[Obstacle]
    ) -> None:
        self.network = network
        self.ranks = range(len(network.ids)) if ranks is None else ranks
        self.passing = passing
        self.number = {id(obstacle): number for number, obstacle in enumerate(passing)}
        self.forced = {
            number: False
            for number, obstacle in enumerate(passing)
            if self._step(obstacle) in obstacle.clearers
        }
        self.wanted = {number: self._as_ranked(one) for number, one in enumerate(passing)}
        self.nogoods: list[_Nogood] = []
        self.grounds: dict[int, Rule] = {}
        self.turns = _TURNS

    def _step(self, obstacle: Obstacle) -> int:
        return self.network.needs[obstacle.need].step

    def _as_ranked(self, obstacle: Obstacle) -> bool:
        step = self._step(obstacle)
        if step in obstacle.clearers:
            return False
        return all(self.ranks[other] < self.ranks[step] for other in obstacle.clearers)

    def run(self, most_peels: int) -> Decision:
        choices: _Choices | None = dict(self.wanted)
        peeled = Peeled((), frozenset())
        for _ in range(most_peels):
            fixed, made_of = self._fixed(choices or {})
            peeled = peel(fixed, self.ranks)
            if not peeled.stuck:
                return Decision(peeled.order, peeled)
            self._learn(fixed, peeled, made_of, choices or {})
            try:
                choices = self._settle(dict(self.wanted), set(self.forced))
            except _WorkSpentError:
                break
            if choices is None:
                return Decision(None, peeled, grounds=tuple(self.grounds.values()))
        return Decision(None, peeled, undecided=True)

    def _fixed(self, choices: Mapping[int, bool]) -> tuple[Network, dict[int, int]]:
        """Return the network with every choice made, and which facts in it come of which choice."""
        made_of: dict[int, int] = {}
        relations = list(self.network.relations)
        needs: list[Need] = []
        for need in self.network.needs:
            ways: list[Way] = []
            for way in need.ways:
                standing: list[Obstacle] = []
                for obstacle in way.obstacles:
                    number = self.number.get(id(obstacle), -1)
                    if number < 0:
                        standing.append(obstacle)
                    elif choices[number]:
                        relations.append(_after_cleared(obstacle, need.step))
                        made_of[id(relations[-1])] = number
                    else:
                        standing.append(obstacle._replace(clearers=()))
                        made_of[id(standing[-1])] = number
                ways.append(Way(way.name, tuple(standing)))
            needs.append(need._replace(ways=tuple(ways)))
        fixed = replace(self.network, relations=tuple(relations), needs=tuple(needs))
        return fixed, made_of

    def _learn(
        self, fixed: Network, peeled: Peeled, made_of: Mapping[int, int], choices: _Choices
    ) -> None:
        """Keep a set of choices that cannot all stand, and the facts that say so."""
        rules = rules_among(fixed, peeled.stuck)
        reasons = Reasons(fixed, rules, peeled.stuck)
        best: list[Rule] | None = None
        involved = 0
        for start in sorted(peeled.stuck)[:_STARTS]:
            chain = reasons.chain(start)
            count = sum(id(rule) in made_of for rule in chain)
            if best is None or count < involved:
                best, involved = chain, count
        numbers = {made_of[id(rule)] for rule in best or () if id(rule) in made_of}
        self.nogoods.append(frozenset((number, choices[number]) for number in numbers))
        for rule in best or ():
            number = made_of.get(id(rule), -1)
            whole: Rule = rule if number < 0 else self.passing[number]
            self.grounds[id(whole)] = whole

    def _settle(self, choices: _Choices, fixed: set[int]) -> _Choices | None:
        """Return the choices, turned over so that they break with every set known not to stand."""
        self.turns -= 1
        if self.turns < 0:
            raise _WorkSpentError
        broken = next(
            (
                nogood
                for nogood in self.nogoods
                if all(choices[number] == value for number, value in nogood)
            ),
            None,
        )
        if broken is None:
            return choices
        held = set(fixed)
        for number, value in sorted(broken):
            if number not in held:
                found = self._settle({**choices, number: not value}, held | {number})
                if found is not None:
                    return found
                held.add(number)
        return None


def _after_cleared(obstacle: Obstacle, step: int) -> Relation:
    return Relation(
        obstacle.clearers, (step,), "cleared", "part", obstacle.part, obstacle.path, obstacle.why
    )


def has_order(network: Network, rules: Iterable[Rule]) -> bool:
    """Tell whether an order may exist under these facts alone; True where that is undecided."""
    some = narrowed(network, rules, range(len(network.ids)))
    decision = decide(some)
    return decision.order is not None or decision.undecided
