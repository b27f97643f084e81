"""In which order the fasteners of a joint are tightened, drawn or listed by position."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import TradeError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

Point = tuple[float, float]

# Order of tightening on a circle, bolts numbered clockwise: the legacy cross pattern of ASME
# PCC-1 (the number of its table changes with the edition), from two public encodings that agree.
# Encodings of 28 bolts and more disagree, so those go by the rule below and do not bear its name.
_LEGACY_NAME = "legacy cross pattern, ASME PCC-1"
_LEGACY: dict[int, tuple[int, ...]] = {
    4: (1, 3, 2, 4),
    8: (1, 5, 3, 7, 2, 6, 4, 8),
    12: (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12),
    16: (1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16),
    20: (1, 11, 6, 16, 3, 13, 8, 18, 5, 15, 10, 20, 2, 12, 7, 17, 4, 14, 9, 19),
    24: (
        *(1, 13, 7, 19, 4, 16, 10, 22, 2, 14, 8, 20),
        *(5, 17, 11, 23, 3, 15, 9, 21, 6, 18, 12, 24),
    ),
}

# A second published order of 16, which differs in its second half: MIL-HDBK-60, figure 4.
_HANDBOOK_16 = (1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 4, 12, 6, 14, 8, 16)

_BY_RULE = "cross pattern by rule, not a published table"
_MOST_FASTENERS = 500
_DECIMALS = 9  # so that equal distances and angles compare equal
_SAME_RING = 1e-6  # as a part of the largest distance from the middle


@dataclass(frozen=True, slots=True)
class Pattern:
    """An order of tightening: `order` lists fastener numbers, `name` says whose order it is."""

    name: str
    order: tuple[int, ...]

    @property
    def labels(self) -> tuple[int, ...]:
        """The turn of each position, in position order: the inverse of `order`.

        Examples
        --------
        >>> circle(12).labels
        (1, 5, 9, 3, 7, 11, 2, 6, 10, 4, 8, 12)
        """
        turns = {fastener: turn for turn, fastener in enumerate(self.order, start=1)}
        return tuple(turns[fastener] for fastener in range(1, len(self.order) + 1))

    @property
    def removal(self) -> tuple[int, ...]:
        """The order of loosening: tightening reversed."""
        return self.order[::-1]


def pattern_for(kind: str, count: int, at: Sequence[Point] = ()) -> Pattern:
    """Return the order for a joint.

    Parameters
    ----------
    kind : str
        ``cross``, ``around`` or ``inside out``.
    count : int
        How many fasteners, where `at` is empty.
    at : sequence of (float, float)
        Where they are, all in one unit; y goes up. Without it they stand evenly on a circle,
        numbered clockwise.

    Raises
    ------
    TradeError
        If the kind is not known, ``inside out`` has no positions, two fasteners are in one place,
        or there are none or over 500.
    """
    number = len(at) or count
    if not 1 <= number <= _MOST_FASTENERS:
        raise TradeError(f"{number} fasteners in one joint", f"give 1 to {_MOST_FASTENERS}")
    if len(set(at)) < len(at):
        raise TradeError("two fasteners of the joint are in one place", "mend `at`")
    if kind == "inside out":
        if not at:
            raise TradeError("inside out needs to know where the fasteners are", "give `at`")
        return inside_out(at)
    if kind not in ("cross", "around"):
        raise TradeError(f"`{kind}` is not a pattern", "use `cross`, `around` or `inside out`")
    plain = circle(number) if kind == "cross" else around(number)
    if not at:
        return plain
    clockwise = _clockwise(at)
    return Pattern(plain.name, tuple(clockwise[turn - 1] for turn in plain.order))


def around(count: int) -> Pattern:
    """Return the plain round, one after the other."""
    return Pattern("around", tuple(range(1, count + 1)))


def circle(count: int) -> Pattern:
    """Return the cross pattern of fasteners evenly on a circle, numbered clockwise.

    For 4, 8, 12, 16, 20 and 24 it is the published legacy order. Any other even number follows a
    rule with the same construction: each pair is diametrically opposite, and starts as far as can
    be from all that is done, then from the pair before. An odd number is the next even one
    without its last, so that pairs lie opposite but for half a place. From five fasteners on no
    two neighbours follow each other.

    Examples
    --------
    >>> circle(5).order, circle(6).order
    ((1, 4, 2, 5, 3), (1, 4, 2, 5, 3, 6))
    """
    if count in _LEGACY:
        return Pattern(_LEGACY_NAME, _LEGACY[count])
    if count % 2:
        *kept, dropped = circle(count + 1).order
        return Pattern(_BY_RULE, tuple(one - (one > dropped) for one in kept))

    def apart(one: int, other: int) -> int:
        steps = abs(one - other) % count
        return min(steps, count - steps)

    def opposite(one: int, other: int) -> int:
        return count // 2 - apart(one, other)

    return Pattern(_BY_RULE, tuple(_pairs(range(1, count + 1), apart, opposite)))


def handbook_circle_of_16() -> Pattern:
    """Return the order of 16 that MIL-HDBK-60, figure 4, draws; PCC-1's differs from the 11th."""
    return Pattern("opposite pairs, MIL-HDBK-60 figure 4", _HANDBOOK_16)


