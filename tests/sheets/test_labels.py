"""Bag labels: what is on them, that it always fits, and that they stand where labels are."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Step, Unit
from sequencer.planning.stripping import strip
from sequencer.sheets.bags import bags_of
from sequencer.sheets.job import Job
from sequencer.sheets.labels import FORMATS, Label, labels_view, strip_labels_view
from sequencer.sheets.measured import cut, in_lines, in_so_many, width_of
from sequencer.sheets.packet import document_html
from tests.reading.models import model
from tests.sheets.making import fits, links
from tests.sheets.pages import Printed, runs
from tests.sheets.views import job as job_of_steps
from tests.sheets.views import model as assembly

MM = 72 / 25.4  # points
POINT = 25.4 / 72
HEIGHTS = {"A4": 297.0, "Letter": 279.4}

DO = Step(id="do", do="Do it.")


def job(*steps: Step, paper: str = "A4", **fields: object) -> Job:
    made = job_of_steps(*steps, **fields)  # type: ignore[arg-type] # the fields are the caller's
    return replace(made, paper=paper)


# What goes into which bag


def test_a_part_is_in_its_bag_or_in_that_of_the_step_that_fits_it() -> None:
    parts = (
        Part(id="screw", name="Screw", quantity=8),
        Part(id="cap", name="Cap"),
        Part(id="pin", name="Pin", bag="P"),
        Part(id="seal", name="Seal", renew="always"),
        Part(id="guide", name="Guide", aid=True),
        Part(id="frame", name="Frame", at_start="fitted"),
    )
    one = replace(DO, id="one", fits=(Fit("screw", 4), Fit("cap"), Fit("guide"), Fit("pin")))
    two = replace(DO, id="two", fits=(Fit("screw", 4), Fit("seal")), onto=links("part", "cap"))
    off = replace(DO, id="off", takes_off=links("part", "guide"))
    found = bags_of(job(one, two, off, parts=parts))
    assert [(bag.name, bag.items, bag.new, bag.goes_to, bag.steps) for bag in found] == [
        ("1", ["4 × Screw", "Cap"], [], [], [1]),
        ("P", ["Pin"], [], [], [1]),
        ("2", ["4 × Screw"], ["Seal"], ["Cap"], [2]),
    ]


def test_a_unit_goes_into_no_bag_and_a_bag_that_is_named_may_serve_several_steps() -> None:
    parts = (Part(id="a", bag="B"), Part(id="b", bag="B"))
    steps = (
        replace(DO, id="one", fits=fits("a"), unit="u"),
        replace(DO, id="two", fits=fits("b", "u")),
    )
    (bag,) = bags_of(job(*steps, parts=parts, units=(Unit(id="u"),)))
    assert (bag.name, bag.items, bag.steps) == ("B", ["a", "b"], [1, 2])


def test_two_models_that_call_their_bags_alike_have_two() -> None:
    parts = (Part(id="left/pin", bag="1"), Part(id="right/pin", bag="1"))
    found = bags_of(job(replace(DO, fits=fits("left/pin", "right/pin")), parts=parts))
    assert [bag.items for bag in found] == [["left/pin"], ["right/pin"]]


UNIT = """
assembly: lamp
parts: {base: Base, seal: {name: Seal, renew: always}, glass: Glass, cap: {name: Cap, bag: C}}
steps:
  base-down: {do: Stand it., fits: base}
  glass-on: {do: Set it on., fits: [seal, glass], onto: base}
  cap-on: {do: Screw it on., fits: cap, onto: glass}
