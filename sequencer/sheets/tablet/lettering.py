"""The packet's fonts for the page: cut down to what it shows and what may be typed, as data."""

from __future__ import annotations

import base64
import io

from sequencer.sheets import fonts

_WEIGHTS = {"regular": 400, "semibold": 600, "black": 900}
_TYPED = frozenset((*range(0x20, 0x7F), *range(0xA0, 0x180)))  # what a keyboard here may give
_NOT_NEEDED = (b"BASE", b"DSIG", b"GDEF", b"GSUB", b"JSTF", b"SVG ")


def font_faces(shown: str) -> str:
    """Return the style rules that bring the fonts of the characters shown, with no file beside.

    Raises
    ------
    FileNotFoundError
        If the package that brings the fonts is not there.
    """
    wanted = frozenset(map(ord, shown))
    rules = [
        _rule("Packet Sans", weight, _cut_down(fonts.font_data(name), wanted | _TYPED))
        for name, weight in _WEIGHTS.items()
    ]
    marks = _cut_down(fonts.marks_font(), wanted)
    rules += [_rule("Packet Marks", weight, marks) for weight in _WEIGHTS.values()]
    return "\n".join(rules)


def _rule(family: str, weight: int, data: bytes) -> str:
    source = f"data:font/woff2;base64,{base64.b64encode(data).decode('ascii')}"
    return (
        f'@font-face {{ font-family: "{family}"; font-weight: {weight}; '
        f'src: url("{source}") format("woff2") }}'
    )


def _cut_down(data: bytes, wanted: frozenset[int]) -> bytes:
    """Return a font with the glyphs of these characters only, packed as browsers read it."""
    import uharfbuzz as hb  # type: ignore[import-untyped]
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    subset = hb.SubsetInput()
    subset.unicode_set.update(sorted(wanted))
    subset.drop_table_tag_set.update(int.from_bytes(tag, "big") for tag in _NOT_NEEDED)
    subset.flags = hb.SubsetFlags.NO_HINTING | hb.SubsetFlags.DESUBROUTINIZE
    face = hb.subset(hb.Face(hb.Blob(data)), subset)
    packed = io.BytesIO()
    with TTFont(io.BytesIO(face.blob.data), recalcTimestamp=False) as font:
        font.flavor = "woff2"
        font.save(packed)
    return packed.getvalue()
