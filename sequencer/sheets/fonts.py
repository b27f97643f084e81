"""The fonts of the sheets: three weights of one family, and a few marks that it lacks.

The family is Source Sans, from the package `font-source-sans-pro`. It has the letters, figures
and signs of the trade except some that are drawn here, as a font and not as pictures, so that
they stay text: a search of the PDF finds `⌀ 25`, and copying gives what the author typed. The
font is made when it is needed (a few milliseconds), so that nothing binary has to be kept in
step with the code that draws it.

Characters that no font has, neither here nor on the machine, are shown as crossed boxes by one
more such font. The renderer could do so itself, but then encodes the text of the whole document in
a way that not every reader of PDF understands.
"""

from __future__ import annotations

import io
from functools import lru_cache
from importlib.util import find_spec
from math import cos, pi, sin
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

SCHEME = "packet-font"
"""Style sheets name a font as `packet-font:regular`; nothing else is fetched by that name."""

_FACES = {
    "regular": "SourceSansPro-Regular.ttf",
    "semibold": "SourceSansPro-Semibold.ttf",
    "black": "SourceSansPro-Black.ttf",
}
_WEIGHTS = {400: "regular", 600: "semibold", 900: "black"}
MARKS = "marks"
BOXES = "boxes"
NAMES = (*_FACES, MARKS, BOXES)

_EM = 1000
_ASCENT, _DESCENT = 984, -273  # those of Source Sans, so that lines keep their height
_DATE = 3_029_529_600  # the start of 2000, in the seconds since 1904 that fonts count in
_MIDDLE, _PEN = 330, 62  # half the height of a capital, and the width of a stroke


def font_data(name: str, boxed: frozenset[int] = frozenset()) -> bytes:
    """Return the font file called `name`, one of `NAMES`; `boxed` are to be shown as boxes.

    Raises
    ------
    FileNotFoundError
        If the package that brings the fonts is not there.
    """
    if name == BOXES:
        return boxes_font(boxed)
    return marks_font() if name == MARKS else _face_file(name).read_bytes()


def _face_file(name: str) -> Path:
    spec = find_spec("font_source_sans_pro")
    for folder in (spec.submodule_search_locations or ()) if spec else ():
        file = Path(folder) / "files" / _FACES[name]
        if file.is_file():
            return file
    raise FileNotFoundError(
        f"the font file {_FACES[name]} of the package font-source-sans-pro is gone"
    )


