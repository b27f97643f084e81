"""The fewest turns: what has to be done before the last steps, within a number of turns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.handling.kinds import NOWHERE

if TYPE_CHECKING:
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.rules import Rules

_MOST = 64  # so many sets are kept apart; more are thrown into one


class Turning:
    """What must be done beforehand if the rest may take so many turns of the busiest unit.

    Only which step precedes which is regarded, and this unit alone. Going back from the end, in
    each position everything is taken off that can be; nothing is gained by leaving it, so that
    only the smallest sets left over need be kept.

    Attributes
    ----------
    fewest : int
        No order has fewer turns of this unit.
    """

    def __init__(self, rules: Rules, kinds: Kinds, *, ways: bool) -> None:
        self._take_off = rules.taken_off if ways else rules.shrunk
        lying: dict[int, int] = {}
        anyhow = 0
        for kind, members in zip(kinds.kinds, kinds.members, strict=True):
            if kind.unit == 0:
                lying[kind.place] = lying.get(kind.place, 0) | members
            else:
                anyhow |= members
        self._steps = {place: members | anyhow for place, members in sorted(lying.items())}
        every = rules.every
        first = {place: [self._take_off(every, steps)] for place, steps in self._steps.items()}
        self._layers: list[dict[int, list[int]]] = []
        self._add(first or {NOWHERE: [0]})
        while 0 not in self._layers[-1][NOWHERE]:
            self._allow_one_more()
        self.fewest = len(self._layers) - 1

    def _add(self, layer: dict[int, list[int]]) -> None:
        anywhere = [left for lefts in layer.values() for left in lefts]
        self._layers.append({NOWHERE: anywhere, **layer})

    def _allow_one_more(self) -> None:
        known = self._layers[-1]
        layer: dict[int, list[int]] = {}
        for place, steps in self._steps.items():
            lefts = (left for other in self._steps if other != place for left in known[other])
            layer[place] = _smallest({self._take_off(left, steps) for left in lefts})
        self._add(layer)

    def left_over(self, turns: int) -> dict[int, list[int]]:
        """Return, for each position, the sets left over before the last steps with so many turns.

        From a position (`NOWHERE` stands for any) what is not yet done can be done within the
        turns only if it shares no step with one of the sets.
        """
        while len(self._layers) <= turns:
            self._allow_one_more()
        return self._layers[turns]


def _smallest(sets: set[int]) -> list[int]:
    """Drop each set that has another in it; where many are left, keep what some of them share."""
    kept: list[int] = []
    for one in sorted(sets, key=lambda one: (one.bit_count(), one)):
        if all(other & ~one for other in kept):
            kept.append(one)
    if len(kept) > _MOST:
        shared = kept[_MOST - 1]
        for one in kept[_MOST:]:
            shared &= one
        kept[_MOST - 1 :] = [shared]
    return kept
