"""The rules of one choice of `one_of`, looked up by step, for work that takes steps back."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from sequencer.planning.compiling import compile_network
from sequencer.planning.mending.peeling import Peeling
from sequencer.planning.mending.skipped import with_skipped
from sequencer.planning.network import Network

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.planning.network import Need, Relation, Steps


class Rules:
    """A network in the numbering of the whole model, with its rules by step.

    Attributes
    ----------
    network : Network
        The rules that an order must keep. Steps that the choice leaves out have none.
    there : bytearray
        For each step of the whole model, 1 if the choice has it.
    as_before, as_after : list of list of Relation
        For each step the relations in which it comes first, or last.
    followers : list of list of int
        For each step the steps that must follow it by a relation between two steps alone.
    wide : dict of int to list of Relation
        For a step the other relations in which it comes first.
    circular : set of int
        The steps that must follow themselves.
    needs_of : dict of int to list of int
        For each step the numbers of its needs.
    passing : bool
        Whether anything that shuts a way, or bars a step, is cleared again.
    """

    def __init__(
        self, whole: Assembly, chosen: Assembly, skipped: frozenset[int] = frozenset()
    ) -> None:
        network = compile_network(chosen)
        if len(chosen.steps) != len(whole.steps):
            network = _widened(network, tuple(step.id for step in whole.steps))
        if skipped:
            network = with_skipped(network, skipped)
        size = len(whole.steps)
        self.network = network
        self.passing = any(obstacle.clearers for obstacle in network.obstacles())
        self.there = bytearray(size)
        for chosen_step in chosen.steps:
            self.there[network.index[chosen_step.id]] = 1
        self.as_before: list[list[Relation]] = [[] for _ in range(size)]
        self.as_after: list[list[Relation]] = [[] for _ in range(size)]
        for relation in network.relations:
            for step in relation[0]:
                self.as_before[step].append(relation)
            for step in relation[1]:
                self.as_after[step].append(relation)
        self.followers: list[list[int]] = [[] for _ in range(size)]
        self.wide: defaultdict[int, list[Relation]] = defaultdict(list)
        self.circular: set[int] = set()
        self._sort_relations()
        self.needs_of: defaultdict[int, list[int]] = defaultdict(list)
        for number, need in enumerate(network.needs):
            self.needs_of[need.step].append(number)

    def _sort_relations(self) -> None:
        for relation in self.network.relations:
            befores, afters = relation[0], relation[1]
            if len(befores) > 1 or len(afters) > 1:
                for step in befores:
                    self.wide[step].append(relation)
            elif befores == afters:
                self.circular.add(befores[0])
            else:
                self.followers[befores[0]].append(afters[0])

    @cached_property
    def peeling(self) -> Peeling:
        """The start of every peel by what only ever shuts; to be copied."""
        return Peeling(_firm(self.network) if self.passing else self.network)


def _firm(network: Network) -> Network:
    """Leave out whatever is cleared again: an order of the network is one of what is left too."""
    needs = tuple(
        need._replace(
            ways=tuple(
                way._replace(obstacles=tuple(one for one in way.obstacles if not one.clearers))
                for way in need.ways
            )
        )
        for need in network.needs
    )
    return replace(network, needs=needs)


def _widened(network: Network, ids: tuple[str, ...]) -> Network:
    """Return a network in the numbering of a model that has more steps."""
    index = {name: number for number, name in enumerate(ids)}
    number_of = [index[name] for name in network.ids]

    def wide(steps: Steps) -> Steps:
        return tuple(number_of[step] for step in steps)

    def wide_need(need: Need) -> Need:
        ways = tuple(
            way._replace(
                obstacles=tuple(
                    one._replace(blockers=wide(one.blockers), clearers=wide(one.clearers))
                    for one in way.obstacles
                )
            )
            for way in need.ways
        )
        return need._replace(step=number_of[need.step], ways=ways)

    group_of = [-1] * len(ids)
    for step, group in zip(number_of, network.group_of, strict=True):
        group_of[step] = group
    return Network(
        ids,
        index,
        tuple(
            one._replace(befores=wide(one.befores), afters=wide(one.afters))
            for one in network.relations
        ),
        tuple(group._replace(steps=wide(group.steps)) for group in network.groups),
        tuple(map(wide_need, network.needs)),
        tuple(group_of),
    )
