"""How many orders are valid, exactly where the sets to go through are not too many."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.planning.masks import Masks

MOST_SETS = 400_000


@dataclass(frozen=True, slots=True)
class Counted:
    """The number of valid orders, or a number that it is not below where `exact` is false."""

    count: int
    exact: bool


def count_orders(masks: Masks, most_sets: int = MOST_SETS) -> Counted:
    """Count the valid orders of all steps.

    Parameters
    ----------
    masks : Masks
        The rules; an order must exist.
    most_sets : int
        How many sets of steps may be held at once or gone through; beyond, the count stops.

    Returns
    -------
    Counted
        Where the count stopped, `count` is the number of orders of what was taken off so far that
        can surely be completed.

    Notes
    -----
    Dynamic programming over the sets that can be left when steps are taken off the end: the
    number of orders of what was taken off is carried from set to set. For must-precede facts
    alone these sets are the ideals of a partial order, and the count is that of its linear
    extensions; see G. Brightwell, P. Winkler, "Counting linear extensions", Order 8 (1991),
    pp. 225-242 (from memory), for why no quick exact way is to be expected.
    """
    layer = {masks.every: 1}
    gone_through = 1
    for _ in range(masks.size):
        following: dict[int, int] = {}
        for left, orders in layer.items():
            for step in masks.last_steps(left):
                rest = left & ~(1 << step)
                following[rest] = following.get(rest, 0) + orders
        gone_through += len(following)
        if gone_through > most_sets:
            return Counted(_at_least(masks, following), exact=False)
        layer = following
    return Counted(layer.get(0, 0), exact=True)


def _at_least(masks: Masks, layer: dict[int, int]) -> int:
    """Return how many orders there are at least: those that no half-done group can spoil.

    Where things are cleared again, what is left may turn out not to be doable; one order exists.
    """
    if masks.passing:
        return 1
    return max(sum(orders for left, orders in layer.items() if not masks.open_group(left)), 1)
