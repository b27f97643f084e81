"""The pages of steps referred to, filled in once all pages are laid out.

The renderer can do so itself (`target-counter`), but then lays most pages out a second time. Here
a style sheet keeps a place as wide as three figures; what follows on the line moves up to a number
that is shorter.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

PLACE = "\u2007\u2007\u2007"
"""What a style sheet puts in for a number of a page: three spaces as wide as figures."""


def fill_in_pages(document: Any) -> None:
    """Put the number of the page into every reference of a document that is laid out.

    Parameters
    ----------
    document : weasyprint.Document
        Links, `<a href="#…">`, whose text holds `PLACE` are references; one to what is not in
        the document keeps its blank.
    """
    page_of: dict[str, int] = {}
    for number, page in enumerate(document.pages, start=1):
        for anchor in page.anchors:
            page_of.setdefault(anchor, number)
    for page in document.pages:
        for line, box in _places(page._page_box):  # noqa: SLF001 - no other way to a line
            target = str(box.element.get("href") or "").removeprefix("#")
            if target in page_of:
                _fill_in(line, box, str(page_of[target]))


def _places(page_box: Any) -> Iterator[tuple[Any, Any]]:
    """Yield each text with a place in it, and the line that it stands in."""
    from weasyprint.formatting_structure.boxes import LineBox, TextBox

    for line in page_box.descendants():
        if isinstance(line, LineBox):
            for box in line.descendants():
                if isinstance(box, TextBox) and PLACE in box.text:
                    yield line, box


def _fill_in(line: Any, box: Any, number: str) -> None:
    from weasyprint.text.line_break import line_size

    layout, end = box.pango_layout, box.position_x + box.width
    layout.reactivate(box.style)
    layout.set_text(box.text.replace(PLACE, number))
    width, _ = line_size(layout.get_first_line()[0], box.style)
    layout.deactivate()
    gained = box.width - width
    box.text, box.width = layout.text, width
    for other in line.descendants():
        if other is not box and other.position_x >= end - gained / 2:
            other.position_x -= gained
            _move_background(other, gained)


def _move_background(box: Any, by: float) -> None:
    """Move what is painted behind a box, which the renderer places before pages are known."""
    behind = getattr(box, "background", None)
    if behind is None:
        return
    for at, layer in enumerate(behind.layers):
        x, *others = layer.painting_area
        clipped = [(left - by, *rest) for left, *rest in layer.clipped_boxes]
        behind.layers[at] = layer._replace(painting_area=(x - by, *others), clipped_boxes=clipped)
