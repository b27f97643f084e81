"""Places along a row: in order, apart, within bounds, as near as can be."""

from __future__ import annotations

from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.placing import nearest, placed

WANTED = st.lists(st.integers(0, 8), min_size=1, max_size=4)
ROOM = (0, 12)


def off(places: tuple[float, ...] | list[float], wanted: list[int], weights: list[int]) -> float:
    return sum(
        weight * (place - want) ** 2
        for place, want, weight in zip(places, wanted, weights, strict=True)
    )


@settings(max_examples=40, deadline=None)
@given(WANTED, st.lists(st.integers(1, 3), min_size=4, max_size=4))
def test_no_places_on_a_grid_are_nearer(wanted: list[int], weights: list[int]) -> None:
    weights = weights[: len(wanted)]
    gaps = [2] * (len(wanted) - 1)
    found = nearest(wanted, weights, gaps, ROOM)
    assert all(other - one >= 2 - 1e-9 for one, other in pairwise(found))
    assert ROOM[0] <= found[0]
    assert found[-1] <= ROOM[1]
    others = (
        places
        for places in product(range(13), repeat=len(wanted))
        if all(other - one >= 2 for one, other in pairwise(places))
    )
    least = min(off(places, wanted, weights) for places in others)
    assert off(found, wanted, weights) <= least + 1e-9


def test_chain_is_drawn_straight_down() -> None:
    rows = [[0, 1], [2], [3]]
    middle = placed(rows, [(0, 2), (2, 3)], dict.fromkeys(range(4), 5.0), 2, 40)
    assert middle[0] == middle[2] == middle[3]