@lru_cache(maxsize=1)
def characters() -> frozenset[int]:
    """Return the code points that every weight of the family, or the font of marks, can show."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    shown: list[set[int]] = []
    for name in _FACES:
        with TTFont(_face_file(name), lazy=True) as font:
            shown.append(set(font.getBestCmap()))
    everywhere = set.intersection(*shown)
    return frozenset(everywhere | set(_DRAWN))


@lru_cache(maxsize=len(_FACES))
def advances(weight: int) -> Mapping[int, float]:
    """Return how wide each letter of a weight of the family is, as a share of its size."""
    from fontTools.ttLib import TTFont

    name = _WEIGHTS[weight]
    with TTFont(_face_file(name), lazy=True) as font:
        em, widths = font["head"].unitsPerEm, font["hmtx"]
        told = {code: widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}
    return {code: width / _EM for code, (width, _) in _DRAWN.items()} | told


Point = tuple[float, float]


def _line(start: Point, end: Point, pen: float = _PEN) -> list[Point]:
    """Return the outline of a straight stroke with square ends."""
    (x0, y0), (x1, y1) = start, end
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    dx, dy = (y1 - y0) / length * pen / 2, -(x1 - x0) / length * pen / 2
    return [(x0 + dx, y0 + dy), (x0 - dx, y0 - dy), (x1 - dx, y1 - dy), (x1 + dx, y1 + dy)]


def _round(centre: Point, radius: float) -> list[Point]:
    """Return a circle as a polygon too fine to see."""
    turns = [-2 * pi * step / 64 for step in range(64)]
    return [(centre[0] + radius * cos(turn), centre[1] + radius * sin(turn)) for turn in turns]


def _ring(centre: Point, radius: float) -> list[list[Point]]:
    return [_round(centre, radius + _PEN / 2), _round(centre, radius - _PEN / 2)[::-1]]


def _outlined(corners: list[Point]) -> list[list[Point]]:
    """Return the strokes round a polygon, with round corners."""
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    return [_line(*side) for side in sides] + [_round(corner, _PEN / 2) for corner in corners]


def _slashed(radius: float) -> list[list[Point]]:
    reach = radius * 1.25
    return [
        *_ring((_MIDDLE, _MIDDLE), radius),
        _line((_MIDDLE - reach, _MIDDLE - reach), (_MIDDLE + reach, _MIDDLE + reach)),
    ]


def _cross(reach: float) -> list[list[Point]]:
    return [
        _line((_MIDDLE - reach, _MIDDLE), (_MIDDLE + reach, _MIDDLE)),
        _line((_MIDDLE, _MIDDLE - reach), (_MIDDLE, _MIDDLE + reach)),
    ]


def _upright() -> list[list[Point]]:
    return [_line((60, 31), (600, 31)), _line((_MIDDLE, 31), (_MIDDLE, 640))]


def _danger() -> list[list[Point]]:
    mark = [(292.0, 470.0), (392.0, 470.0), (366.0, 235.0), (318.0, 235.0)]
    return [*_outlined([(50, 31), (342, 620), (634, 31)]), mark, _round((342, 150), 45)]


_HEART = (_MIDDLE, _MIDDLE)
# Each mark: how wide it is, and its outlines. Strokes may lie over each other.
_DRAWN: dict[int, tuple[int, Callable[[], list[list[Point]]]]] = {
    0x20: (200, list),  # a space beside a mark is shown in the font of the mark
    0x2300: (660, lambda: _slashed(215)),  # ⌀ diameter
    0x2205: (660, lambda: _slashed(250)),  # ∅
    0x26A0: (684, _danger),  # ⚠
    0x25CB: (660, lambda: _ring(_HEART, 260)),  # ○
    0x25CE: (660, lambda: [*_ring(_HEART, 270), *_ring(_HEART, 140)]),  # ◎
    0x25CF: (660, lambda: [_round(_HEART, 290)]),  # ●
    0x25A1: (660, lambda: _outlined([(80, 80), (80, 580), (580, 580), (580, 80)])),  # □
    0x2316: (660, lambda: [*_ring(_HEART, 170), *_cross(300)]),  # ⌖ position
    0x22A5: (660, _upright),  # ⊥
    0x27C2: (660, _upright),  # ⟂
    0x2225: (420, lambda: [_line((110, 0), (180, 660)), _line((240, 0), (310, 660))]),  # ∥
    0x23E5: (760, lambda: _outlined([(60, 80), (220, 580), (700, 580), (540, 80)])),  # ⏥ flatness
    0x2011: (311, lambda: [_line((38, 245), (273, 245))]),  # non-breaking hyphen
}


@lru_cache(maxsize=1)
def marks_font() -> bytes:
    """Return a TrueType font with the marks that the family lacks, the same bytes every time."""
    return _font("Packet Marks", {code: (width, draw()) for code, (width, draw) in _DRAWN.items()})


def boxes_font(codes: frozenset[int]) -> bytes:
    """Return a TrueType font that shows each of the code points as a crossed box."""
    corners: list[Point] = [(80, 0), (80, 660), (580, 660), (580, 0)]
    box = [*_outlined(corners), _line(corners[0], corners[2]), _line(corners[1], corners[3])]
    return _font("Packet Boxes", {0x20: (200, []), **dict.fromkeys(sorted(codes), (660, box))})


def _font(family: str, drawn: Mapping[int, tuple[int, list[list[Point]]]]) -> bytes:
    from fontTools.fontBuilder import FontBuilder  # type: ignore[import-untyped]

    names = {code: f"u{code:05X}" for code in drawn}
    builder = FontBuilder(_EM, isTTF=True)
    builder.font.recalcTimestamp = False
    builder.setupGlyphOrder([".notdef", *names.values()])
    builder.setupCharacterMap(names)
    outlines = {names[code]: shape for code, (_, shape) in drawn.items()}
    builder.setupGlyf({name: _glyph(outlines.get(name, ())) for name in builder.font.glyphOrder})
    widths = {".notdef": 500} | {names[code]: width for code, (width, _) in drawn.items()}
    left = {name: getattr(builder.font["glyf"][name], "xMin", 0) for name in outlines}
    builder.setupHorizontalMetrics({name: (w, left.get(name, 0)) for name, w in widths.items()})
    builder.setupHorizontalHeader(ascent=_ASCENT, descent=_DESCENT)
    builder.setupNameTable({"familyName": family, "styleName": "Regular"})
    builder.setupOS2(sTypoAscender=_ASCENT, sTypoDescender=_DESCENT, usWinAscent=_ASCENT)
    builder.setupPost()
    builder.setupHead(unitsPerEm=_EM, created=_DATE, modified=_DATE)
    file = io.BytesIO()
    builder.save(file)
    return file.getvalue()


def _glyph(outlines: Iterable[list[Point]]) -> Any:
    from fontTools.pens.ttGlyphPen import TTGlyphPen  # type: ignore[import-untyped]

    pen = TTGlyphPen(None)
    for outline in outlines:
        points = [(round(x), round(y)) for x, y in outline]
        pen.moveTo(points[0])
        for point in points[1:]:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()
