"""Printed packets as tests read them."""

from __future__ import annotations

import io
import logging
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pypdf import PdfReader
from pypdf.generic import Destination

from sequencer.sheets.pdf import write_pdf

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pypdf import PageObject


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
    pages: tuple[str, ...]
    logged: tuple[str, ...]

    @classmethod
    def of(cls, html: str, layouts: Path | None = None) -> Printed:
        kept = _Kept()
        logger = logging.getLogger("weasyprint")
        logger.addHandler(kept)
        try:
            pdf = write_pdf(html, layouts=layouts)
        finally:
            logger.removeHandler(kept)
        reader = PdfReader(io.BytesIO(pdf))
        pages = tuple(page.extract_text() for page in reader.pages)
        return cls(pdf, reader, pages, tuple(kept.lines))

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


def runs(page: PageObject) -> list[Run]:
    found: list[Run] = []

    def note(text: str, now: list[float], place: list[float], _: object, size: float) -> None:
        if text.strip():
            x, y = place[4], place[5]
            found.append(
                Run(
                    text,
                    x * now[0] + y * now[2] + now[4],
                    x * now[1] + y * now[3] + now[5],
                    size * abs(now[3]),
                )
            )

    page.extract_text(visitor_text=note)
    return found


def squeezed(text: str) -> str:
    """Return the text without white space: where lines break is the page's affair."""
    return "".join(text.split())


def holds(page: str, text: str) -> bool:
    """Tell whether a page holds a text word for word."""
    return squeezed(text) in squeezed(page)
