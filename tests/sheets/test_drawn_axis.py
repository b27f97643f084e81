"""Lines on the cards: which parts are on, which comes, from where, and what shuts the ends."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.planning.results import StepFacts
from sequencer.sheets.drawn_axis import LineDrawing
from sequencer.sheets.steps import Card
from tests.sheets.making import amount, fits, links
from tests.sheets.pages import Printed, runs
from tests.sheets.views import cards

PARTS = tuple(Part(id=name, name=name.title()) for name in ("rod", "gland", "piston", "nut"))
GLAND = LinePlace(
    part=links("part", "gland"), bore=amount("28 mm"), od=amount("58 mm"), width=amount("42 mm")
)
PISTON = LinePlace(
    part=links("part", "piston"), bore=amount("18 mm"), od=amount("50 mm"), width=amount("32 mm")
)
EYE = LineEnd(name="eye", is_=EndValue("shut"))
THREAD = LineEnd(name="thread", shut_by=links("part", "nut"))
LINE = Line(id="rod-line", shaft=links("part", "rod"), ends=(EYE, THREAD), order=(GLAND, PISTON))
STEPS = tuple(
    Step(id=name, do=f"Fit the {name}.", fits=fits(name)) for name in ("gland", "piston", "nut")
)
FACTS = {"gland": StepFacts(ways_in=("thread",)), "piston": StepFacts(ways_in=("thread",))}


def built(*lines: Line, steps: tuple[Step, ...] = STEPS) -> list[Card]:
    return cards(*steps, facts=FACTS, parts=PARTS, lines=lines or (LINE,))


def words(one: LineDrawing) -> list[tuple[str, int]]:
    return [(word.text, word.weight) for word in one.drawing.words]


def test_card_that_begins_a_line_draws_it_large_and_names_its_parts() -> None:
    first, second, third = built()
    (large,), (small,) = first.drawn, second.drawn
    assert third.drawn == ()
    assert large.words == (
        "On Rod, from eye to thread: 1 Gland · 2 Piston. The upper half, to scale."
    )
    assert small.words == ""
    assert small.drawing.height < large.drawing.height


def test_part_that_comes_is_bold_like_the_end_that_it_comes_from() -> None:
    (first,), (second,) = (card.drawn for card in built()[:2])
    assert words(first) == [
        ("1", 900),
        ("2", 400),
        ("eye: shut", 400),
        ("thread: open until step 3", 600),
    ]
    assert [weight for _, weight in words(second)][:2] == [400, 900]


def test_end_is_shut_once_its_part_is_on() -> None:
    nut, gland, piston = STEPS[2], STEPS[0], STEPS[1]
    _, second, _ = built(steps=(nut, gland, piston))
    assert words(second.drawn[0])[-1][0] == "thread: shut by Nut"


def kinds(one: LineDrawing) -> list[tuple[str, str, int]]:
    """Return of each stroke how it is filled and dashed, and how many pieces it has."""
    strokes = one.drawing.strokes
    return [(stroke.fill, stroke.dash, stroke.path.count("M")) for stroke in strokes]


def test_what_is_on_is_framed_what_comes_is_black_what_is_to_come_is_dashed() -> None:
    (first,), (second,) = (card.drawn for card in built()[:2])
    assert ("none", "0.9 0.9", 1) in kinds(first)
    assert ("black", "", 1) in kinds(first)
    assert ("none", "0.9 0.9", 1) in kinds(second)  # the end that the nut will shut
    assert ("none", "", 1) in kinds(second)


def test_without_sizes_it_says_that_it_is_not_to_scale() -> None:
    bare = replace(LINE, order=tuple(LinePlace(part=place.part) for place in LINE.order))
    assert built(bare)[0].drawn[0].words.endswith("The upper half, not to scale.")


def test_line_in_a_bore_is_drawn_with_its_wall() -> None:
    bore = replace(LINE, shaft=(), bore=links("part", "rod"))
    (first,) = built(bore)[0].drawn
    assert first.words.startswith("In Rod, from eye to thread")


def test_part_that_is_on_from_the_start_has_no_number() -> None:
    parts = (*PARTS[:2], replace(PARTS[2], at_start="fitted"), PARTS[3])
    (first, *_) = cards(STEPS[0], facts=FACTS, parts=parts, lines=(LINE,))
    (drawn,) = first.drawn
    assert drawn.words.startswith("On Rod, from eye to thread: 1 Gland · Piston.")
    assert [text for text, _ in words(drawn)][:2] == ["1", "eye: shut"]


def test_printed_lines_stay_inside_the_page_and_are_read_at_arms_length(
    printed: Printed,
) -> None:
    ends = [run for page in printed.reader.pages for run in runs(page) if "end: " in run.text]
    assert ends
    for run in ends:
        assert run.size > 10.99
        assert 60 < run.x < 500
