"""Which row of a drawing each box stands in: below all that comes before it, so many a row."""

from __future__ import annotations

from heapq import heappop, heappush
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

Edge = tuple[int, int]


def rows_of(count: int, edges: Collection[Edge], most: int) -> list[int]:
    """Return the row of each box, from 0.

    Parameters
    ----------
    count : int
        How many boxes; they are numbered in an order in which every edge points onwards.
    edges : collection of (int, int)
        From the box that comes first to the one that comes later.
    most : int
        How many boxes a row may hold.

    Returns
    -------
    list of int
        Every edge leads to a lower row; no row but the last is empty.

    Notes
    -----
    List scheduling, the box with the longest chain behind it first [1]_; then boxes that more
    hang on than they hang on are let down towards those, where there is room.

    References
    ----------
    .. [1] T. C. Hu, "Parallel sequencing and assembly line problems", Operations Research 9(6),
       1961, pp. 841-848. doi:10.1287/opre.9.6.841
    """
    after: list[list[int]] = [[] for _ in range(count)]
    before: list[list[int]] = [[] for _ in range(count)]
    for one, other in edges:
        after[one].append(other)
        before[other].append(one)
    rows = _scheduled(after, before, most)
    _let_down(rows, after, before, most)
    return rows


def _scheduled(
    after: Sequence[Sequence[int]], before: Sequence[Sequence[int]], most: int
) -> list[int]:
    count = len(after)
    behind = [0] * count
    for box in reversed(range(count)):
        behind[box] = max((behind[other] + 1 for other in after[box]), default=0)
    waiting = [len(others) for others in before]
    ready: list[Edge] = []
    for box in range(count):
        if not waiting[box]:
            heappush(ready, (-behind[box], box))
    rows = [0] * count
    row = 0
    while ready:
        placed = [heappop(ready)[1] for _ in range(min(most, len(ready)))]
        for box in placed:
            rows[box] = row
        for box in placed:
            for other in after[box]:
                waiting[other] -= 1
                if not waiting[other]:
                    heappush(ready, (-behind[other], other))
        row += 1
    return rows


def _let_down(
    rows: list[int],
    after: Sequence[Sequence[int]],
    before: Sequence[Sequence[int]],
    most: int,
) -> None:
    """Let boxes down to the rows above those that wait for them; no row is emptied."""
    held = [0] * (max(rows, default=-1) + 1)
    for row in rows:
        held[row] += 1
    for box in reversed(range(len(rows))):
        if len(after[box]) <= len(before[box]) or held[rows[box]] == 1:
            continue
        lowest = min(rows[other] for other in after[box]) - 1
        free = (row for row in range(lowest, rows[box], -1) if held[row] < most)
        row = next(free, rows[box])
        held[rows[box]] -= 1
        held[row] += 1
        rows[box] = row