def _clockwise(at: Sequence[Point]) -> list[int]:
    """Return the fasteners clockwise round their middle, from the first one listed."""
    x_middle, y_middle = _middle(at)
    angles = [-math.atan2(y - y_middle, x - x_middle) for x, y in at]
    turns = [
        round((angle - angles[0]) % math.tau, _DECIMALS) % round(math.tau, _DECIMALS)
        for angle in angles
    ]
    return sorted(range(1, len(at) + 1), key=lambda number: (turns[number - 1], number))


def _middle(at: Sequence[Point]) -> Point:
    return sum(x for x, _ in at) / len(at), sum(y for _, y in at) / len(at)


def inside_out(at: Sequence[Point]) -> Pattern:
    """Return the order for a plate: from the middle outwards, crossing over within each ring.

    Fasteners equally far from the middle of the group form a ring; within a ring pairs are
    opposite through the middle as nearly as can be, and each pair starts far from the last.
    From inside to outside on the diagonal is common practice, as quoted in a secondary source;
    the maker's own drawing comes first.

    Parameters
    ----------
    at : sequence of (float, float)
        Positions, all in one unit; fastener n is the n-th.
    """
    middle = _middle(at)

    def apart(one: int, other: int) -> float:
        return math.dist(at[one - 1], at[other - 1])

    def opposite(one: int, other: int) -> float:
        x, y = at[one - 1]
        return math.dist((2 * middle[0] - x, 2 * middle[1] - y), at[other - 1])

    order: list[int] = []
    for ring in _rings(at, middle):
        order.extend(_pairs(ring, apart, opposite, order))
    return Pattern("inside out: from the middle, crossing over", tuple(order))


def _rings(at: Sequence[Point], middle: Point) -> Iterable[list[int]]:
    """Yield the fasteners equally far from the middle, the nearest ring first."""
    distances = sorted((math.dist(point, middle), number) for number, point in enumerate(at, 1))
    slack = _SAME_RING * distances[-1][0]
    ring: list[int] = []
    reach = distances[0][0]
    for distance, number in distances:
        if ring and distance - reach > slack:
            yield sorted(ring)
            ring = []
        ring.append(number)
        reach = distance
    yield sorted(ring)


def _pairs(
    fasteners: Iterable[int],
    apart: Callable[[int, int], float],
    opposite: Callable[[int, int], float],
    before: Sequence[int] = (),
) -> list[int]:
    """Return the fasteners in crossing pairs: lead far from what is done, partner across.

    `opposite` says how far the second is from lying opposite the first. O(n²).
    """
    left = list(fasteners)
    last = list(before[-2:])
    nearest = dict.fromkeys(left, math.inf)
    order: list[int] = []

    def freedom(one: int) -> tuple[float, ...]:
        from_last = [round(apart(one, done), _DECIMALS) for done in last] or [0.0]
        return (nearest[one], min(from_last), from_last[-1], -one)

    while left:
        lead = max(left, key=freedom)
        others = [one for one in left if one != lead]
        across = sorted(others, key=lambda one: (round(opposite(lead, one), _DECIMALS), one))
        last = [lead, *across[:1]]
        left = [one for one in left if one not in last]
        for one in left:
            done = (round(apart(one, other), _DECIMALS) for other in last)
            nearest[one] = min(nearest[one], *done)
        order += last
    return order
