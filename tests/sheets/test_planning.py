"""The planning sheet: the drawn order, what forgetting costs, where to rest."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import pytest

from sequencer.drawing.ink import Drawing, Words, points_in_mm
from sequencer.model.parts import Part
from sequencer.model.steps import Section, Step
from sequencer.planning.plan import plan
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.drawn_order import WIDTH, order_drawing
from sequencer.sheets.job import Ref, job_of
from sequencer.sheets.letters import wide
from sequencer.sheets.packet import ON_REQUEST, SHEETS, USUAL, packet_html
from sequencer.sheets.planning import Cost, Planning, planning_view
from tests.sheets.making import after, fits, shut_by
from tests.sheets.pages import Printed, runs
from tests.sheets.sample import FINGERPRINT, ORDER, winch, winch_plan
from tests.sheets.views import model

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

A = Step(id="a", do="Wipe the housing. Dry it.")
B = Step(id="b", do="Press it in.", fits=fits("bush"), after=after("a"))
POINTS_A_MM = 72 / 25.4


def view(assembly: Assembly, planned: Plan | None = None) -> Planning:
    found = planned or plan(assembly)
    return planning_view(job_of(assembly, found, fingerprint="f", sheets=()))


def many(count: int, wide_by: int) -> Assembly:
    """Return a model of chains side by side that come together in the last step."""
    steps = [
        Step(
            id=f"s{number}",
            do=f"Do number {number} of the many steps of this long job.",
            section=f"part-{number * 6 // count}",
            after=after(f"s{number - wide_by}") if number >= wide_by else (),
        )
        for number in range(count - 1)
    ]
    ends = after(*(f"s{number}" for number in range(count - 1 - wide_by, count - 1)))
    sections = tuple(Section(id=f"part-{number}", title=f"Part {number}") for number in range(6))
    return model(*steps, Step(id="end", do="End.", after=ends), sections=sections)


def numbers(one: Drawing) -> list[int]:
    return [int(word.text) for word in one.words if word.weight == 900]


def outlines(*sections: str) -> int:
    """Return how many outlines a chain of steps of these sections is drawn with."""
    steps = [
        Step(id=f"s{at}", do="Do it.", section=section, after=after(f"s{at - 1}") if at else ())
        for at, section in enumerate(sections)
    ]
    known = tuple(Section(id=section) for section in dict.fromkeys(sections))
    (page,) = view(model(*steps, sections=known)).order
    return sum(stroke.path.count("M") for stroke in page.strokes if stroke.dash == "0.3 1.2")


def test_rows_of_a_section_that_touch_have_one_outline_and_others_one_each() -> None:
    assert outlines("a", "a", "a", "b") == 2
    assert outlines("a", "a", "b", "a") == 3


def test_boxes_name_parts_else_what_is_done() -> None:
    (page,) = view(model(A, B, parts=(Part(id="bush", name="Bush 30 mm"),))).order
    assert [word.text for word in page.words] == ["1", "Wipe the housing.", "2", "Bush 30 mm"]


def test_way_that_is_shut_is_a_broken_line() -> None:
    seal = Step(id="seal", do="Fit it.", fits=fits("s"), ways_in=(shut_by("top", "lid"),))
    lid = Step(id="lid", do="Close it.", fits=fits("lid"))
    shown = view(model(seal, lid, parts=(Part(id="s"), Part(id="lid"))))
    assert shown.has_ways
    assert [stroke.dash for stroke in shown.order[0].strokes if stroke.dash] == ["1.6 0.9"]
    assert not view(model(A, B, parts=(Part(id="bush"),))).has_ways


def test_sixty_steps_go_on_one_page_each_with_its_words() -> None:
    (page,) = view(many(60, 3)).order
    assert sorted(numbers(page)) == list(range(1, 61))
    assert page.height <= 220
    named = [word for word in page.words if word.weight == 400]
    assert len(named) == 60
    assert min(word.size for word in named) >= 9


def test_larger_jobs_go_over_pages_that_name_each_other() -> None:
    pages = view(many(150, 4)).order
    assert sorted(number for page in pages for number in numbers(page)) == list(range(1, 151))
    assert len(pages) > 1
    marks = [[word.text for word in page.words if word.size == 8] for page in pages]
    assert all(any(" (p 2)" in mark for mark in marks[number]) for number in (0,))
    assert all(any(mark.startswith("from ") for mark in page) for page in marks[1:])
    assert all(any(mark.startswith("to ") for mark in page) for page in marks[:-1])


@pytest.mark.parametrize("assembly", [many(60, 3), many(150, 4), winch()], ids=["60", "150", "w"])
def test_words_stay_inside_the_drawing(assembly: Assembly) -> None:
    for page in view(assembly).order:
        for word in page.words:
            assert word.x >= 0
            assert word.x + wide(word.text, word.size, word.weight) <= WIDTH + 0.5
            assert 0 < word.y < page.height


def test_titles_of_sections_stand_in_the_drawing() -> None:
    (page,) = view(many(60, 3)).order
    titles = {word.text for word in page.words if word.size == 9.5}
    assert titles == {f"Part {number}" for number in range(6)}


def test_costs_are_told_of_the_steps_that_were_asked_about() -> None:
    assembly = model(A, B, parts=(Part(id="bush"),))
    facts = {"a": StepFacts(until="b")}
    planned = Plan(("a", "b"), steps=facts, forget_minutes={"a": 95.0, "b": None})
    assert view(assembly, planned).costs == (
        Cost(1, "Wipe the housing.", Ref(2), "1 h 35 min"),
        Cost(2, "Press it in.", None, "cannot be put right"),
    )
    assert view(assembly, Plan(("a", "b"))).costs == ()


def test_rests_are_named_by_their_steps() -> None:
    assembly = model(A, B, parts=(Part(id="bush"),))
    assert view(assembly, Plan(("a", "b"), rest_after=("a", "b"))).rests == "steps 1, 2"
    assert view(assembly, Plan(("a", "b"), rest_after=("b",))).rests == "step 2"
    assert view(assembly, Plan(("a", "b"))).rests == ""


def test_planning_sheet_is_printed_only_if_asked_for() -> None:
    assert ON_REQUEST == ("planning",)
    assert set(SHEETS) - set(USUAL) == {"planning"}
    assert "What must come before what" not in packet_html(
        winch(), winch_plan(), fingerprint=FINGERPRINT
    )


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_printed_drawing_has_every_step_once_inside_the_page(paper: str) -> None:
    html = packet_html(
        winch(), winch_plan(), fingerprint=FINGERPRINT, sheets=("planning",), paper=paper
    )
    printed = Printed.of(html)
    assert printed.logged == ()
    pages = order_drawing(job_of(winch(), winch_plan(), fingerprint="f", sheets=())).pages
    assert len(pages) == 1
    boxes = [run for run in runs(printed.reader.pages[0]) if run.text.isdigit()]
    assert sorted(int(run.text) for run in boxes) == list(range(1, len(ORDER) + 1))
    for run in boxes:
        assert 22 * POINTS_A_MM < run.x < (22 + WIDTH) * POINTS_A_MM
        assert run.y > 19 * POINTS_A_MM


def test_job_without_steps_has_nothing_to_draw() -> None:
    empty = job_of(model(), Plan(()), fingerprint="f", sheets=())
    assert order_drawing(empty).pages == ()


@pytest.mark.parametrize("assembly", [many(60, 3), many(150, 4), many(90, 2), winch()])
def test_no_words_of_the_drawing_stand_over_others(assembly: Assembly) -> None:
    for page in view(assembly).order:
        for one, other in combinations(page.words, 2):
            assert not (
                one.x < other.x + wide(other.text, other.size, other.weight) - 0.1
                and other.x < one.x + wide(one.text, one.size, one.weight) - 0.1
                and _ink(one)[0] < _ink(other)[1]
                and _ink(other)[0] < _ink(one)[1]
            ), (one, other)


def _ink(word: Words) -> tuple[float, float]:
    """Return how high letters reach and how deep, in mm from the top of the drawing."""
    size = points_in_mm(word.size)
    return word.y - 0.72 * size, word.y + 0.15 * size


def test_section_that_goes_on_says_so_on_the_next_page() -> None:
    first, *others = view(many(150, 4)).order
    told = [[word.text for word in page.words if word.size == 9.5] for page in (first, *others)]
    assert not any("continued" in title for title in told[0])
    begun: set[str] = set()
    for titles in told:
        for title in titles:
            name = title.removesuffix(", continued")
            assert (name in begun) == (name != title)
        begun |= {title.removesuffix(", continued") for title in titles}
    assert any("continued" in title for titles in told for title in titles)


def test_marks_of_a_box_stand_together_in_one_line() -> None:
    for page in view(many(150, 4)).order:
        marks = [word for word in page.words if word.size == 8]
        assert len({(word.x, word.y) for word in marks}) == len(marks)


def test_larger_jobs_take_as_few_pages_as_they_can() -> None:
    assert len(view(many(150, 4)).order) == 2
