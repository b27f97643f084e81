"""Where the items of a row stand from left to right: near what they are joined to, apart."""

from __future__ import annotations

from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_SWEEPS = 8
_PASSING = 6.0  # how much more it counts that a line stays straight than that a box is near


def nearest(
    wanted: Sequence[float],
    weights: Sequence[float],
    gaps: Sequence[float],
    room: tuple[float, float],
) -> list[float]:
    """Return places as near as can be to those wanted, in order, so far apart, within bounds.

    Parameters
    ----------
    wanted : sequence of float
        Where each item should stand; there is at least one.
    weights : sequence of float
        How much it counts what each item is off.
    gaps : sequence of float
        For each item but the first, how far it is from the one before at least.
    room : (float, float)
        The lowest place of the first item and the highest of the last.

    Returns
    -------
    list of float
        The weighted sum of the squares of what they are off is the least. Where the gaps take
        more than the room there is, the last items stand beyond it.

    Notes
    -----
    Less the gaps, places may only rise: isotonic regression, by pooling neighbours that stand in
    the wrong order [1]_; bounds cut it off.

    References
    ----------
    .. [1] M. Ayer, H. D. Brunk, G. M. Ewing, W. T. Reid, E. Silverman, "An empirical distribution
       function for sampling with incomplete information", Annals of Mathematical Statistics
       26(4), 1955, pp. 641-647.

    Examples
    --------
    >>> nearest([5, 5, 20], [1, 1, 1], [4, 4], (0, 30))
    [3.0, 7.0, 20.0]
    """
    shifts = [0.0]
    for gap in gaps:
        shifts.append(shifts[-1] + gap)
    pools: list[tuple[float, float, int]] = []
    for place, weight, shift in zip(wanted, weights, shifts, strict=True):
        level, weighs, count = place - shift, weight, 1
        while pools and pools[-1][0] > level:
            other, more, items = pools.pop()
            level = (level * weighs + other * more) / (weighs + more)
            weighs, count = weighs + more, count + items
        pools.append((level, weighs, count))
    highest = max(room[0], room[1] - shifts[-1])
    levels = (min(max(level, room[0]), highest) for level, _, count in pools for _ in range(count))
    return [level + shift for level, shift in zip(levels, shifts, strict=True)]


def placed(
    rows: Sequence[Sequence[int]],
    edges: Sequence[tuple[int, int]],
    half: Mapping[int, float],
    apart: float,
    width: float,
) -> dict[int, float]:
    """Return the middle of each item, in mm from the left.

    Parameters
    ----------
    rows : sequence of sequence of int
        The items of each row from left to right; none is empty.
    edges : sequence of (int, int)
        What is joined to what, each to an item of the next row.
    half : mapping of int to float
        Half of the width of each item; nothing for a line that only passes.
    apart : float
        What is left free between two items.
    width : float
        How wide the drawing may be.

    Notes
    -----
    Each row in turn is brought below what it hangs on, then above what hangs on it, and so on.
    """
    up: dict[int, list[int]] = {item: [] for row in rows for item in row}
    down: dict[int, list[int]] = {item: [] for row in rows for item in row}
    for one, other in edges:
        down[one].append(other)
        up[other].append(one)
    middle: dict[int, float] = {}
    for row in rows:
        share = width / len(row)
        middle |= {item: (at + 0.5) * share for at, item in enumerate(row)}
    for sweep in range(_SWEEPS):
        joined = up if sweep % 2 else down
        for row in rows if sweep % 2 else reversed(rows):
            wanted = [
                median(middle[other] for other in joined[item]) if joined[item] else middle[item]
                for item in row
            ]
            weights = [1.0 if half[item] else _PASSING for item in row]
            gaps = [half[one] + half[other] + apart for one, other in pairwise(row)]
            room = half[row[0]], width - half[row[-1]]
            middle |= zip(row, nearest(wanted, weights, gaps, room), strict=True)
    return middle
