"""Printed packets as tests read them."""

from __future__ import annotations

import io
import logging
import re
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from pypdf import PdfReader
from pypdf.generic import ContentStream, Destination

from sequencer.sheets.pdf import write_pdf

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from pypdf import PageObject

    from sequencer.sheets.photos import Photo


class _Kept(logging.Handler):
    def __init__(self) -> None:
        super().__init__()
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


@dataclass(frozen=True)
class Printed:
    """A PDF, its pages' text, and what the renderer had to complain of."""

    pdf: bytes
    reader: PdfReader
    logged: tuple[str, ...]

    @cached_property
    def pages(self) -> tuple[str, ...]:
        return tuple(page.extract_text() for page in self.reader.pages)

    @classmethod
    def of(cls, html: str, layouts: Path | None = None, photos: Sequence[Photo] = ()) -> Printed:
        kept = _Kept()
        logger = logging.getLogger("weasyprint")
        logger.addHandler(kept)
        try:
            pdf = write_pdf(html, layouts=layouts, photos=photos)
        finally:
            logger.removeHandler(kept)
        reader = PdfReader(io.BytesIO(pdf))
        return cls(pdf, reader, tuple(kept.lines))

    @property
    def text(self) -> str:
        return "\n".join(self.pages)

    def bookmarks(self) -> list[tuple[int, str, int]]:
        """Return depth, title and page (from 1) of every bookmark, in order."""
        return list(_flat(self.reader, self.reader.outline, 0))

    def page_of_step(self, number: int) -> int:
        """Return the page on which a step's card begins."""
        return next(
            page
            for depth, title, page in self.bookmarks()
            if depth and title.split()[0] == str(number)
        )


def _flat(reader: PdfReader, outline: Sequence[object], depth: int) -> list[tuple[int, str, int]]:
    found: list[tuple[int, str, int]] = []
    for item in outline:
        if isinstance(item, list):
            found += _flat(reader, item, depth + 1)
        elif isinstance(item, Destination):
            page = reader.get_destination_page_number(item)
            assert page is not None
            found.append((depth, str(item.title), page + 1))
    return found


@dataclass(frozen=True)
class Run:
    """A run of text: where it starts, in points from the bottom left, and its size in points."""

    text: str
    x: float
    y: float
    size: float


@dataclass(frozen=True)
class Box:
    """A rectangle that is drawn: its corner at the bottom left and its size, in points."""

    x: float
    y: float
    width: float
    height: float

    @property
    def is_tick(self) -> bool:
        """Whether it is a box to tick, 5 mm square over all."""
        return max(abs(self.width - _TICK), abs(self.height - _TICK)) < 0.1


_TICK = 5 * 72 / 25.4


def runs(page: PageObject) -> list[Run]:
    """Return every run of text as it is drawn on the page."""
    return look_at(page)[0]


def operations(page: PageObject) -> Iterator[tuple[list[Any], bytes, Matrix]]:
    """Yield what draws a page, in turn, each with the matrix that holds for it."""
    matrix, kept = PAGE, [PAGE]
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        match operator:
            case b"q":
                kept.append(matrix)
            case b"Q":
                matrix = kept.pop()
            case b"cm":
                matrix = times([float(one) for one in operands], matrix)
            case _:
                yield operands, operator, matrix


