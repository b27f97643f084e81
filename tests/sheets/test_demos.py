"""Every model that ships, printed and read back: words, places, numbers of pages.

Each is printed once, by one test, because that is what takes time.
"""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import plan
from sequencer.reading import read_file
from sequencer.sheets.letters import wide
from sequencer.sheets.packet import packet_html
from tests.sheets.pages import Printed, look_at, squeezed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.steps import Step
    from tests.sheets.pages import Box, Run

ASSEMBLIES = Path(__file__).resolve().parent.parent.parent / "assemblies"
SOUND = [model for model in sorted(ASSEMBLIES.glob("*.yaml")) if "mistakes" not in model.stem]
POINTS_A_MM = 72 / 25.4
FINGERPRINT = "7f3a·c91e"
NUMBER_SIZE, SIZE_OF_THREE = 23, 19  # points, of the number on a card; with three digits
_UNSEEN = ("style", "title")
_TELLING = 12  # letters; a shorter text, such as a figure, stands inside others by chance


@pytest.mark.parametrize("model", SOUND, ids=lambda model: model.stem)
def test_printed_model_reads_back_as_it_was_written(model: Path) -> None:
    assembly = read_file(model).assembly
    assert assembly is not None
    planned = plan(assembly)
    assert planned.order is not None
    html = packet_html(assembly, planned, fingerprint=FINGERPRINT)
    printed = Printed.of(html)
    assert printed.logged == ()
    looks = [look_at(page) for page in printed.reader.pages]
    pages = ["\n".join(run.text for run in runs) for runs, _ in looks]
    starts, cards = _cards(printed, pages, len(planned.order))
    steps = {step.id: step for step in assembly.steps}
    for number, name in enumerate(planned.order, start=1):
        page = starts[number - 1]
        _card_is_whole(assembly, steps[name], pages[page - 1], cards[number - 1])
        _box_stands_beside_the_number(*looks[page - 1], number)
    for runs, _ in looks[starts[0] - 1 : starts[-1]]:
        _letters_are_read_at_arms_length(runs)
    _words_of_all_are_printed(assembly, pages)
    _no_words_are_lost(html, [runs for runs, _ in looks])
    _pages_are_in_order(assembly, printed, pages)
    _references_lead_to_their_pages(pages, starts)
    for look in looks:
        _all_is_inside_the_margins(*look)


def _cards(printed: Printed, pages: list[str], count: int) -> tuple[list[int], list[str]]:
    """Return the page on which each card begins, and the text from there to where the next does.

    The bookmarks say where; there is one for each card, in the order of the numbers.
    """
    marks = printed.bookmarks()
    of_steps = [(title, page) for depth, title, page in marks if depth == 2]
    if not of_steps:  # a job without sections
        at = [title for _, title, _ in marks].index("Steps")
        of_steps = [(title, page) for depth, title, page in marks[at:] if depth == 1]
    assert [int(title.split()[0]) for title, _ in of_steps] == list(range(1, count + 1))
    starts = [page for _, page in of_steps]
    ends = [*starts[1:], starts[-1] + 1]
    return starts, [
        squeezed("".join(pages[start - 1 : end])) for start, end in zip(starts, ends, strict=True)
    ]


def _card_is_whole(assembly: Assembly, step: Step, page: str, card: str) -> None:
    """All that a step says stands on its card, and what warns of it on its first page."""
    for text in (*step.warning, *step.caution, *step.notice):
        assert squeezed(text) in squeezed(page), step.id
    for text in (step.do, *step.note, step.hold, step.position):
        assert squeezed(text) in card, step.id
    for text in _figures_of(assembly, step):
        assert squeezed(text) in card, step.id


def _figures_of(assembly: Assembly, step: Step) -> Iterator[str]:
    joints = {joint.id: joint for joint in assembly.joints}
    checks = {check.id: check for check in assembly.checks}
    torques = [step.torque, *(joints[link.to].torque for link in step.tighten)]
    yield from (torque.value.text for torque in torques if torque)
    for link in step.check:
        limits = [checks[link.to].limit, *(one.limit for one in checks[link.to].results)]
        yield from (limit.value.text for limit in limits if limit)


