"""Where the boxes to tick are on the paper: on the page, and beside what they are for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.sheets.pages import Printed, operations, runs
from tests.sheets.sample import winch_plan

if TYPE_CHECKING:
    from pypdf import PageObject

SIDE = 14.17  # points: 5 mm over all, as printing asks
NUMBER = 22.5  # points: only the number of a step is larger on a card, and nothing else on a line


def boxes(page: PageObject) -> list[tuple[float, float]]:
    """Return the lower left corner of every square of 5 mm that is drawn, in points."""
    found = []
    for operands, operator, matrix in operations(page):
        if operator == b"re":
            left, top, width, height = (float(one) for one in operands)
            across, up = width * matrix[0], height * matrix[3]
            if abs(across - SIDE) < 0.1 and abs(abs(up) - SIDE) < 0.1:
                y = top * matrix[3] + matrix[5]
                found.append((left * matrix[0] + matrix[4], min(y, y + up)))
    return found


def test_every_box_is_printed_once_and_whole_on_its_page(printed: Printed, winch_html: str) -> None:
    every = 0
    for page in printed.reader.pages:
        for x, y in boxes(page):
            every += 1
            assert 0 < x < float(page.mediabox.width) - SIDE
            assert 0 < y < float(page.mediabox.height) - SIDE
    assert every == winch_html.count('<i class="box"')


def test_every_step_has_its_box_left_of_its_number_and_level_with_it(printed: Printed) -> None:
    beside = []
    for page in printed.reader.pages:
        squares = boxes(page)
        for run in runs(page):
            if run.text.strip().isdigit() and run.size > NUMBER:
                level = [x for x, y in squares if 0 < run.x - x < 30 and abs(run.y - y) < 8]
                assert len(level) == 1, run
                beside.append(int(run.text))
    order = winch_plan().order
    assert order is not None
    assert beside == list(range(1, len(order) + 1))
