"""What holds a stuck step: chains of facts that alone keep a set of steps from coming off."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING, TypeAlias

from sequencer.planning.narrowed import narrowed
from sequencer.planning.network import Group, Network, Obstacle, Relation
from sequencer.planning.peel import peel

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.planning.network import Rule

# A fact that holds a step, and the stuck step that it points at (None where it needs none).
_Held: TypeAlias = "tuple[Rule, int | None]"


class Reasons:
    """For each stuck step, the facts that hold it up and the stuck steps they point at."""

    def __init__(self, network: Network, rules: list[Rule], steps: frozenset[int]) -> None:
        self.network = network
        part = narrowed(network, rules, steps)
        names = sorted(steps)
        self.loosened = frozenset(names[step] for step in peel(part).loosened)
        self.steps = steps
        self.relations: dict[int, list[Relation]] = {}
        self.group: dict[int, Group] = {}
        self.obstacles: dict[int, dict[int, list[Obstacle]]] = {}
        self.needs: dict[int, set[int]] = {}
        for rule in rules:
            if isinstance(rule, Relation):
                for step in rule.befores:
                    self.relations.setdefault(step, []).append(rule)
            elif isinstance(rule, Group):
                self.group.update(dict.fromkeys(rule.steps, rule))
            else:
                self.obstacles.setdefault(rule.need, {}).setdefault(rule.way, []).append(rule)
                self.needs.setdefault(network.needs[rule.need].step, set()).add(rule.need)

    def too_big(self) -> list[Obstacle] | None:
        """Return the facts of a need all of whose ways are too small, if there is one."""
        for need, ways in sorted(self.obstacles.items()):
            sizes = [
                next((rule for rule in rules if not rule.blockers), None) for rules in ways.values()
            ]
            if len(ways) == len(self.network.needs[need].ways) and None not in sizes:
                return [rule for rule in sizes if rule is not None]
        return None

    def chain(self, start: int) -> list[Rule]:
        """Return facts that alone keep `start` and all that they point at from coming off.

        Breadth first, one reason for each step, the nearest to what is already reached.
        """
        found: dict[int, Rule] = {}
        reached = {start}
        queue = deque([start])
        while queue:
            for rule, target in self._reason(queue.popleft(), reached):
                found.setdefault(id(rule), rule)
                if target is not None and target not in reached:
                    reached.add(target)
                    queue.append(target)
        return list(found.values())

    def _reason(self, step: int, reached: set[int]) -> list[_Held]:
        """Return what holds one step: a fact with its target, or one for each of its ways."""
        if step in self.loosened:
            held = [other for other in self.group[step].steps if other not in self.loosened]
            return [(self.group[step], _nearest(held, reached))]
        choices: list[list[_Held]] = []
        for relation in self.relations.get(step, ()):
            itself = relation.befores == relation.afters == (step,)
            targets = [step] if itself else self._standing(relation.afters, step)
            choices.extend([(relation, target)] for target in targets)
        for need in sorted(self.needs.get(step, ())):
            ways = [self._shut(rules, step, reached) for rules in self.obstacles[need].values()]
            if len(ways) == len(self.network.needs[need].ways) and all(ways):
                choices.append([held for way in ways for held in way[:1]])
        return min(choices, key=lambda choice: _distance(choice, reached))

    def _shut(self, rules: list[Obstacle], step: int, reached: set[int]) -> list[_Held]:
        """Return what shuts a way, the nearest first: its size, or a blocker that stands."""
        held: list[_Held] = []
        for rule in rules:
            if not rule.blockers:
                held.append((rule, None))
            held.extend((rule, target) for target in self._standing(rule.blockers, step))
        return sorted(held, key=lambda one: one[1] is not None and one[1] not in reached)

    def _standing(self, others: Iterable[int], step: int) -> list[int]:
        """Return those of the other steps that stand, seen from the step."""
        group = self.group.get(step)
        inside = group.steps if group is not None else ()
        return [
            other
            for other in others
            if other != step
            and other in self.steps
            and not (other in inside and other in self.loosened)
        ]


def _nearest(steps: list[int], reached: set[int]) -> int:
    return next((step for step in steps if step in reached), steps[0])


def _distance(choice: list[_Held], reached: set[int]) -> tuple[int, int]:
    """Rank a reason: fewest new steps to explain, then fewest facts."""
    new = {target for _, target in choice if target is not None and target not in reached}
    return len(new), len(choice)
