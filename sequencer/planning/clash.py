"""Why no order exists: facts that alone admit none, while without any one of them they do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.planning.circles import shortest_circle
from sequencer.planning.narrowed import narrowed, rules_among
from sequencer.planning.network import Group, Network, Obstacle, Relation
from sequencer.planning.peel import Peeled, peel
from sequencer.planning.reasons import Reasons

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

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
        clash = _smallest(network, rules, steps)
        yield clash
        chosen = set(map(id, clash.rules))
        rules = [rule for rule in rules if id(rule) not in chosen]


def _smallest(network: Network, rules: list[Rule], steps: frozenset[int]) -> Clash:
    """Return an irreducible clash among the rules; the steps are stuck under them."""
    reasons = Reasons(network, rules, steps)
    too_big = reasons.too_big()
    if too_big is not None:
        return Clash("too-big", tuple(too_big), (network.needs[too_big[0].need].step,))
    circle = shortest_circle([rule for rule in rules if isinstance(rule, Relation)], steps)
    if circle is not None:
        return Clash("circle", *circle)
    best: list[Rule] = []
    for start in sorted(steps)[:_STARTS]:
        chain = reasons.chain(start)
        if not best or len(chain) < _WORTH_A_TRY * len(best):
            chain = irreducible(network, chain, steps)
            if not best or len(chain) < len(best):
                best = chain
    narrow = [rule for rule in best if isinstance(rule, Obstacle)]
    groups = [rule for rule in best if isinstance(rule, Group)]
    code: _Code = "split-pair" if not narrow and len(groups) == 1 else "no-order"
    return Clash(code, *_story(network, best))


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
