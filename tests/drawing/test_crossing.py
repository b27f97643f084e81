"""The order in a row: fewer crossings, groups kept together."""

from __future__ import annotations

from itertools import combinations, permutations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.crossing import crossings, ordered

ROWS = [[0, 1, 2], [3, 4, 5, 6], [7, 8, 9]]
EVERY = [(a, b) for a, b in (*product(ROWS[0], ROWS[1]), *product(ROWS[1], ROWS[2]))]
EDGES = st.lists(st.sampled_from(EVERY), max_size=12, unique=True)


def counted(rows: list[list[int]], edges: list[tuple[int, int]]) -> int:
    place = {item: (number, at) for number, row in enumerate(rows) for at, item in enumerate(row)}
    return sum(
        place[a][0] == place[c][0] and (place[a][1] - place[c][1]) * (place[b][1] - place[d][1]) < 0
        for (a, b), (c, d) in combinations(edges, 2)
    )


@settings(max_examples=40, deadline=None)
@given(EDGES)
def test_crossings_are_counted_as_by_hand(edges: list[tuple[int, int]]) -> None:
    assert crossings(ROWS, edges) == counted(ROWS, edges)


@settings(max_examples=40, deadline=None)
@given(EDGES)
def test_order_found_has_no_more_crossings_than_the_one_given(
    edges: list[tuple[int, int]],
) -> None:
    found = ordered(ROWS, edges, dict.fromkeys(range(10), 0))
    assert [sorted(row) for row in found] == ROWS
    assert crossings(found, edges) <= crossings(ROWS, edges)


def test_lines_that_need_not_cross_do_not() -> None:
    edges = [(0, 5), (1, 4), (2, 3), (3, 9), (4, 8), (5, 7)]
    assert crossings(ROWS, edges) == 6
    fewest = min(
        crossings([list(row) for row in rows], edges)
        for rows in product(*(permutations(row) for row in ROWS))
    )
    assert crossings(ordered(ROWS, edges, dict.fromkeys(range(10), 0)), edges) == fewest == 0


@settings(max_examples=40, deadline=None)
@given(EDGES, st.lists(st.integers(0, 2), min_size=10, max_size=10))
def test_groups_stand_side_by_side_in_every_row(
    edges: list[tuple[int, int]], groups: list[int]
) -> None:
    for row in ordered(ROWS, edges, dict(enumerate(groups))):
        assert [groups[item] for item in row] == sorted(groups[item] for item in row)
