"""A network with only some of its rules, over only some of its steps: what a clash is sought in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.network import Group, Need, Network, Obstacle, Relation, Way

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.planning.network import Rule, Steps


def rules_among(network: Network, steps: Iterable[int]) -> list[Rule]:
    """Return the facts that narrow the choice among the steps, in the order they are written.

    A relation counts if it binds two of them (or one to itself), a group if it holds two, an
    obstacle if it shuts a way of one of them by itself or through another.
    """
    chosen = frozenset(steps)
    return [rule for rule in network.rules() if _binds(network, rule, chosen)]


def _binds(network: Network, rule: Rule, chosen: frozenset[int]) -> bool:
    if isinstance(rule, Group):
        return len(chosen.intersection(rule.steps)) > 1
    if isinstance(rule, Relation):
        return not chosen.isdisjoint(rule.befores) and not chosen.isdisjoint(rule.afters)
    if network.needs[rule.need].step not in chosen:
        return False
    return not rule.blockers or not chosen.isdisjoint(rule.blockers)


def narrowed(network: Network, rules: Iterable[Rule], steps: Iterable[int]) -> Network:
    """Return the network of the chosen steps in which only the given facts hold.

    The steps are numbered anew in their old order; a fact keeps what it says of the chosen steps
    and nothing else, and ways in that no fact speaks of stand open.
    """
    kept = sorted(steps)
    renumber = {step: number for number, step in enumerate(kept)}
    relations: list[Relation] = []
    groups: list[Group] = []
    obstacles: dict[int, dict[int, list[Obstacle]]] = {}
    for rule in rules:
        if isinstance(rule, Relation):
            befores, afters = _among(rule.befores, renumber), _among(rule.afters, renumber)
            if befores and afters:
                relations.append(rule._replace(befores=befores, afters=afters))
        elif isinstance(rule, Group):
            groups.append(rule._replace(steps=_among(rule.steps, renumber)))
        else:
            blockers = _among(rule.blockers, renumber)
            if blockers or not rule.blockers:
                ways = obstacles.setdefault(rule.need, {})
                ways.setdefault(rule.way, []).append(rule._replace(blockers=blockers))
    group_of = [-1] * len(kept)
    for number, group in enumerate(groups):
        for step in group.steps:
            group_of[step] = number
    needs = tuple(
        Need(renumber[network.needs[need].step], _ways(network.needs[need], shut))
        for need, shut in obstacles.items()
        if network.needs[need].step in renumber
    )
    ids = tuple(network.ids[step] for step in kept)
    index = {name: number for number, name in enumerate(ids)}
    return Network(ids, index, tuple(relations), tuple(groups), needs, tuple(group_of))


def _among(steps: Steps, renumber: Mapping[int, int]) -> Steps:
    return tuple(renumber[step] for step in steps if step in renumber)


def _ways(need: Need, shut: Mapping[int, list[Obstacle]]) -> tuple[Way, ...]:
    return tuple(Way(way.name, tuple(shut.get(number, ()))) for number, way in enumerate(need.ways))
