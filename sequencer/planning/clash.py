"""Why no order exists: facts that alone admit none, while without any one of them they do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from sequencer.planning.circles import shortest_circle
from sequencer.planning.narrowed import narrowed, rules_among
from sequencer.planning.network import Group, Network, Obstacle, Relation
from sequencer.planning.peel import Peeled, peel
from sequencer.planning.reasons import Reasons

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.network import Rule

MOST = 20
_STARTS = 64


@dataclass(frozen=True, slots=True)
class Clash:
    """Facts that cannot all hold, in the order to tell them in, and the steps they hold up."""

    code: Literal["circle", "split-pair", "too-big", "no-order"]
    rules: tuple[Rule, ...]
    steps: tuple[int, ...]


def clashes(network: Network, peeled: Peeled) -> Iterator[Clash]:
    """Yield the deadlocks of a network, none of which shares a fact with another.

    Parameters
    ----------
    network : Network
        The rules.
    peeled : Peeled
        The outcome of peeling that network.

    Yields
    ------
    Clash
        Irreducible: its facts alone admit no order, and without any one of them they do. At most
        20 are given; after mending those, the rest show.

    Notes
    -----
    A short clash is sought first: a way in that is too small, a circle at its shortest, then the
    smallest chain of reasons from any stuck step. Each fact of a chain is left out in turn; what
    is still stuck without it never needed it.
    """
    rules = rules_among(network, peeled.stuck)
    steps: frozenset[int] = peeled.stuck
    for _ in range(MOST):
        if not steps:
            return
        part = narrowed(network, rules, steps)
        peeled = peel(part)
        if not peeled.stuck:
            return
        names = sorted(steps)
        steps = frozenset(names[step] for step in peeled.stuck)
        found = _smallest(network, rules, steps)
        yield _told(network, found)
        chosen = set(map(id, found))
        rules = [rule for rule in rules if id(rule) not in chosen]


def _smallest(network: Network, rules: list[Rule], steps: frozenset[int]) -> list[Rule]:
    """Return an irreducible clash among the rules; the steps are stuck under them."""
    reasons = Reasons(network, rules, steps)
    too_big = reasons.too_big()
    if too_big is not None:
        return too_big
    circle = shortest_circle([rule for rule in rules if isinstance(rule, Relation)], steps)
    if circle is not None:
        return list(circle)
    best: list[Rule] | None = None
    for start in sorted(steps)[:_STARTS]:
        chain = reasons.chain(start)
        if best is None or len(chain) < 3 * len(best):
            chain = irreducible(network, chain, steps)
            if best is None or len(chain) < len(best):
                best = chain
    if best is None:
        raise RuntimeError("steps are stuck and nothing holds them")
    return best


def irreducible(network: Network, rules: Sequence[Rule], steps: Iterable[int]) -> list[Rule]:
    """Leave out every fact without which the steps are still stuck.

    Parameters
    ----------
    network : Network
        Where the rules come from.
    rules : sequence of Rule
        Facts under which no order of the steps exists.
    steps : iterable of int
        The steps.

    Returns
    -------
    list of Rule
        A part of the rules under which no order exists, while without any one of them one does.

    Notes
    -----
    One peel for each fact, after larger and larger pieces have been tried away at once.
    """
    steps = frozenset(steps)
    kept = list(rules)
    piece = max(len(kept) // 2, 1)
    while True:
        at = 0
        while at < len(kept):
            rest = kept[:at] + kept[at + piece :]
            if peel(narrowed(network, rest, steps)).stuck:
                kept = rest
            else:
                at += piece
        if piece == 1:
            return kept
        piece = max(piece // 2, 1)


def _told(network: Network, rules: list[Rule]) -> Clash:
    """Put the facts in the order to tell them in, and name the deadlock."""
    obstacles = [rule for rule in rules if isinstance(rule, Obstacle)]
    groups = [rule for rule in rules if isinstance(rule, Group)]
    relations = [rule for rule in rules if isinstance(rule, Relation)]
    story, steps = _story(network, rules)
    if not obstacles and not groups:
        along = shortest_circle(relations, steps) or tuple(relations)
        return Clash("circle", along, steps)
    if not obstacles and len(groups) == 1:
        return Clash("split-pair", story, steps)
    if len(obstacles) == len(rules) and not any(rule.blockers for rule in obstacles):
        return Clash("too-big", tuple(rules), (network.needs[obstacles[0].need].step,))
    return Clash("no-order", story, steps)


def _story(network: Network, rules: list[Rule]) -> tuple[tuple[Rule, ...], tuple[int, ...]]:
    """Walk from what is held to what holds it: first a step that has to be reached, if any."""
    held_by: dict[int, list[tuple[Rule, Iterable[int]]]] = {}
    for rule in rules:
        if isinstance(rule, Obstacle):
            step = network.needs[rule.need].step
            held_by.setdefault(step, []).insert(0, (rule, rule.blockers))
        elif isinstance(rule, Relation):
            for step in rule.befores:
                held_by.setdefault(step, []).append((rule, rule.afters))
        else:
            for step in rule.steps:
                held_by.setdefault(step, []).append((rule, rule.steps))
    reached_first = [network.needs[rule.need].step for rule in rules if isinstance(rule, Obstacle)]
    told: dict[int, Rule] = {}
    seen: dict[int, None] = {}
    waiting = sorted(held_by, reverse=True) + sorted(set(reached_first), reverse=True)[-1:]
    while waiting:
        step = waiting.pop()
        if step in seen or (len(told) == len(rules) and seen):
            continue
        seen[step] = None
        reasons = sorted(held_by.get(step, ()), key=lambda one: isinstance(one[0], Relation))
        for rule, _ in reasons:
            told.setdefault(id(rule), rule)
        targets = [target for _, targets in reasons for target in targets if target in held_by]
        waiting.extend(reversed(targets))
    return tuple(told.values()), tuple(step for step in seen if step in held_by)
