"""Boxes in rows: every box and every relation drawn, nothing over anything else."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.layered import Layered, Page, Room

if TYPE_CHECKING:
    from sequencer.drawing.linking import Box, Link

Edge = tuple[int, int]
ROOM = Room(100, 60, box_width=20, box_height=5, gap=4, apart=3, head=4, most=4)


@st.composite
def graphs(draw: st.DrawFn) -> tuple[int, list[Edge], list[int]]:
    count = draw(st.integers(1, 24))
    pairs = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1))
    edges = {(min(pair), max(pair)) for pair in draw(st.lists(pairs, max_size=40))}
    groups = draw(st.lists(st.integers(0, 3), min_size=count, max_size=count))
    return count, sorted(edge for edge in edges if edge[0] != edge[1]), groups


GRAPHS = graphs()
SOME = settings(max_examples=40, deadline=None)


def pages_of(graph: tuple[int, list[Edge], list[int]]) -> tuple[Page, ...]:
    return Layered(*graph, ROOM).pages()


@SOME
@given(GRAPHS)
def test_every_box_stands_once_inside_its_page(graph: tuple[int, list[Edge], list[int]]) -> None:
    pages = pages_of(graph)
    assert sorted(box.item for page in pages for box in page.boxes) == list(range(graph[0]))
    for page in pages:
        assert page.height <= ROOM.height
        for box in page.boxes:
            assert -1e-6 <= box.left <= ROOM.width - ROOM.box_width + 1e-6
            assert 0 <= box.top <= page.height - ROOM.box_height


@SOME
@given(GRAPHS)
def test_no_box_touches_another(graph: tuple[int, list[Edge], list[int]]) -> None:
    for page in pages_of(graph):
        for one, other in combinations(page.boxes, 2):
            beside = abs(one.left - other.left) >= ROOM.box_width + ROOM.apart - 1e-6
            assert beside or abs(one.top - other.top) >= ROOM.box_height + ROOM.gap


@SOME
@given(GRAPHS)
def test_every_relation_is_a_line_or_is_marked_at_both_ends(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    pages = pages_of(graph)
    lines = [link.edge for page in pages for link in page.links]
    going = [(away.item, away.other) for page in pages for away in page.going]
    coming = [(away.other, away.item) for page in pages for away in page.coming]
    assert sorted(lines + going) == graph[1]
    assert sorted(going) == sorted(coming)
    page_of = {box.item: page.number for page in pages for box in page.boxes}
    for page in pages:
        for away in (*page.going, *page.coming):
            assert page_of[away.item] == page.number
            assert page_of[away.other] == away.page


@SOME
@given(GRAPHS)
def test_what_comes_later_stands_lower_or_on_a_later_page(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    at = {box.item: (page.number, box.top) for page in pages_of(graph) for box in page.boxes}
    assert all(at[one] < at[other] for one, other in graph[1])


def boxes_crossed(link: Link, boxes: tuple[Box, ...]) -> list[int]:
    """Return the boxes that a line leads through; it bends in the gaps, where none stands."""
    straight = list(pairwise(link.points))[1::2]
    assert all(x0 == x1 for (x0, _), (x1, _) in straight)
    return [
        box.item
        for (x, top), (_, bottom) in straight
        for box in boxes
        if box.left < x < box.left + ROOM.box_width
        and top < box.top + ROOM.box_height
        and box.top < bottom
    ]


@SOME
@given(GRAPHS)
def test_lines_go_round_boxes_and_end_at_their_own(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    for page in pages_of(graph):
        boxes = {box.item: box for box in page.boxes}
        for link in page.links:
            assert boxes_crossed(link, page.boxes) == []
            one, other = boxes[link.edge[0]], boxes[link.edge[1]]
            (x0, y0), (x1, y1) = link.points[0], link.points[-1]
            assert one.left < x0 < one.left + ROOM.box_width
            assert y0 == one.top + ROOM.box_height
            assert other.left < x1 < other.left + ROOM.box_width
            assert y1 == other.top


@SOME
@given(GRAPHS)
def test_areas_of_groups_hold_their_boxes_and_share_nothing(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    for page in pages_of(graph):
        slabs = [(area.group, slab) for area in page.areas for slab in area.slabs]
        for box in page.boxes:
            assert any(
                group == graph[2][box.item]
                and slab.left <= box.left
                and box.left + ROOM.box_width <= slab.right + 1e-6
                and slab.top < box.top
                and box.top + ROOM.box_height < slab.bottom
                for group, slab in slabs
            )
        for (_, one), (_, other) in combinations(slabs, 2):
            beside = one.right < other.left or other.right < one.left
            assert beside or one.bottom <= other.top or other.bottom <= one.top


@SOME
@given(GRAPHS)
def test_stretched_drawing_keeps_its_rows_and_its_page(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    drawn = Layered(*graph, ROOM)
    wider = drawn.stretched(9)
    assert (wider.rows, wider.count) == (drawn.rows, drawn.count)
    assert ROOM.gap <= wider.room.gap <= 9
    assert all(page.height <= ROOM.height for page in wider.pages())


@SOME
@given(GRAPHS)
def test_marks_of_a_box_come_together_page_by_page(
    graph: tuple[int, list[Edge], list[int]],
) -> None:
    for page in pages_of(graph):
        for marks in (page.coming, page.going):
            told = [(away.item, away.page, away.other) for away in marks]
            assert told == sorted(told)
