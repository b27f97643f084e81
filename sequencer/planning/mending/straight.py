"""Steps taken off in the order wanted, where that works: an order found is its own proof.

Most orders work as they stand, or with a few steps that have to wait a little. Then no counters
have to be kept: each step is looked at once, in its turn, against what is still on.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Need, Relation, Steps

_PATIENCE = 4  # how often, for each unit, one that waits may be looked at once more


def doing(
    rules: Rules, standing: bytearray, steps: Sequence[int], at_once: Collection[int] = ()
) -> list[int] | None:
    """Return an order in which steps come off the end, groups as one: the last to be done first.

    Parameters
    ----------
    rules : Rules
        The rules of the whole.
    standing : bytearray
        For each step 1 if it is one of `steps`, or done and stays. It is changed.
    steps : sequence of int
        The steps, in the order wanted.
    at_once : collection of int
        Those of them that have to be done before all others: a group is half done.

    Returns
    -------
    list of int or None
        Near to the order wanted; None where none was found, which proves nothing.

    Notes
    -----
    What cannot come off in its turn is tried again whenever something else has; too many such
    tries end it, so that it is linear in the rules of the steps.
    """
    if not rules.circular.isdisjoint(steps):
        return None
    run = _Run(rules, standing)
    later = run.take_off(run.units([step for step in steps if step not in at_once]))
    if later is None or not at_once:
        return later
    sooner = run.take_off([(step,) for step in steps if step in at_once])
    return None if sooner is None else later + sooner


def taking_back(
    rules: Rules, standing: bytearray, steps: Sequence[int], in_trials: Collection[int]
) -> list[int] | None:
    """Return an order in which steps are taken back; see `doing`.

    Groups bind nothing, nor does a stretch in which a step must not lie; `in_trials` are steps
    that need no way in.
    """
    return _Run(rules, standing, in_trials, barred=False).take_off([(step,) for step in steps])


class _Run:
    def __init__(
        self,
        rules: Rules,
        standing: bytearray,
        no_way: Collection[int] = (),
        *,
        barred: bool = True,
    ) -> None:
        self.rules = rules
        self.standing = standing
        self.no_way = no_way
        self.barred = barred
        self.off_up_to: dict[int, int] = {}  # of the steps that a wide relation waits for

    def units(self, steps: Sequence[int]) -> list[Steps]:
        """Return the steps with those of a group together, where the first of them is wanted."""
        group_of = self.rules.network.group_of
        wanted: dict[int, list[int]] = {}
        for step in steps:
            if group_of[step] >= 0:
                wanted.setdefault(group_of[step], []).append(step)
        units: list[Steps] = []
        for step in steps:
            group = group_of[step]
            if group < 0:
                units.append((step,))
            elif group in wanted:
                units.append(tuple(wanted.pop(group)))
        return units

    def take_off(self, units: Sequence[Steps]) -> list[int] | None:
        """Take all units off, or give up."""
        taken: list[int] = []
        waiting: list[Steps] = []
        patience = _PATIENCE * len(units)
        for unit in units:
            if not self._took(unit, taken):
                waiting.append(unit)
            elif waiting:
                patience -= self._try_again(waiting, taken)
                if patience < 0:
                    return None
        return None if waiting else taken

    def _try_again(self, waiting: list[Steps], taken: list[int]) -> int:
        """Take off what waits and now can come off; return how many tries it took."""
        tries = at = 0
        while at < len(waiting):
            tries += 1
            if self._took(waiting[at], taken):
                del waiting[at]
                at = 0
            else:
                at += 1
        return tries

    def _took(self, unit: Steps, taken: list[int]) -> bool:
        """Take a unit off, if it can come off with all its steps one after the other."""
        if len(unit) == 1:
            if not self._can(unit[0]):
                return False
            self.standing[unit[0]] = 0
            taken.append(unit[0])
            return True
        inside = self.take_off([(step,) for step in unit])
        if inside is None:
            for step in unit:
                self.standing[step] = 1
            self.off_up_to.clear()
            return False
        taken.extend(inside)
        return True

    def _can(self, step: int) -> bool:
        standing, rules = self.standing, self.rules
        for follower in rules.followers[step]:
            if standing[follower]:
                return False
        for relation in rules.wide.get(step, ()):
            if self._is_followed(step, relation):
                return False
        for need in rules.needs_of.get(step, ()):
            if not self._is_reached(step, rules.network.needs[need]):
                return False
        return True

    def _is_followed(self, step: int, relation: Relation) -> bool:
        """Tell whether one of many steps that must follow, but for the step itself, is on."""
        standing, afters = self.standing, relation.afters
        at = self.off_up_to.get(id(afters), 0)
        while at < len(afters) and not standing[afters[at]]:
            at += 1
        self.off_up_to[id(afters)] = at
        if at == len(afters) or afters[at] != step:
            return at < len(afters)
        return any(standing[after] for after in afters[at + 1 :])

    def _is_reached(self, step: int, need: Need) -> bool:
        if step in self.no_way or (need.barred and not self.barred):
            return True
        standing = self.standing
        for way in need[1]:
            for obstacle in way[1]:
                blockers, clearers = obstacle[3], obstacle[6]
                if not blockers:
                    stands = True
                else:
                    stands = False
                    for blocker in blockers:
                        if standing[blocker] and blocker != step:
                            stands = True
                            break
                if stands and not (
                    clearers and all(standing[one] and one != step for one in clearers)
                ):
                    break
            else:
                return True
        return False
