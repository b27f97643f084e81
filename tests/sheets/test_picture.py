"""The drawn pattern: true to the positions, numbered by the order of tightening."""

from __future__ import annotations

import math
import re
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sequencer.drawing.ink import points_in_mm
from sequencer.model.assembly import Assembly
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint
from sequencer.planning.results import Plan
from sequencer.sheets.letters import wide
from sequencer.sheets.packet import packet_html
from sequencer.sheets.picture import Picture, picture_of
from sequencer.trade.patterns import circle
from sequencer.trade.worked import bench_of
from tests.sheets.making import torque
from tests.sheets.views import TIGHTEN

Points = list[tuple[float, float]]


def drawn(joint: Joint) -> Picture | None:
    return picture_of(bench_of(Assembly(assembly="a", steps=(TIGHTEN,))).worked(joint))


def picture(joint: Joint) -> Picture:
    found = drawn(joint)
    assert found is not None
    return found


def spots(shown: Picture) -> Points:
    return [(spot.x, spot.y) for spot in shown.spots]


@pytest.mark.parametrize("count", [4, 12, 20, 24])
def test_numbers_on_a_circle_are_the_turns_of_the_published_order(count: int) -> None:
    shown = picture(Joint(id="j", count=count, pattern="cross"))
    order = circle(count).order
    assert [shown.spots[fastener - 1].turn for fastener in order] == list(range(1, count + 1))


def test_twelve_are_numbered_clockwise_from_the_top() -> None:
    shown = picture(Joint(id="j", count=12, pattern="cross"))
    assert shown.ring is not None
    middle = shown.ring.x, shown.ring.y
    for at, (x, y) in enumerate(spots(shown)):
        turned = math.atan2(x - middle[0], middle[1] - y) % math.tau
        assert math.isclose(turned, math.tau * at / 12, abs_tol=2e-3)
        away = math.dist((x, y), middle)
        assert math.isclose(away, shown.ring.radius, abs_tol=0.02)
    # ASME PCC-1, legacy cross pattern of 12: turn 2 lies opposite turn 1, and so on in pairs.
    assert [spot.turn for spot in shown.spots] == [1, 5, 9, 3, 7, 11, 2, 6, 10, 4, 8, 12]


COORDINATES = st.lists(
    st.tuples(st.integers(-40, 40), st.integers(-40, 40)), min_size=3, max_size=20, unique=True
)


@given(COORDINATES, st.sampled_from(["cross", "inside out", "around"]))
def test_positions_are_true_up_to_scale(at: list[tuple[int, int]], pattern: str) -> None:
    points = tuple((Fraction(x), Fraction(y)) for x, y in at)
    shown = drawn(Joint(id="j", count=len(at), pattern=pattern, at=points))
    assume(shown is not None)
    assert shown is not None
    marks = spots(shown)
    real = [math.dist(one, other) for one, other in combinations(at, 2)]
    printed = [math.dist(one, other) for one, other in combinations(marks, 2)]
    scale = max(printed) / max(real)
    for one, other in zip(real, printed, strict=True):
        assert math.isclose(one * scale, other, abs_tol=0.05)
    for ((x, y), (right, down)), ((x2, y2), (right2, down2)) in combinations(
        zip(at, marks, strict=True), 2
    ):
        assert (x < x2) == (right < right2 - 0.01)
        assert (y < y2) == (down > down2 + 0.01)  # up on the unit is up on the page


@given(COORDINATES, st.booleans())
def test_no_mark_covers_another_or_leaves_the_picture(
    at: list[tuple[int, int]], has_places: bool
) -> None:
    places = tuple(f"P{number}" for number in range(len(at))) if has_places else ()
    points = tuple((Fraction(x), Fraction(y)) for x, y in at)
    shown = drawn(Joint(id="j", count=len(at), pattern="cross", at=points, places=places))
    assume(shown is not None)
    assert shown is not None
    mark, width, height = shown.mark, shown.drawing.width, shown.drawing.height
    for one, other in combinations(spots(shown), 2):
        assert math.dist(one, other) > 2 * mark
    for x, y in spots(shown):
        assert mark <= x <= width - mark
        assert mark <= y <= height - mark
    assert width < 121  # what a card leaves


