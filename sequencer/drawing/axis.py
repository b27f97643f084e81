"""Parts along one axis, the upper half of them: how long and how far out each is drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

TO_SCALE = "to scale"
LENGTHS = "lengths to scale, diameters not"
DIAMETERS = "diameters to scale, lengths not"
NEITHER = "not to scale"

_NARROWEST = 2.5  # mm on paper; what is shorter would not be seen
_THINNEST = 0.6
_WIDEST = 18.0  # of places that are all drawn alike
_SEAT, _PART = 0.45, 1.0  # how far out, as a share, where no diameters are given


@dataclass(frozen=True, slots=True)
class Place:
    """A place along the axis: lengths in mm, None where it is not given.

    `seat` is the diameter of what the part sits on, or in; `far` that of its other side. A
    shoulder has no part, and so no far side.
    """

    length: float | None
    seat: float | None
    far: float | None
    is_shoulder: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """A place as drawn, in mm: from left to right; its seat and its far side above the axis."""

    left: float
    right: float
    seat: float
    far: float


@dataclass(frozen=True, slots=True)
class Axis:
    """The places as drawn, and what of them is true to scale."""

    spans: tuple[Span, ...]
    scale: str

    @property
    def length(self) -> float:
        """How long the drawing is, in mm."""
        return self.spans[-1].right


def along(places: Sequence[Place], width: float, height: float, *, inside: bool = False) -> Axis:
    """Draw places side by side within a width and a height above the axis, in mm.

    Parameters
    ----------
    places : sequence of Place
        The places from one end to the other; there is at least one.
    width, height : float
        What there is room for.
    inside : bool
        Whether the parts sit in a bore, so that the far side is nearer to the axis.

    Returns
    -------
    Axis
        To one scale where all sizes are given and none would be too small to be seen; else what
        can be. Where lengths are not all given, all are drawn alike, and so are diameters.
    """
    lengths = [place.length for place in places if place.length is not None]
    halves = _halves(places)
    longest = sum(lengths)
    outermost = max((half for pair in halves for half in pair), default=0.0)
    known = len(lengths) == len(places) and longest > 0
    if known and outermost > 0:
        scale = min(width / longest, height / outermost)
        if min(lengths) * scale >= _NARROWEST and _thinnest(places, halves) * scale >= _THINNEST:
            return _axis([length * scale for length in lengths], halves, scale, TO_SCALE)
    by_length = known and min(lengths) * width / longest >= _NARROWEST
    drawn = (
        [length * width / longest for length in lengths]
        if by_length
        else [min(_WIDEST, width / len(places))] * len(places)
    )
    if outermost > 0 and not by_length:
        scale = height / outermost
        if _thinnest(places, halves) * scale >= _THINNEST:
            return _axis(drawn, halves, scale, DIAMETERS)
    seat, far = (_PART, _SEAT) if inside else (_SEAT, _PART)
    alike = [(seat, seat if place.is_shoulder else far) for place in places]
    return _axis(drawn, alike, height, LENGTHS if by_length else NEITHER)


def _halves(places: Sequence[Place]) -> list[tuple[float, float]]:
    """Return how far from the axis seat and far side are; nothing unless all are given."""
    found: list[tuple[float, float]] = []
    for place in places:
        far = place.seat if place.is_shoulder else place.far
        if place.seat is None or far is None:
            return []
        found.append((place.seat / 2, far / 2))
    return found


def _thinnest(places: Sequence[Place], halves: Sequence[tuple[float, float]]) -> float:
    return min(
        (
            abs(far - seat)
            for place, (seat, far) in zip(places, halves, strict=True)
            if not place.is_shoulder
        ),
        default=_THINNEST,
    )


def _axis(
    lengths: Sequence[float], halves: Sequence[tuple[float, float]], scale: float, words: str
) -> Axis:
    spans: list[Span] = []
    left = 0.0
    for length, (seat, far) in zip(lengths, halves, strict=True):
        spans.append(Span(left, left + length, seat * scale, far * scale))
        left += length
    return Axis(tuple(spans), words)
