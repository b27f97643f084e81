"""The printed packet, as a reader of the PDF finds it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest

from sequencer.sheets.packet import packet_html
from tests.sheets.pages import Printed, holds, look_at, runs, squeezed
from tests.sheets.sample import FINGERPRINT, ORDER, winch, winch_plan

if TYPE_CHECKING:
    from pypdf import PdfReader

    from sequencer.model.steps import Step
    from tests.sheets.pages import Box, Run

WINCH = winch()
NUMBERS = {step: at for at, step in enumerate(ORDER, start=1)}
STEPS = tuple(step for step in WINCH.steps if step.id in NUMBERS)
POINTS_A_MM = 72 / 25.4


def test_renderer_finds_nothing_wrong_with_the_layouts(printed: Printed) -> None:
    assert printed.logged == ()


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.id)
def test_step_stands_word_for_word_with_its_cautions(printed: Printed, step: Step) -> None:
    page = printed.pages[printed.page_of_step(NUMBERS[step.id]) - 1]
    for text in (step.do, *step.warning, *step.caution, *step.notice, *step.note):
        assert holds(page, text)


def test_cautions_come_before_the_action(printed: Printed) -> None:
    for step in STEPS:
        page = squeezed(printed.pages[printed.page_of_step(NUMBERS[step.id]) - 1])
        for text in (*step.warning, *step.caution, *step.notice):
            assert page.index(squeezed(text)) < page.index(squeezed(step.do))


def test_torques_stand_word_for_word_on_the_page_of_their_step(printed: Printed) -> None:
    joints = {joint.id: joint for joint in WINCH.joints}
    for step in STEPS:
        page = printed.pages[printed.page_of_step(NUMBERS[step.id]) - 1]
        torques = [joints[link.to].torque for link in step.tighten] + [step.torque]
        for torque in filter(None, torques):
            assert torque.value.text in page


def test_checks_stand_word_for_word_on_the_page_of_their_step(printed: Printed) -> None:
    checks = {check.id: check for check in WINCH.checks}
    for step in STEPS:
        page = printed.pages[printed.page_of_step(NUMBERS[step.id]) - 1]
        for check in (checks[link.to] for link in step.check):
            words = (check.measure, check.look, check.feel, check.listen, check.good, check.bad)
            assert all(holds(page, text) for text in words)
            assert check.limit is None or check.limit.value.text in page
            if check.rework is not None and check.rework.limit is not None:
                assert check.rework.limit.value.text in page


def test_every_other_word_of_the_author_is_printed(printed: Printed) -> None:
    words = [WINCH.title, WINCH.scope, WINCH.notice, *WINCH.wear, *WINCH.warning, *WINCH.caution]
    words += [text for part in WINCH.parts for text in (part.name, part.number)]
    words += [tool.name for tool in WINCH.tools] + [section.title for section in WINCH.sections]
    words += [group.why for group in WINCH.together]
    words += [link.why for section in WINCH.sections for link in section.after]
    for step in WINCH.steps:
        words += [step.position, step.by, step.hold, *(fit.facing for fit in step.fits)]
        words += [link.why for link in (*step.after, *step.onto, *step.takes_off)]
        words += [link.why for link in (*step.needs, *step.not_while, *step.loosens)]
        words += [step.do, *step.warning]
    words += [state.why for state in WINCH.states] + [trial.why for trial in WINCH.trials]
    words += [choice.why for choice in WINCH.one_of] + [unit.name for unit in WINCH.units]
    words += [link.why for check in WINCH.checks for link in check.upset_by]
    everything = squeezed(printed.text)
    assert [text for text in words if squeezed(text) not in everything] == []


def test_pages_named_in_references_are_right(printed: Printed) -> None:
    named = re.findall(r"step\s+(\d+),\s+page\s+(\d+)", printed.text)
    assert len(named) >= 12
    for step, page in named:
        assert printed.page_of_step(int(step)) == int(page)


def test_every_page_has_its_head_and_foot(printed: Printed) -> None:
    count = len(printed.pages)
    for number, page in enumerate(printed.pages, start=1):
        assert "issue C" in page
        assert "Hand winch, two gears" in page
        assert "Invented for demonstration. Not for use on real equipment." in page
        assert f"model {FINGERPRINT} · {number} of {count}" in page


def test_head_names_the_section_that_the_page_begins_in(printed: Printed) -> None:
    page = printed.pages[printed.page_of_step(NUMBERS["drum-on"]) - 1]
    assert "Drum · issue C" in page or "Side plates · issue C" in page
    assert "Cover · issue C" in printed.pages[0]
    assert "Bench checklist · issue C" in printed.pages[-1]


def test_bookmarks_lead_through_sheets_sections_and_steps(printed: Printed) -> None:
    bookmarks = printed.bookmarks()
    assert [title for depth, title, _ in bookmarks if depth == 0] == [
        "Cover",
        "Key to the marks",
        "Notes",
        "Before you start",
        "Kit: lay out first",
        "Condition of parts",
        "Steps",
        "Torque record",
        "Sources",
        "Bench checklist",
    ]
    sections = [title for depth, title, _ in bookmarks if depth == 1]
    assert sections == [section.title for section in WINCH.sections]
    steps = [title for depth, title, _ in bookmarks if depth == 2]
    assert len(steps) == len(STEPS)
    assert steps[6] == "7 Key the drum gear on to the drum shaft, up to its shoulder."


def test_pdf_says_its_title_language_and_structure(printed: Printed) -> None:
    catalog: Any = printed.reader.trailer["/Root"]
    assert printed.reader.metadata is not None
    assert printed.reader.metadata.title == f"{WINCH.title}, issue C"
    assert catalog["/Lang"] == "en"
    assert catalog["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in catalog
    assert "/CreationDate" not in printed.reader.metadata


def test_fonts_are_embedded(printed: Printed) -> None:
    resources: Any = printed.reader.pages[0]["/Resources"]
    fonts = resources["/Font"].values()
    descriptors = [
        font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"] for font in fonts
    ]
    assert descriptors
    assert all("/FontFile2" in descriptor.get_object() for descriptor in descriptors)
    families = {str(descriptor.get_object()["/FontFamily"]) for descriptor in descriptors}
    assert families == {"Packet Sans", "Packet Marks"}


def test_same_document_gives_the_same_bytes(printed: Printed, winch_html: str) -> None:
    assert Printed.of(winch_html).pdf == printed.pdf


def test_paper_is_a4_or_letter(printed: Printed, letter: PdfReader) -> None:
    a4 = printed.reader.pages[0].mediabox
    assert float(a4.width) == pytest.approx(210 * POINTS_A_MM, abs=0.1)
    assert float(a4.height) == pytest.approx(297 * POINTS_A_MM, abs=0.1)
    assert (float(letter.pages[0].mediabox.width), float(letter.pages[0].mediabox.height)) == (
        612,
        792,
    )


def test_nothing_is_printed_outside_the_margins(printed: Printed, letter: PdfReader) -> None:
    for page in (*printed.reader.pages, *letter.pages):
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        for run in runs(page):
            assert 15 * POINTS_A_MM < run.x < width - 14 * POINTS_A_MM, run
            assert 8 * POINTS_A_MM < run.y < height - 4 * POINTS_A_MM, run


def test_draft_is_marked_on_every_page_with_its_reasons_before_the_start(letter: PdfReader) -> None:
    pages = [page.extract_text() for page in letter.pages]
    assert all("DRAFT" in page for page in pages)
    before = next(page for page in pages if "Before you start · issue" in page)
    assert holds(before, "joint M16: two sources disagree and none is chosen")


def test_a_finished_packet_is_no_draft(printed: Printed) -> None:
    assert "DRAFT" not in printed.text


def test_text_on_the_cards_is_eleven_points_or_more(printed: Printed) -> None:
    first = printed.page_of_step(1)
    last = printed.page_of_step(len(STEPS))
    for page in printed.reader.pages[first - 1 : last]:
        top, bottom = float(page.mediabox.height) - 22 * POINTS_A_MM, 19 * POINTS_A_MM
        on_the_cards = [run for run in runs(page) if bottom < run.y < top]
        assert [run for run in on_the_cards if run.size < 10.99] == []


def test_torques_and_limits_are_sixteen_points_or_more(printed: Printed) -> None:
    sizes: dict[str, float] = {}
    for page in printed.reader.pages[printed.page_of_step(1) - 1 :]:
        for run in runs(page):
            sizes[run.text.strip()] = max(run.size, sizes.get(run.text.strip(), 0.0))
    large = ("65 N·m ± 5 %", "8 to 9 N·m", "61.0 N·m", "20 N·m then 90°", "30.02 to 30.06 mm")
    assert all(sizes[figure] >= 16 for figure in large)


def test_stop_stands_before_the_step_that_shuts_the_last_way(printed: Printed) -> None:
    for step, facts in winch_plan().steps.items():
        if not facts.last_chance_for:
            continue
        page = printed.pages[printed.page_of_step(NUMBERS[step]) - 1]
        stop = squeezed(page).index("STOPLastchance")
        do = next(one.do for one in WINCH.steps if one.id == step)
        assert stop < squeezed(page).index(squeezed(do))
        for missed in facts.last_chance_for:
            assert re.search(rf"\(step {NUMBERS[missed]}, page \d+\)", page)


def test_checklist_fits_one_page_and_names_every_step(printed: Printed) -> None:
    lines = printed.pages[-1].splitlines()
    for number in NUMBERS.values():
        assert any(re.match(rf"{number}\s", line) for line in lines)
    assert "Bench checklist" not in printed.pages[-2]


def test_black_of_a_tag_moves_with_it_where_a_page_is_filled_in(printed: Printed) -> None:
    records = [page for page in printed.reader.pages if "Torque record · " in page.extract_text()]
    looks = [look_at(page) for page in records]
    tags = [(run, boxes) for found, boxes in looks for run in found if run.text.strip() == "NEW"]
    assert tags
    for run, boxes in tags:
        around = [box for box in boxes if box.width < 60 and _holds(box, run)]
        assert around
        assert max(box.x for box in around) - min(box.x for box in around) < 1.1


def _holds(box: Box, run: Run) -> bool:
    return box.x < run.x + 5 < box.x + box.width and box.y < run.y + 2 < box.y + box.height


@pytest.mark.parametrize(
    ("name", "part"),
    [("torque-record", "Torque record"), ("kit", "Kit"), ("condition", "Condition of parts")],
)
def test_sheet_is_set_alone_as_in_the_packet(printed: Printed, name: str, part: str) -> None:
    html = packet_html(WINCH, winch_plan(), fingerprint=FINGERPRINT, sheets=(name,))
    alone, whole = _sizes(Printed.of(html), part), _sizes(printed, part)
    assert len(alone.keys() & whole.keys()) > 10
    assert [text for text in alone.keys() & whole.keys() if not alone[text] <= whole[text]] == []


def _sizes(printed: Printed, part: str) -> dict[str, set[float]]:
    """Return the sizes, in points, of what the pages of a sheet say."""
    sizes: dict[str, set[float]] = {}
    for page, text in zip(printed.reader.pages, printed.pages, strict=True):
        if f"{part} · issue" in text:
            for run in runs(page):
                sizes.setdefault(run.text.strip(), set()).add(round(run.size, 1))
    return sizes