"""


def test_labels_of_a_strip_tell_both_numbers_in_the_order_in_which_bags_are_filled() -> None:
    unit = model(UNIT)
    found = strip(unit)
    off = {name: at for at, name in enumerate(found.order or (), start=1)}
    view = strip_labels_view(job_of_steps(*unit.steps, parts=unit.parts), off)
    (page,) = view.pages
    assert [(label.name, label.beside) for label in page] == [
        ("BAG C", "off: 1 · on: step 3"),
        ("BAG 2", "off: 2 · on: step 2"),
        ("BAG 1", "off: 3 · on: step 1"),
    ]
    assert [line.text for line in page[1].lines[:2]] == ["Glass", "NEW Seal"]


def test_labels_come_with_a_packet_where_the_model_names_bags() -> None:
    step = replace(DO, fits=fits("pin"))
    assert labels_view(job(step, parts=(Part(id="pin", bag="B"),)))
    assert not labels_view(job(step, parts=(Part(id="pin"),)))


# That it fits


def inside(label: Label, paper: str) -> None:
    """Assert that every line of a label stays inside it, and no two overlap."""
    form = FORMATS[paper]
    inner = form.width - 2 * form.edge
    name = width_of(label.name, "black") * 15 * POINT
    beside = width_of(label.beside, "semibold") * 8 * POINT
    assert name + beside <= inner - 1.99
    assert beside <= inner - inner * 0.42
    below = form.edge + 15 * POINT
    for line in label.lines:
        assert width_of(line.text) * line.size * POINT <= inner
        assert line.top >= below - 0.01
        below = line.top + line.size * POINT
    assert below <= form.height - form.edge + 0.01


names = st.lists(
    st.text("aWmi 日é×-/1", min_size=1, max_size=70).filter(str.strip), min_size=1, max_size=9
)


@settings(max_examples=60, deadline=None)
@given(names, names, st.sampled_from(sorted(FORMATS)))
def test_text_of_any_length_stays_inside(parts: list[str], more: list[str], paper: str) -> None:
    made = tuple(Part(id=f"p{at}", name=name, bag=more[0]) for at, name in enumerate(parts))
    upper = replace(DO, fits=fits(*(part.id for part in made)), onto=links("part", "p0"))
    for page in labels_view(job(upper, paper=paper, parts=made, title=more[-1])).pages:
        for label in page:
            inside(label, paper)


def test_few_parts_are_set_large_and_many_small_and_what_does_not_fit_is_cut() -> None:
    def lines(count: int) -> list[tuple[float, str]]:
        parts = tuple(Part(id=f"p{at}", name=f"Screw {at} with washer") for at in range(count))
        step = replace(DO, fits=fits(*(part.id for part in parts)))
        ((label,),) = labels_view(job(step, parts=parts)).pages
        return [(line.size, line.text) for line in label.lines[:-2]]

    assert lines(1) == [(12.0, "Screw 0 with washer")]
    assert [size for size, _ in lines(4)] == [9.0] * 4
    many = lines(40)
    assert {size for size, _ in many} == {7.0}
    assert many[-1][1].endswith("…")
    assert many[0][1].startswith("Screw 0 with washer; Screw 1 with washer; Screw")


@given(st.text(min_size=1, max_size=60), st.floats(3, 30))
@example("000000 WWW", 3.0)  # the beginning of a word that is broken fits behind the one before
@example("000000 \x1b\x1bǨ", 3.0)
def test_lines_hold_every_word_and_are_no_wider_than_asked(text: str, width: float) -> None:
    lines = in_lines(text, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(width_of(line) <= width or len(line) == 1 for line in lines)
    kept = in_so_many(lines, 2, width)
    assert len(kept) <= 2
    assert len(lines) <= 2 or kept[-1].endswith("…")
    assert width_of(cut(text, width)) <= max(width, width_of("…"))


# Where labels stand

# Sheets of 24 (63.5 × 33.9 mm) and of 30 labels (2 5/8 × 1 in): common practice, no source.
CORNERS = {
    "A4": [(7.25 + 66.0 * column, 12.9 + 33.9 * row) for row in range(8) for column in range(3)],
    "Letter": [
        (25.4 * (3 / 16 + 2.75 * column), 25.4 * (0.5 + row))
        for row in range(10)
        for column in range(3)
    ],
}


@pytest.mark.parametrize("paper", sorted(CORNERS))
def test_every_line_is_printed_inside_its_label_on_the_sheet(paper: str) -> None:
    count = len(CORNERS[paper]) + 2
    parts = tuple(Part(id=f"p{at}", name=f"Part {at} of the left carrier") for at in range(count))
    steps = tuple(
        replace(DO, id=f"s{at}", fits=fits(f"p{at}"), section="Carrier") for at in range(count)
    )
    made = job(*steps, paper=paper, parts=parts, title="Carrier of a lathe")
    view = labels_view(made)
    printed = Printed.of(document_html(made, [("labels", view)], paper=paper))
    assert printed.logged == ()
    assert len(printed.pages) == 2
    form, height = FORMATS[paper], HEIGHTS[paper]
    assert form.on_a_sheet == count - 2
    found = [run for run in runs(printed.reader.pages[0]) if run.text.startswith("BAG ")]
    assert len(found) == form.on_a_sheet
    for run, (left, top) in zip(found, CORNERS[paper], strict=True):
        assert run.x == pytest.approx((left + form.edge) * MM, abs=0.5)
        from_top = height * MM - run.y
        assert top * MM < from_top < (top + form.edge + 15 * POINT * 1.15) * MM
    every = [run for run in runs(printed.reader.pages[0]) if run.size < 12.5]
    boxes = [
        (
            left * MM,
            (height - top - form.height) * MM,
            (left + form.width) * MM,
            (height - top) * MM,
        )
        for left, top in CORNERS[paper]
    ]
    inside_one = [
        run for run in every if any(x0 < run.x < x1 and y0 < run.y < y1 for x0, y0, x1, y1 in boxes)
    ]
    assert len(inside_one) >= 4 * form.on_a_sheet


def test_what_is_measured_is_what_is_printed() -> None:
    """The numbers at the right end where the label does, so that they show how wide they are."""
    texts = ["off: 1 to 4 · on: step 12", "WWW mmm", "ffi ÄÖ × 3/8-16", "on: step 7"]
    made = job(DO)
    form = FORMATS["A4"]
    labels = tuple(Label(0.0, 33.9 * at, "BAG", text, ()) for at, text in enumerate(texts))
    view = replace(labels_view(made), pages=(labels,))
    printed = Printed.of(document_html(made, [("labels", view)]))
    found = {run.text.strip(): run.x for run in runs(printed.reader.pages[0])}
    right = (7.25 + form.width - form.edge) * MM
    for text in texts:
        wide = right - found[text]
        assert wide <= width_of(text, "semibold") * 8 <= wide * 1.05


def test_a_name_takes_the_room_that_its_steps_leave() -> None:
    unit = job(replace(DO, fits=fits("a")), parts=(Part(id="a", bag="Worm, front"),))
    ((label,),) = labels_view(unit).pages
    assert (label.name, label.beside) == ("BAG Worm, front", "on: step 1")


def test_a_draft_says_so_on_every_label() -> None:
    made = replace(job(replace(DO, fits=fits("a")), parts=(Part(id="a"),)), draft=("asked for",))
    ((label,),) = labels_view(made).pages
    assert label.lines[-1].text == "DRAFT · a · issue A · model f"


def test_a_long_title_leaves_issue_and_model_whole() -> None:
    unit = assembly(replace(DO, fits=fits("a")), title="A unit with a very long name " * 4)
    ((label,),) = labels_view(job(*unit.steps, parts=unit.parts, title=unit.title)).pages
    assert label.lines[-1].text.startswith("A unit with a very long name")
    assert label.lines[-1].text.endswith("… · issue A · model f")
