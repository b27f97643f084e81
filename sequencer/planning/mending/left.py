"""What is left to do, or to take back, as a network of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.network import Group, Need, Network, Obstacle, Relation, Way

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.decide import Decision
    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Rule


class Left(NamedTuple):
    """A network of some steps, renumbered: `steps` gives their numbers in the whole.

    `whole` gives for each obstacle, by its id, the obstacle of the whole network.
    """

    network: Network
    steps: Sequence[int]
    whole: dict[int, Obstacle]

    def in_whole(self, order: Iterable[int]) -> list[int]:
        """Return steps of it by their numbers in the whole."""
        return [self.steps[number] for number in order]

    def raised(self, decision: Decision) -> Iterator[Obstacle]:
        """Yield, of the facts under which no order exists, the obstacles of the whole network."""
        for rule in decision.grounds:
            if isinstance(rule, Obstacle) and id(rule) in self.whole:
                yield self.whole[id(rule)]

    def rule_in_whole(self, rule: Rule) -> Rule:
        """Return a rule of it as the whole network has it, to be told."""
        if isinstance(rule, Obstacle):
            return self.whole[id(rule)]
        if isinstance(rule, Relation):
            befores, afters = self.in_whole(rule.befores), self.in_whole(rule.afters)
            return rule._replace(befores=tuple(befores), afters=tuple(afters))
        return rule._replace(steps=tuple(self.in_whole(rule.steps)))


def left_to_do(rules: Rules, staying: bytearray, steps: Sequence[int], kept: int = -1) -> Left:
    """Return the network of the steps that are left to do after those that stay.

    Parameters
    ----------
    rules : Rules
        The rules of the whole.
    staying : bytearray
        For each step 1 if it is done and stays.
    steps : sequence of int
        All that is left to do.
    kept : int
        The group that is half done and has to be carried on at once, or -1.
    """
    cut = _Cut(rules, staying, steps)
    groups = [
        group._replace(steps=cut.numbers(group.steps))
        for number, group in enumerate(rules.network.groups)
        if number != kept
    ]
    relations = cut.relations()
    if kept >= 0:
        first = cut.numbers(rules.network.groups[kept].steps)
        others = tuple(n for n in range(len(steps)) if n not in first)
        if first and others:
            relations.append(Relation(first, others, "now", "step", "", (), ""))
    return cut.whole_network(relations, [one for one in groups if len(one.steps) > 1])


def left_to_take_back(
    rules: Rules, staying: bytearray, steps: Sequence[int], in_trials: frozenset[int]
) -> Left:
    """Return the network in which orders are those of taking back, turned round.

    Only what must follow and the ways in count; steps of finished trials need no way. A step that
    must follow itself can still be taken back.
    """
    cut = _Cut(rules, staying, steps, no_way=in_trials, barred=False)
    relations = [one for one in cut.relations() if one.befores != one.afters or one.befores[1:]]
    return cut.whole_network(relations, [])


class _Cut:
    def __init__(
        self,
        rules: Rules,
        staying: bytearray,
        steps: Sequence[int],
        *,
        no_way: frozenset[int] = frozenset(),
        barred: bool = True,
    ) -> None:
        self.rules = rules
        self.staying = staying
        self.steps = steps
        self.no_way = no_way
        self.barred = barred
        self.number = {step: number for number, step in enumerate(steps)}
        self.whole: dict[int, Obstacle] = {}

    def numbers(self, steps: Iterable[int]) -> tuple[int, ...]:
        return tuple(self.number[step] for step in steps if step in self.number)

    def relations(self) -> list[Relation]:
        seen: dict[int, Relation] = {}
        for step in self.steps:
            seen.update((id(relation), relation) for relation in self.rules.as_after[step])
        found = []
        for relation in seen.values():
            befores, afters = self.numbers(relation.befores), self.numbers(relation.afters)
            alone = len(befores) == 1 and befores == afters and len(relation.befores) > 1
            if befores and afters and not alone:
                found.append(Relation(befores, afters, *relation[2:]))
        return found

    def whole_network(self, relations: list[Relation], groups: list[Group]) -> Left:
        group_of = [-1] * len(self.steps)
        for number, group in enumerate(groups):
            for step in group.steps:
                group_of[step] = number
        ids = tuple(self.rules.network.ids[step] for step in self.steps)
        network = Network(
            ids,
            {name: number for number, name in enumerate(ids)},
            tuple(relations),
            tuple(groups),
            tuple(self._needs()),
            tuple(group_of),
        )
        return Left(network, self.steps, self.whole)

    def _needs(self) -> Iterator[Need]:
        at = 0
        for step in self.steps:
            for number in () if step in self.no_way else self.rules.needs_of.get(step, ()):
                need = self.rules.network.needs[number]
                if not need.barred or self.barred:
                    ways = tuple(self._way(at, way) for way in need.ways)
                    yield Need(self.number[step], ways, need.barred)
                    at += 1

    def _way(self, need: int, way: Way) -> Way:
        found = []
        for obstacle in way.obstacles:
            cut = self._obstacle(need, obstacle)
            if cut is not None:
                self.whole[id(cut)] = obstacle
                found.append(cut)
        return Way(way.name, tuple(found))

    def _obstacle(self, need: int, obstacle: Obstacle) -> Obstacle | None:
        """Return what is left of an obstacle; None if it never stands."""
        staying = self.staying
        clearers: tuple[int, ...] = ()
        if obstacle.clearers:
            awaited = [step for step in obstacle.clearers if not staying[step]]
            if not awaited:
                return None
            clearers = self.numbers(awaited)
            if len(clearers) < len(awaited):
                clearers = ()
        blockers = obstacle.blockers
        if blockers:
            for step in blockers:
                if staying[step]:
                    blockers = ()
                    break
            else:
                blockers = self.numbers(blockers)
                if not blockers:
                    return None
        way, part, _, path, why, _ = obstacle[1:]
        return Obstacle(need, way, part, blockers, path, why, clearers)
