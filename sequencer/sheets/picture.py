"""The picture of a pattern: where the fasteners sit, each with its turn in the order."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING

from sequencer.drawing.ink import (
    FRAME,
    HAIR,
    Drawing,
    Stroke,
    Words,
    circle,
    drawn_together,
    foot,
)
from sequencer.sheets.letters import centred
from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.trade.patterns import Point
    from sequencer.trade.worked import WorkedJoint

# All in mm. A mark holds two figures of its size; between two of them there is room to see that
# they are two. Where there is room for larger ones they are larger.
_MARK = 3.7
_APART = 8.8
_LARGE_MARK = 4.7
_FAR_APART = 10.8
_SMALLEST_RING, _LARGE_RING = 13.0, 14.2
_MOST_LARGE = 8  # on a ring
_SMALLEST_PLATE = 32.0
_WIDEST, _HIGHEST = 112.0, 120.0
_CARD = 120.0  # what a card leaves in its width
_BESIDE = 50.0
_EDGE = 0.5
_LABEL = 2.3  # from a mark to the middle of its label
_LETTER, _WIDE_LETTER = 2.4, 4.0
_LETTER_HEIGHT = 4.4
_LATIN = 0x24F  # the last of the Latin letters
_LONGEST_LABEL = 4
_MOST_DRAWN = 60
_FEWEST_DRAWN = 3
_SAME = 1e-6
_TEXT, _LARGE_TEXT = 11.0, 14.0  # sizes of letters, in pt
_RING_DASH = "1.2 1"


@dataclass(frozen=True, slots=True)
class Spot:
    """A fastener: the middle of its mark, in mm from the top left; its turn; its label if any."""

    x: float
    y: float
    turn: int
    label: str


@dataclass(frozen=True, slots=True)
class Ring:
    """The circle that the fasteners stand on."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True, slots=True)
class Picture:
    """A pattern as it is drawn: true to the positions, numbered by the turns.

    `mark` is how large the marks are, from the middle; `beside` tells whether the drawing is
    narrow enough to stand beside the figures. All lengths are in mm.
    """

    mark: float
    ring: Ring | None
    spots: tuple[Spot, ...]
    beside: bool
    drawing: Drawing


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
    ring = _LARGE_RING if joint.count <= _MOST_LARGE else _SMALLEST_RING
    drawn = _to_scale(points, _SMALLEST_PLATE if true else 2 * ring)
    if drawn is None:
        return None
    short = all(len(place) <= _LONGEST_LABEL for place in joint.places)
    labels = worked.labels if joint.places and short else ("",) * joint.count
    picture = _picture(drawn, pattern.labels, labels)
    if picture.drawing.width <= _CARD:
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
    nearest = min(math.dist(one, other) for one, other in combinations(points, 2))
    mark = _LARGE_MARK if nearest >= _FAR_APART else _MARK
    left = top = mark + _EDGE
    if any(labels):
        left = max(left, mark + _LABEL + max(map(_wide, labels)) / 2 + _EDGE)
        top = mark + _LABEL + _LETTER_HEIGHT / 2
    width = max(x for x, _ in points) + 2 * left
    height = max(y for _, y in points) + 2 * top
    spots = tuple(
        Spot(x + left, y + top, turn, label)
        for (x, y), turn, label in zip(points, turns, labels, strict=True)
    )
    ring = _ring(points, middle, (middle[0] + left, middle[1] + top))
    says = "Tighten in the order of the numbers"
    drawing = _drawn(spots, ring, mark, (width, height), says)
    return Picture(mark, ring, spots, width <= _BESIDE, drawing)


def loosened(picture: Picture) -> Picture:
    """Return a pattern with the turns of loosening: the last to be tightened goes first."""
    last = max(spot.turn for spot in picture.spots) + 1
    spots = tuple(replace(spot, turn=last - spot.turn) for spot in picture.spots)
    size = picture.drawing.width, picture.drawing.height
    drawing = _drawn(spots, picture.ring, picture.mark, size, "Loosen in the order of the numbers")
    return replace(picture, spots=spots, drawing=drawing)


def _drawn(
    spots: Sequence[Spot], ring: Ring | None, mark: float, size: tuple[float, float], says: str
) -> Drawing:
    middle = _middle([(spot.x, spot.y) for spot in spots])
    words = (*_numbers(spots, mark), *_labels(spots, middle, mark))
    return Drawing(*size, says, tuple(_strokes(spots, ring, mark)), words)


def _strokes(spots: Sequence[Spot], ring: Ring | None, mark: float) -> Iterator[Stroke]:
    """Yield the ring, the marks, and the one of the first to be tightened, which is black."""
    if ring is not None:
        yield Stroke(circle(ring.x, ring.y, ring.radius), HAIR, _RING_DASH)
    rest = drawn_together(circle(spot.x, spot.y, mark) for spot in spots if spot.turn != 1)
    yield Stroke(rest, FRAME, fill="white")
    first = drawn_together(circle(spot.x, spot.y, mark) for spot in spots if spot.turn == 1)
    yield Stroke(first, FRAME, fill="black")


def _numbers(spots: Sequence[Spot], mark: float) -> Iterator[Words]:
    size = _LARGE_TEXT if mark == _LARGE_MARK else _TEXT
    for spot in spots:
        fill = "white" if spot.turn == 1 else "black"
        yield centred(spot.x, foot(spot.y, size), str(spot.turn), size, 600, fill=fill)


def _labels(spots: Sequence[Spot], middle: Point, mark: float) -> Iterator[Words]:
    """Yield the labels, each outside its mark."""
    half = max(_wide(spot.label) for spot in spots) / 2
    for spot in spots:
        if spot.label:
            right, down = _outward((spot.x, spot.y), middle)
            x = spot.x + right * (mark + _LABEL + half)
            y = spot.y + down * (mark + _LABEL)
            yield centred(x, foot(y, _TEXT), spot.label, _TEXT)


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
    return Ring(*shifted, radii[0])