def test_names_that_would_not_fit_on_the_card_are_left_to_the_list() -> None:
    at = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (3, 6), (-39, 0), (40, 0)))
    shown = drawn(Joint(id="j", count=4, pattern="cross", at=at, places=("P0", "P1", "P2", "P3")))
    assert shown is not None
    assert {spot.label for spot in shown.spots} == {""}
    assert shown.drawing.width <= 120


def test_so_many_that_they_would_be_too_small_are_not_drawn() -> None:
    assert drawn(Joint(id="j", count=36, pattern="cross")) is not None
    assert drawn(Joint(id="j", count=40, pattern="cross")) is None
    crowded = tuple((Fraction(at), Fraction(0)) for at in (0, 1, 1000))
    assert drawn(Joint(id="j", count=3, pattern="cross", at=crowded)) is None


def test_without_an_order_there_is_nothing_to_draw() -> None:
    assert drawn(Joint(id="j", count=8)) is None
    assert drawn(Joint(id="j", count=8, pattern="inside out")) is None
    assert drawn(Joint(id="j", count=2, pattern="cross")) is None


def test_short_places_stand_beside_their_marks_and_long_ones_do_not() -> None:
    short = picture(Joint(id="j", count=4, pattern="cross", places=("A1", "A2", "B1", "B 12")))
    assert [(spot.turn, spot.label) for spot in short.spots] == [
        (1, "A1"),
        (3, "A2"),
        (2, "B1"),
        (4, "B 12"),
    ]
    long = picture(Joint(id="j", count=4, pattern="cross", places=("B 123", "b", "c", "d")))
    assert {spot.label for spot in long.spots} == {""}


def test_printed_picture_has_the_positions_and_turns_of_the_view() -> None:
    points = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), (40, 0), (40, 25), (0, 25)))
    joint = Joint(id="j", count=4, pattern="inside out", at=points, torque=torque("9 N·m"))
    assembly = complete(Assembly(assembly="a", steps=(TIGHTEN,), joints=(joint,)))
    html = packet_html(assembly, Plan(("tighten",)), fingerprint="f", sheets=("steps",))
    shown = picture(joint)
    for stroke in shown.drawing.strokes:
        assert f'<path d="{stroke.path}" fill="{stroke.fill}"' in html
    assert re.findall(r"<text[^>]*>(\d+)<", html) == [str(spot.turn) for spot in shown.spots]


@pytest.mark.parametrize(("count", "size"), [(4, 14), (8, 14), (12, 11), (30, 11)])
def test_numbers_are_as_large_as_there_is_room_for(count: int, size: int) -> None:
    shown = picture(Joint(id="j", count=count, pattern="cross"))
    assert {words.size for words in shown.drawing.words} == {size}


@given(COORDINATES)
def test_words_stay_inside_their_marks_and_the_first_is_black(at: list[tuple[int, int]]) -> None:
    points = tuple((Fraction(x), Fraction(y)) for x, y in at)
    shown = drawn(Joint(id="j", count=len(at), pattern="cross", at=points))
    assume(shown is not None)
    assert shown is not None
    for spot, words in zip(shown.spots, shown.drawing.words, strict=True):
        assert words.text == str(spot.turn)
        assert (words.fill == "white") == (spot.turn == 1)
        long = wide(words.text, words.size, words.weight)
        assert math.isclose(words.x + long / 2, spot.x)
        assert math.hypot(long / 2, points_in_mm(words.size) * 0.35) < shown.mark
    assert shown.drawing.strokes[-1].fill == "black"
    assert shown.drawing.strokes[-1].path.count("M") == 1
