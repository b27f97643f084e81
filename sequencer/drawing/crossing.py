"""In which order boxes and lines stand in each row, so that few lines cross."""

from __future__ import annotations

from bisect import bisect_left, insort
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_SWEEPS = 12
Edge = tuple[int, int]


def ordered(
    rows: Sequence[Sequence[int]], edges: Sequence[Edge], group: Mapping[int, int]
) -> list[list[int]]:
    """Return the rows with their items in an order in which few lines cross.

    Parameters
    ----------
    rows : sequence of sequence of int
        The items of each row; what only passes through a row is an item of it, too.
    edges : sequence of (int, int)
        Each from an item of one row to an item of the next.
    group : mapping of int to int
        Items of a lower group stand to the left of those of a higher one, in every row.

    Returns
    -------
    list of list of int
        The same items; of the orders met the one with the fewest crossings.

    Notes
    -----
    Median sweeps down and up [1]_, kept within the groups.

    References
    ----------
    .. [1] E. R. Gansner, E. Koutsofios, S. C. North, K.-P. Vo, "A technique for drawing directed
       graphs", IEEE Transactions on Software Engineering 19(3), 1993, pp. 214-230.
    """
    up: dict[int, list[int]] = {item: [] for row in rows for item in row}
    down: dict[int, list[int]] = {item: [] for row in rows for item in row}
    for one, other in edges:
        down[one].append(other)
        up[other].append(one)
    now = [sorted(row, key=lambda item: group[item]) for row in rows]
    best, fewest = now, crossings(now, edges)
    for sweep in range(_SWEEPS):
        now = [list(row) for row in now]
        downwards = sweep % 2 == 0
        numbers = range(1, len(now)) if downwards else range(len(now) - 2, -1, -1)
        for number in numbers:
            fixed = now[number - 1 if downwards else number + 1]
            _sort(now[number], fixed, up if downwards else down, group)
        count = crossings(now, edges)
        if count < fewest:
            best, fewest = now, count
    return best


def _sort(
    row: list[int],
    fixed: Sequence[int],
    neighbours: Mapping[int, Sequence[int]],
    group: Mapping[int, int],
) -> None:
    """Sort a row by the middle of what each item is joined to; others keep their places."""
    place = {item: at for at, item in enumerate(fixed)}
    share = len(fixed) / max(len(row), 1)
    wanted = {
        item: median(place[other] for other in neighbours[item]) if neighbours[item] else at * share
        for at, item in enumerate(row)
    }
    row.sort(key=lambda item: (group[item], wanted[item]))


def crossings(rows: Sequence[Sequence[int]], edges: Sequence[Edge]) -> int:
    """Count the pairs of lines that cross between rows that follow one another."""
    at = {
        item: (number, place) for number, row in enumerate(rows) for place, item in enumerate(row)
    }
    count = 0
    seen: dict[int, list[int]] = {}
    for one, other in sorted(edges, key=lambda edge: (*at[edge[0]], at[edge[1]][1])):
        ends = seen.setdefault(at[one][0], [])
        end = at[other][1]
        count += len(ends) - bisect_left(ends, end + 1)
        insort(ends, end)
    return count
