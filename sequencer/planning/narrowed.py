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
    if rule.clearers and chosen.isdisjoint(rule.clearers):
        return False
    return not rule.blockers or not chosen.isdisjoint(rule.blockers)


def narrowed(network: Network, rules: Iterable[Rule], steps: Iterable[int]) -> Network:
    """Return the network of the chosen steps in which only the given facts hold.

    The steps are numbered anew in their old order; a fact keeps what it says of the chosen steps
    and nothing else, and ways in that no fact speaks of stand open. What a step that is left out
    would raise is not raised, and what it would clear is cleared, as nothing binds that step.
    With all steps kept, needs and facts are those of the network itself.
    """
    kept = sorted(steps)
    renumber = {step: number for number, step in enumerate(kept)}
    whole = len(kept) == len(network.ids)
    cut = _Cut(renumber)
    relations: list[Relation] = []
    groups: list[Group] = []
    obstacles: dict[int, dict[int, list[Obstacle]]] = {}
    for rule in rules:
        if isinstance(rule, Relation):
            relations.extend(cut.relation(rule))
        elif isinstance(rule, Group):
            groups.append(rule if whole else rule._replace(steps=cut.steps(rule.steps)))
        else:
            ways = obstacles.setdefault(rule.need, {})
            ways.setdefault(rule.way, []).extend(cut.obstacle(rule))
    group_of = [-1] * len(kept)
    for number, group in enumerate(groups):
        for step in group.steps:
            group_of[step] = number
    numbers = range(len(network.needs)) if whole else obstacles
    needs = tuple(
        network.needs[number]._replace(
            step=renumber[network.needs[number].step],
            ways=_ways(network.needs[number], obstacles.get(number, {})),
        )
        for number in numbers
        if network.needs[number].step in renumber
    )
    ids = network.ids if whole else tuple(network.ids[step] for step in kept)
    index = network.index if whole else {name: number for number, name in enumerate(ids)}
    return Network(ids, index, tuple(relations), tuple(groups), needs, tuple(group_of))


class _Cut:
    """Cuts facts down to the steps that are kept; a fact that says the same stays the same."""

    def __init__(self, renumber: Mapping[int, int]) -> None:
        self.renumber = renumber

    def steps(self, steps: Steps) -> Steps:
        return tuple(self.renumber[step] for step in steps if step in self.renumber)

    def relation(self, rule: Relation) -> Iterable[Relation]:
        befores, afters = self.steps(rule.befores), self.steps(rule.afters)
        if (befores, afters) == (rule.befores, rule.afters):
            yield rule
        elif befores and afters:
            yield rule._replace(befores=befores, afters=afters)

    def obstacle(self, rule: Obstacle) -> Iterable[Obstacle]:
        blockers, clearers = self.steps(rule.blockers), self.steps(rule.clearers)
        if (blockers, clearers) == (rule.blockers, rule.clearers):
            yield rule
        elif (blockers or not rule.blockers) and (clearers or not rule.clearers):
            yield rule._replace(blockers=blockers, clearers=clearers)


def _ways(need: Need, shut: Mapping[int, list[Obstacle]]) -> tuple[Way, ...]:
    return tuple(Way(way.name, tuple(shut.get(number, ()))) for number, way in enumerate(need.ways))
