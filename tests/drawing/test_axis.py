"""Parts along one axis: to scale where it can be, and what is said of it is true."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.axis import DIAMETERS, LENGTHS, NEITHER, TO_SCALE, Place, along

SIZES = st.one_of(st.none(), st.floats(0.5, 400))
PLACES = st.lists(st.builds(Place, SIZES, SIZES, SIZES, st.booleans()), min_size=1, max_size=9)
FULL = st.lists(
    st.builds(Place, st.floats(5, 60), st.floats(10, 40), st.floats(50, 90)), min_size=1, max_size=6
)


@settings(max_examples=60, deadline=None)
@given(PLACES)
def test_places_follow_one_another_within_the_room(places: list[Place]) -> None:
    drawn = along(places, 100, 20)
    assert len(drawn.spans) == len(places)
    assert all(one.right == other.left for one, other in pairwise(drawn.spans))
    assert drawn.spans[0].left == 0
    assert drawn.length <= 100 + 1e-6
    for span in drawn.spans:
        assert span.right - span.left > 2
        assert 0 < span.seat <= 20 + 1e-6
        assert 0 < span.far <= 20 + 1e-6


@settings(max_examples=60, deadline=None)
@given(FULL)
def test_what_is_to_scale_has_one_scale_for_all(places: list[Place]) -> None:
    drawn = along(places, 100, 20)
    lengths = [
        (span.right - span.left, place.length)
        for span, place in zip(drawn.spans, places, strict=True)
    ]
    fars = [(2 * span.far, place.far) for span, place in zip(drawn.spans, places, strict=True)]
    if drawn.scale == TO_SCALE:
        ratios = [on_paper / real for on_paper, real in lengths + fars if real]
        assert math.isclose(min(ratios), max(ratios))
    elif drawn.scale == DIAMETERS:
        ratios = [on_paper / real for on_paper, real in fars if real]
        assert math.isclose(min(ratios), max(ratios))


GLAND = Place(42, 28, 57.9)
NUT = Place(15, 18, 27)


@pytest.mark.parametrize(
    ("places", "scale"),
    [
        ([GLAND, NUT], TO_SCALE),
        ([GLAND, Place(15, 18, None)], LENGTHS),
        ([GLAND, Place(None, 18, 27)], DIAMETERS),
        ([GLAND, Place(None, 18, None)], NEITHER),
        ([GLAND, Place(0.2, 18, 27)], DIAMETERS),  # would not be seen
        ([GLAND, Place(15, 27, 27.1)], LENGTHS),  # likewise
        ([GLAND, Place(20, 60, None, is_shoulder=True)], TO_SCALE),
    ],
)
def test_only_what_is_given_and_can_be_seen_is_to_scale(places: list[Place], scale: str) -> None:
    assert along(places, 100, 20).scale == scale
