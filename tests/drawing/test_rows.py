"""Which row each box stands in."""

from __future__ import annotations

from collections import Counter

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.rows import rows_of

EDGES = st.lists(
    st.tuples(st.integers(0, 19), st.integers(0, 19)).filter(lambda pair: pair[0] < pair[1]),
    max_size=40,
    unique=True,
)


@settings(max_examples=50, deadline=None)
@given(EDGES, st.integers(1, 5))
def test_rows_respect_the_order_and_hold_no_more_than_they_may(
    edges: list[tuple[int, int]], most: int
) -> None:
    rows = rows_of(20, edges, most)
    assert all(rows[one] < rows[other] for one, other in edges)
    held = Counter(rows)
    assert max(held.values()) <= most
    assert sorted(held) == list(range(len(held)))


@settings(max_examples=50, deadline=None)
@given(EDGES)
def test_with_room_enough_there_are_as_many_rows_as_the_longest_chain(
    edges: list[tuple[int, int]],
) -> None:
    graph: nx.DiGraph[int] = nx.DiGraph(edges)
    graph.add_nodes_from(range(20))
    assert max(rows_of(20, edges, 20)) == nx.dag_longest_path_length(graph)


def test_longest_chain_goes_first() -> None:
    assert rows_of(5, [(2, 3), (3, 4)], 2) == [0, 1, 0, 1, 2]


def test_box_that_others_wait_for_stands_right_above_them() -> None:
    assert rows_of(4, [(0, 1), (1, 3), (2, 3)], 3) == [0, 1, 1, 2]