def look_at(page: PageObject) -> tuple[list[Run], list[Box]]:
    """Return runs of text and rectangles, with all that moves or scales them on the page.

    No text may stand in a layer of its own: it would be looked for in vain.
    """
    letters = {name: _letters(font) for name, font in _resources(page, "/Font").items()}
    layers = _resources(page, "/XObject").values()
    assert not any(layer["/Subtype"] == "/Form" for layer in layers)
    found: list[Run] = []
    boxes: list[Box] = []
    text, at, name, size = "", PAGE, "", 0.0
    for operands, operator, matrix in operations(page):
        match operator:
            case b"Tm":
                at = at if text else times([float(one) for one in operands], matrix)
            case b"Tf":
                name, size = str(operands[0]), float(operands[1])
            case b"TJ":
                text += "".join(_read(one, letters[name]) for one in operands[0])
            case b"re":
                boxes.append(_box([float(one) for one in operands], matrix))
            case b"ET":
                found.append(Run(text, at[4], at[5], size * abs(at[3])))
                text = ""
    return [run for run in found if run.text.strip()], boxes


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter as it is drawn: its left and right edge and its line, in points.

    By the number `mark` the structure of the PDF refers to it; without one it is page furniture.
    """

    text: str
    left: float
    right: float
    y: float
    mark: int | None


def letters_of(page: PageObject) -> list[Letter]:
    """Return every letter that is drawn, by the widths that the fonts in the file have."""
    fonts = {name: _Font(font) for name, font in _resources(page, "/Font").items()}
    found: list[Letter] = []
    at = PAGE
    name, size = "", 0.0
    marks: list[int | None] = [None]
    for operands, operator, matrix in operations(page):
        match operator:
            case b"Tm":
                at = times([float(one) for one in operands], matrix)
            case b"Tf":
                name, size = str(operands[0]), float(operands[1])
            case b"TJ":
                drawn, at = fonts[name].drawn(operands[0], at, size, marks[-1])
                found += drawn
            case b"BDC" | b"BMC":
                marks.append(_mark(operands, marks[-1]))
            case b"EMC":
                marks.pop()
    return found


def _mark(operands: list[Any], around: int | None) -> int | None:
    """Return the number of what begins here: its own, else that of what it stands in."""
    if operands[0] == "/Artifact":
        return None
    return operands[1].get("/MCID", around) if len(operands) > 1 else around


class _Font:
    def __init__(self, font: Any) -> None:
        self.letters, self.widths = _letters(font), _widths(font)

    def drawn(
        self, pieces: Any, at: Matrix, size: float, mark: int | None
    ) -> tuple[list[Letter], Matrix]:
        """Return the letters of a run that begins at a place, and where the next one begins."""
        found: list[Letter] = []
        for number in _numbers(pieces):
            if isinstance(number, float):
                at = times([1, 0, 0, 1, -number * size / 1000, 0], at)
                continue
            after = times([1, 0, 0, 1, self.widths.get(number, 0.0) * size / 1000, 0], at)
            found.append(Letter(self.letters[number], at[4], after[4], at[5], mark))
            at = after
        return found, at


def _numbers(pieces: Any) -> Iterator[int | float]:
    """Yield the numbers of glyphs, and as floats how far the next one is moved back."""
    for piece in pieces:
        if hasattr(piece, "original_bytes"):
            data = piece.original_bytes
            yield from (int.from_bytes(data[at : at + 2]) for at in range(0, len(data), 2))
        else:
            yield float(piece)


def _widths(font: Any) -> dict[int, float]:
    """Return how wide the glyphs of a font are, in thousandths of its size."""
    entries = font["/DescendantFonts"][0].get_object()["/W"].get_object()
    found: dict[int, float] = {}
    for first, widths in zip(entries[::2], entries[1::2], strict=True):
        found |= {int(first) + at: float(one) for at, one in enumerate(widths)}
    return found


def _box(sides: list[float], matrix: Matrix) -> Box:
    x, y, width, height = sides
    corners = [times([1, 0, 0, 1, *at], matrix)[4:] for at in ((x, y), (x + width, y + height))]
    (left, right), (bottom, top) = (sorted(axis) for axis in zip(*corners, strict=True))
    return Box(left, bottom, right - left, top - bottom)


Matrix = list[float]
PAGE: Matrix = [1, 0, 0, 1, 0, 0]


def times(one: Matrix, other: Matrix) -> Matrix:
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    return [
        a * g + b * i,
        a * h + b * j,
        c * g + d * i,
        c * h + d * j,
        e * g + f * i + k,
        e * h + f * j + m,
    ]


def _resources(page: PageObject, kind: str) -> dict[str, Any]:
    resources: Any = page["/Resources"]
    return {name: one.get_object() for name, one in resources.get(kind, {}).items()}


def _letters(font: Any) -> dict[int, str]:
    """Return what each number of a font stands for, as the file tells its readers."""
    told = font["/ToUnicode"].get_object().get_data().decode()
    pairs = re.findall(r"<([0-9a-f]+)> <([0-9a-f]+)>", told, re.IGNORECASE)
    return {int(one, 16): bytes.fromhex(other).decode("utf-16-be") for one, other in pairs}


def _read(piece: Any, letters: dict[int, str]) -> str:
    if not hasattr(piece, "original_bytes"):
        return ""
    data = piece.original_bytes
    return "".join(letters[int.from_bytes(data[at : at + 2])] for at in range(0, len(data), 2))


def squeezed(text: str) -> str:
    """Return the text without white space and joiners: where lines break is the page's affair."""
    return "".join(text.replace("\u2060", "").split())


def holds(page: str, text: str) -> bool:
    """Tell whether a page holds a text word for word."""
    return squeezed(text) in squeezed(page)