def _box_stands_beside_the_number(runs: list[Run], boxes: list[Box], number: int) -> None:
    """The number stands large on the page, and right before it a box to tick."""
    found = [run for run in runs if _is_number(run, number)]
    assert len(found) == 1, number
    assert [box for box in boxes if box.is_tick and _is_beside(box, found[0])], number
    end = found[0].x + wide(str(number), found[0].size, 900) * POINTS_A_MM
    beyond = [run.x for run in runs if run.x > found[0].x and abs(run.y - found[0].y) < 0.1]
    assert min(beyond) > end + 2, number


def _is_number(run: Run, number: int) -> bool:
    size = SIZE_OF_THREE if number > 99 else NUMBER_SIZE
    return run.text.strip() == str(number) and abs(run.size - size) < 0.1


def _is_beside(box: Box, number: Run) -> bool:
    middle = number.y + NUMBER_SIZE / 3
    is_level = box.y < middle < box.y + box.height + 3
    return is_level and 0 < number.x - (box.x + box.width) < 4 * POINTS_A_MM


def _letters_are_read_at_arms_length(runs: list[Run]) -> None:
    """Between head and foot of a page of cards no letters are smaller than 11 pt."""
    within = [run for run in runs if 19 * POINTS_A_MM < run.y < (297 - 22) * POINTS_A_MM]
    assert within
    assert [run for run in within if run.size < 10.99] == []


def _words_of_all_are_printed(assembly: Assembly, pages: list[str]) -> None:
    everything = squeezed("".join(pages))
    words = [assembly.title, assembly.scope, *assembly.warning, *assembly.caution, *assembly.wear]
    words += [part.label for part in assembly.parts] + [part.number for part in assembly.parts]
    words += [joint.torque.value.text for joint in assembly.joints if joint.torque]
    words += [check.limit.value.text for check in assembly.checks if check.limit]
    words += [section.label for section in assembly.sections]
    assert [text for text in words if squeezed(text) not in everything] == []


class _Said(HTMLParser):
    """The texts of a document, as it hands them to the renderer."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self._unseen = 0

    def handle_starttag(self, tag: str, attrs: object) -> None:  # noqa: ARG002 - as it is called
        self._unseen += tag in _UNSEEN

    def handle_endtag(self, tag: str) -> None:
        self._unseen -= tag in _UNSEEN

    def handle_data(self, data: str) -> None:
        if not self._unseen:
            self.texts.append(squeezed(data))


def _no_words_are_lost(html: str, pages: list[list[Run]]) -> None:
    """Every text that goes to the renderer is on the paper, at least as often."""
    said = _Said()
    said.feed(html)
    given, paper = "".join(said.texts), "".join(map(_without_furniture, pages))
    texts = {text for text in said.texts if len(text) >= _TELLING}
    assert texts
    assert [text for text in texts if given.count(text) > paper.count(text)] == []


def _without_furniture(runs: list[Run]) -> str:
    """Return what stands on a page without its head and its foot, which are drawn last."""
    lines = {round(run.y) for run in runs[-3:]}  # what sheet it is, the notice, the number
    return squeezed("".join(run.text for run in runs if round(run.y) not in lines))


def _pages_are_in_order(assembly: Assembly, printed: Printed, pages: list[str]) -> None:
    count = len(pages)
    for number, page in enumerate(pages, start=1):
        assert squeezed(f"model {FINGERPRINT} · {number} of {count}") in squeezed(page)
        assert squeezed(assembly.notice) in squeezed(page)
    tops = [(title, page) for depth, title, page in printed.bookmarks() if depth == 0]
    assert tops[0] == ("Cover", 1)
    assert [page for _, page in tops] == sorted(page for _, page in tops)
    assert [title for title, _ in tops if title in ("Steps", "Bench checklist")] == [
        "Steps",
        "Bench checklist",
    ]


def _references_lead_to_their_pages(pages: list[str], starts: list[int]) -> None:
    named = re.findall(r"step\s+(\d+)\s*,\s+page\s+(\d*)", "\n".join(pages))
    assert named or len(starts) < 12
    assert [(step, page) for step, page in named if page != str(starts[int(step) - 1])] == []


def _all_is_inside_the_margins(runs: list[Run], boxes: list[Box]) -> None:
    right, top = (210 - 10) * POINTS_A_MM, (297 - 4) * POINTS_A_MM
    for run in runs:
        assert 4 * POINTS_A_MM < run.x < right, run
        assert 4 * POINTS_A_MM < run.y < top, run
    for box in filter(lambda one: one.is_tick, boxes):
        assert 10 * POINTS_A_MM < box.x < box.x + box.width < right, box
        assert 15 * POINTS_A_MM < box.y < box.y + box.height < top, box
