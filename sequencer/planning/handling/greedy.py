"""A first order: from the end, whatever is cheapest to take off next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.handling.hands import Hands

if TYPE_CHECKING:
    from sequencer.planning.handling.hands import View
    from sequencer.planning.handling.kinds import Kinds
    from sequencer.planning.handling.rules import Rules


def greedy_order(rules: Rules, kinds: Kinds, view: View) -> tuple[int, ...] | None:
    """Return a valid order in which each step costs little before the next; None at a dead end."""
    hands = Hands(kinds, view, backwards=True)
    left, state = rules.every, 0
    ready = rules.open_steps(left)
    order: list[int] = []
    while left:
        row = hands.rows[state]
        choices = (
            (row[kind][1], step, row[kind][2])
            for step in rules.last_steps(left, ready)
            for kind in kinds.of[step]
        )
        choice = min(choices, default=None)
        if choice is None:
            return None
        _, step, state = choice
        taken = 1 << step
        order.append(step)
        for free in rules.settling(left & ~taken, hands.free(state)):
            taken |= 1 << free
            order.append(free)
        left &= ~taken
        ready = rules.opened(ready, taken, left)
    return tuple(reversed(order))
