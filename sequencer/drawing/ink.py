"""What a drawing is made of: strokes and words, few of them, as the layouts place them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

Point = tuple[float, float]

HAIR, THIN, FRAME, HEAD = 0.18, 0.25, 0.36, 0.71
"""Widths of strokes in mm: a hairline, then the three weights of the sheets' rules."""
_PT = 25.4 / 72
_MIDDLE_OF_CAPITALS = 0.33  # above the foot of the letters, as a share of their size


@dataclass(frozen=True, slots=True)
class Stroke:
    """Lines or surfaces drawn in one go; `width` 0 for a surface without an outline."""

    path: str
    width: float = FRAME
    dash: str = ""
    fill: str = "none"


@dataclass(frozen=True, slots=True)
class Words:
    """A text at its place: where it begins, the foot of its letters, its size in pt.

    Texts are never held by their middle or end in a page: the renderer would draw each of those
    as a layer of its own, which takes time and which readers of the PDF do not all look into.
    """

    x: float
    y: float
    text: str
    size: float
    weight: int = 400
    fill: str = "black"

    @property
    def height(self) -> str:
        """The size of the letters in mm, as text."""
        return mm(self.size * _PT)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing of so many mm; `says` is for those who cannot see it.

    What the layouts show is wider by one stroke, so that frames along its edges are drawn whole.
    """

    width: float
    height: float
    says: str
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]

    @property
    def shown(self) -> tuple[str, str]:
        """How wide and how high the drawing is with its outermost strokes, in mm."""
        return mm(self.width + FRAME), mm(self.height)

    @property
    def seen(self) -> str:
        """What the layouts show, as the box of the view."""
        return f"{mm(-FRAME / 2)} 0 {mm(self.width + FRAME)} {mm(self.height)}"


def mm(length: float) -> str:
    """Return a length as the layouts write it.

    Examples
    --------
    >>> mm(3), mm(2.5), mm(-0.001)
    ('3', '2.5', '0')
    """
    text = f"{length:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def points_in_mm(size: float) -> float:
    """Return a size of letters, given in pt, in mm."""
    return size * _PT


def foot(middle: float, size: float) -> float:
    """Return where the foot of letters of a size in pt stands if their middle is here, in mm."""
    return middle + size * _PT * _MIDDLE_OF_CAPITALS


def chain(points: Sequence[Point], *, closed: bool = False) -> str:
    """Return the path through points."""
    told = " ".join(f"{mm(x)},{mm(y)}" for x, y in points)
    return f"M{told}{'Z' if closed else ''}"


def box(left: float, top: float, width: float, height: float) -> str:
    """Return the path of a rectangle."""
    return f"M{mm(left)},{mm(top)}h{mm(width)}v{mm(height)}h{mm(-width)}Z"


def circle(x: float, y: float, radius: float) -> str:
    """Return the path of a circle."""
    half = f"a{mm(radius)},{mm(radius)} 0 1 0 "
    return f"M{mm(x - radius)},{mm(y)}{half}{mm(2 * radius)},0{half}{mm(-2 * radius)},0Z"


def drawn_together(paths: Iterable[str]) -> str:
    """Return several paths as one: the renderer takes as long for one as for the other."""
    return "".join(paths)
