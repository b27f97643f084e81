"""How far one order is from another: the steps that stand elsewhere."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


def kept_in_place(ranks: Sequence[int]) -> list[int]:
    """Return the positions of a longest run of entries that rise, not needing to be neighbours.

    Parameters
    ----------
    ranks : sequence of int
        For each entry of one order, where it stands in the other; all different.

    Returns
    -------
    list of int
        Positions in `ranks`, rising; the longest common subsequence of the two orders.

    Notes
    -----
    Patience sorting, O(n log n); see D. E. Knuth, "The Art of Computer Programming", volume 3,
    section 5.1.4 (from memory).

    Examples
    --------
    >>> kept_in_place([3, 0, 1, 2])
    [1, 2, 3]
    """
    tops: list[int] = []
    at_top: list[int] = []
    below: list[int] = []
    for position, rank in enumerate(ranks):
        pile = bisect_left(tops, rank)
        if pile == len(tops):
            tops.append(rank)
            at_top.append(position)
        else:
            tops[pile] = rank
            at_top[pile] = position
        below.append(at_top[pile - 1] if pile else -1)
    kept: list[int] = []
    position = at_top[-1] if at_top else -1
    while position >= 0:
        kept.append(position)
        position = below[position]
    return kept[::-1]


def count_moves(order: Sequence[int], wanted: Sequence[int]) -> int:
    """Return how many steps of `order` stand elsewhere than in `wanted`.

    Both are sequences of steps; a step that `wanted` lacks counts as moved.

    Examples
    --------
    >>> count_moves([2, 0, 1], [0, 1, 2])
    1
    """
    rank = {step: position for position, step in enumerate(wanted)}
    return len(order) - len(kept_in_place([rank[step] for step in order if step in rank]))
