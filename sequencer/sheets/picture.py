"""The picture of a pattern: where the fasteners sit, each with its turn in the order."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.trade.patterns import Point
    from sequencer.trade.worked import WorkedJoint

# All in mm. A mark holds two figures of 11 pt; between two of them there is room to see that
# they are two.
_MARK = 3.7
_APART = 8.8
_SMALLEST_RING = 13.0
_SMALLEST_PLATE = 32.0
_WIDEST, _HIGHEST = 112.0, 120.0
_CARD = 120.0  # what a card leaves in its width
_BESIDE = 50.0
_EDGE = 0.5
_GAP = 5.0  # between the picture and the figures
_LABEL = 6.0  # from the middle of a mark to that of its label
_LETTER, _WIDE_LETTER = 2.4, 4.0
_LETTER_HEIGHT = 4.4
_LATIN = 0x24F  # the last of the Latin letters
_LONGEST_LABEL = 4
_MOST_DRAWN = 60
_FEWEST_DRAWN = 3
_SAME = 1e-6
_ON_THE_LINE = 1.3  # how far below its middle the foot of a figure of 11 pt is


@dataclass(frozen=True, slots=True)
class Spot:
    """A fastener: the middle of its mark, its turn, and its label with the foot of each.

    Lengths are in mm from the top left of the picture, as text.
    """

    x: str
    y: str
    foot: str
    turn: int
    label: str
    label_x: str
    label_foot: str


@dataclass(frozen=True, slots=True)
class Ring:
    """The circle that the fasteners stand on, in mm as text."""

    x: str
    y: str
    radius: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A pattern as it is drawn: true to the positions, numbered by the turns.

    `beside` tells whether it is narrow enough to stand beside the figures; `room` is then what
    they have to leave free. All lengths are in mm, as text.
    """

    width: str
    height: str
    room: str
    beside: bool
    mark: str
    ring: Ring | None
    spots: tuple[Spot, ...]
    says: str


def picture_of(worked: WorkedJoint) -> Picture | None:
    """Return the picture of a joint's pattern, if it has one that can be drawn so as to be read.

    Fasteners without positions stand evenly on a circle, the first at the top, clockwise. Places
    of up to four letters stand beside their marks; longer ones, and those for which the card has
    no room left, stand in the list of turns.
    """
    joint, pattern = worked.joint, worked.pattern
    if pattern is None or isinstance(pattern, Unknown):
        return None
    if not _FEWEST_DRAWN <= joint.count <= _MOST_DRAWN:
        return None
    true = len(joint.at) == joint.count
    points = [(float(x), -float(y)) for x, y in joint.at] if true else _circle(joint.count)
    drawn = _to_scale(points, _SMALLEST_PLATE if true else 2 * _SMALLEST_RING)
    if drawn is None:
        return None
    short = all(len(place) <= _LONGEST_LABEL for place in joint.places)
    labels = worked.labels if joint.places and short else ("",) * joint.count
    picture = _picture(drawn, pattern.labels, labels)
    if float(picture.width) <= _CARD:
        return picture
    return _picture(drawn, pattern.labels, ("",) * joint.count)


def _circle(count: int) -> list[Point]:
    turns = [math.tau * at / count for at in range(count)]
    return [(math.sin(turn), -math.cos(turn)) for turn in turns]


def _to_scale(points: Sequence[Point], smallest: float) -> list[Point] | None:
    """Return the points in mm, so far apart that their marks are; None if that is too large."""
    nearest = min(math.dist(one, other) for one, other in combinations(points, 2))
    xs, ys = [x for x, _ in points], [y for _, y in points]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    if nearest <= 0:
        return None
    scale = max(_APART / nearest, smallest / max(width, height))
    if width * scale > _WIDEST - 2 * _MARK or height * scale > _HIGHEST - 2 * _MARK:
        return None
    return [((x - min(xs)) * scale, (y - min(ys)) * scale) for x, y in points]


def _picture(points: Sequence[Point], turns: Sequence[int], labels: Sequence[str]) -> Picture:
    middle = _middle(points)
    outward = [_outward(point, middle) for point in points]
    wide = max(map(_wide, labels)) / 2
    left = right = top = bottom = _MARK + _EDGE
    if any(labels):
        left = right = max(left, _LABEL + wide + _EDGE)
        top = bottom = _LABEL + _LETTER_HEIGHT / 2
    width = max(x for x, _ in points) + left + right
    height = max(y for _, y in points) + top + bottom
    spots = tuple(
        Spot(
            x=_mm(x + left),
            y=_mm(y + top),
            foot=_mm(y + top + _ON_THE_LINE),
            turn=turn,
            label=label,
            label_x=_mm(x + left + dx * (_LABEL + wide / 2)),
            label_foot=_mm(y + top + dy * _LABEL + _ON_THE_LINE),
        )
        for (x, y), (dx, dy), turn, label in zip(points, outward, turns, labels, strict=True)
    )
    shifted = middle[0] + left, middle[1] + top
    return Picture(
        width=_mm(width),
        height=_mm(height),
        room=_mm(width + _GAP),
        beside=width <= _BESIDE,
        mark=_mm(_MARK),
        ring=_ring(points, middle, shifted),
        spots=spots,
        says="Tighten in the order of the numbers",
    )


def _wide(label: str) -> float:
    """Return about how wide a label is, in mm, rather too much than too little."""
    return sum(
        _WIDE_LETTER if letter in "MWmw@%" or ord(letter) > _LATIN else _LETTER for letter in label
    )


def _middle(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _outward(point: Point, middle: Point) -> Point:
    """Return which way leads away from the middle, one long; down for what is in the middle."""
    away = math.dist(point, middle)
    if away < _SAME:
        return 0.0, 1.0
    return (point[0] - middle[0]) / away, (point[1] - middle[1]) / away


def _ring(points: Sequence[Point], middle: Point, shifted: Point) -> Ring | None:
    radii = [math.dist(point, middle) for point in points]
    if max(radii) - min(radii) > max(radii) * _SAME:
        return None
    return Ring(_mm(shifted[0]), _mm(shifted[1]), _mm(radii[0]))


def _mm(length: float) -> str:
    return f"{length:.2f}"
