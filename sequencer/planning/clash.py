"""Why no order exists: facts that alone admit none, while without any one of them they do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.planning.circles import shortest_circle
from sequencer.planning.decide import Decision, decide, has_order
from sequencer.planning.narrowed import narrowed, rules_among
from sequencer.planning.network import Group, Network, Obstacle, Relation
from sequencer.planning.peel import peel
from sequencer.planning.reasons import Reasons

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from sequencer.planning.network import Rule

MOST = 20
_STARTS = 64  # chains of reasons are sought from so many stuck steps
_WORTH_A_TRY = 3  # a chain so many times as long as the best clash is not shortened

_Code: TypeAlias = Literal["circle", "split-pair", "too-big", "no-order"]


@dataclass(frozen=True, slots=True)
class Clash:
    """Facts that cannot all hold, in the order to tell them in, and the steps they hold up."""

    code: _Code
    rules: tuple[Rule, ...]
    steps: tuple[int, ...]


def clashes(network: Network, decision: Decision) -> Iterator[Clash]:
    """Yield the deadlocks of a network, none of which shares a fact with another.

    Parameters
    ----------
    network : Network
        The rules.
    decision : Decision
        What `decide` found for that network.

    Yields
    ------
    Clash
        Irreducible: its facts alone admit no order, and without any one of them they do (or that
        could not be decided within the bound on work). At most 20 are given; after mending
        those, the rest show.

    Notes
    -----
    Each fact of a set that admits no order is left out in turn; where there is still none, it was
    not needed. Deadlocks that no clearing could undo come first, and for them a short set is
    sought: a way in that is too small, a circle at its shortest, then the smallest chain of
    reasons from any stuck step.
    """
    rules = list(network.rules())
    passing = [rule for rule in rules if isinstance(rule, Obstacle) and rule.clearers]
    stuck = decision.peeled.stuck
    if passing:
        everyone = range(len(network.ids))
        firm = _without(rules, passing)
        stuck = peel(narrowed(network, firm, everyone)).stuck
    found: list[Rule] = []
    for clash in _clashes_by_peeling(
        network, _without(rules_among(network, stuck), passing), stuck
    ):
        found.extend(clash.rules)
        yield clash
    if passing and not decision.undecided:
        yield from _clashes_by_search(network, _without(rules, found))


def _clashes_by_peeling(
    network: Network, rules: list[Rule], steps: frozenset[int]
) -> Iterator[Clash]:
    for _ in range(MOST):
        stuck = peel(narrowed(network, rules, steps)).stuck
        if not stuck:
            return
        names = sorted(steps)
        steps = frozenset(names[step] for step in stuck)
        found = _smallest(network, rules, steps)
        yield _named(network, found)
        rules = _without(rules, found)


def _clashes_by_search(network: Network, rules: list[Rule]) -> Iterator[Clash]:
    for _ in range(MOST):
        decision = decide(narrowed(network, rules, range(len(network.ids))))
        if not decision.grounds:
            return
        found = irreducible(decision.grounds, lambda some: not has_order(network, some))
        yield _named(network, found)
        rules = _without(rules, found)


def _without(rules: Iterable[Rule], found: Iterable[Rule]) -> list[Rule]:
    gone = set(map(id, found))
    return [rule for rule in rules if id(rule) not in gone]


def _smallest(network: Network, rules: list[Rule], steps: frozenset[int]) -> list[Rule]:
    """Return an irreducible clash among the rules; the steps are stuck under them."""
    reasons = Reasons(network, rules, steps)
    too_big = reasons.too_big()
    if too_big is not None:
        return list(too_big)
    circle = shortest_circle([rule for rule in rules if isinstance(rule, Relation)], steps)
    if circle is not None:
        return list(circle.relations)
    best: list[Rule] = []
    for start in sorted(steps)[:_STARTS]:
        chain = reasons.chain(start)
        if not best or len(chain) < _WORTH_A_TRY * len(best):
            chain = irreducible(
                chain, lambda some: bool(peel(narrowed(network, some, steps)).stuck)
            )
            if not best or len(chain) < len(best):
                best = chain
    return best


def irreducible(rules: Sequence[Rule], admits_none: Callable[[list[Rule]], bool]) -> list[Rule]:
    """Leave out every fact without which there is still no order.

    Parameters
    ----------
    rules : sequence of Rule
        Facts under which no order exists.
    admits_none : callable
        Tells whether no order exists under some of them.

    Returns
    -------
    list of Rule
        A part of the rules under which no order exists, while without any one of them one does.

    Notes
    -----
    One call for each fact, after larger and larger pieces have been tried away at once.
    """
    kept = list(rules)
    piece = max(len(kept) // 2, 1)
    while True:
        at = 0
        while at < len(kept):
            rest = kept[:at] + kept[at + piece :]
            if admits_none(rest):
                kept = rest
            else:
                at += piece
        if piece == 1:
            return kept
        piece //= 2


def _named(network: Network, rules: list[Rule]) -> Clash:
    """Name a deadlock, and put its facts in the order to tell them in."""
    obstacles = [rule for rule in rules if isinstance(rule, Obstacle)]
    groups = [rule for rule in rules if isinstance(rule, Group)]
    if not obstacles and not groups:
        relations = [rule for rule in rules if isinstance(rule, Relation)]
        circle = shortest_circle(relations, range(len(network.ids)))
        if circle is not None:
            return Clash("circle", *circle)
    needs = {rule.need for rule in obstacles}
    for_good = not any(rule.blockers or rule.clearers for rule in obstacles)
    if len(obstacles) == len(rules) and len(needs) == 1 and for_good:
        return Clash("too-big", tuple(rules), (network.needs[needs.pop()].step,))
    code: _Code = "split-pair" if not obstacles and len(groups) == 1 else "no-order"
    return Clash(code, *_story(network, rules))


def _story(network: Network, rules: list[Rule]) -> tuple[tuple[Rule, ...], tuple[int, ...]]:
    """Walk from what is held to what holds it, from a step that has to be reached or is paired.

    Of one step, what shuts its ways is told first, then its group, then what must follow it.
    """
    held_by: dict[int, list[Rule]] = {}
    for kind in (Obstacle, Group, Relation):
        for rule in rules:
            if isinstance(rule, kind):
                for step in _held(network, rule):
                    held_by.setdefault(step, []).append(rule)
    hard_to_reach = [network.needs[rule.need].step for rule in rules if isinstance(rule, Obstacle)]
    paired = [step for rule in rules if isinstance(rule, Group) for step in rule.steps]
    told: dict[int, Rule] = {}
    steps: list[int] = []
    waiting = [
        *sorted(held_by, reverse=True),
        *sorted(paired, reverse=True),
        *sorted(hard_to_reach, reverse=True),
    ]
    while waiting and len(told) < len(rules):
        step = waiting.pop()
        if step not in steps:
            steps.append(step)
            told.update((id(rule), rule) for rule in held_by[step])
            targets = [target for rule in held_by[step] for target in _holders(rule)]
            waiting.extend(target for target in reversed(targets) if target in held_by)
    return tuple(told.values()), tuple(steps)


def _held(network: Network, rule: Rule) -> Iterable[int]:
    if isinstance(rule, Obstacle):
        return (network.needs[rule.need].step,)
    return rule.befores if isinstance(rule, Relation) else rule.steps


def _holders(rule: Rule) -> Iterable[int]:
    if isinstance(rule, Obstacle):
        return rule.blockers
    return rule.afters if isinstance(rule, Relation) else rule.steps
