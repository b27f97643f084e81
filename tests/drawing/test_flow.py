"""A row of marks broken into lines."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.drawing.flow import Line, Mark, Stretch, flow

WIDTH = 100.0

MARKS = st.lists(
    st.builds(Mark, kind=st.just("m"), width=st.integers(4, 25).map(float)), min_size=1, max_size=3
).map(tuple)
STRETCHES = st.lists(
    st.builds(
        Stretch,
        title=st.text(max_size=5),
        title_width=st.integers(0, 60).map(float),
        steps=st.lists(MARKS, min_size=1, max_size=12).map(tuple),
    ),
    min_size=1,
    max_size=5,
)


def lines_of(stretches: list[Stretch]) -> tuple[Line, ...]:
    return flow(stretches, WIDTH, between_marks=1, between_steps=2, between_stretches=4)


@settings(max_examples=50, deadline=None)
@given(STRETCHES)
def test_every_mark_stands_once_in_the_order_given(stretches: list[Stretch]) -> None:
    given_marks = [mark for one in stretches for marks in one.steps for mark in marks]
    assert [one.mark for line in lines_of(stretches) for one in line.marks] == given_marks


@settings(max_examples=50, deadline=None)
@given(STRETCHES)
def test_no_mark_touches_another_or_leaves_the_line(stretches: list[Stretch]) -> None:
    for line in lines_of(stretches):
        assert line.marks[0].left == 0
        assert all(one.right < other.left for one, other in pairwise(line.marks))
        assert line.marks[-1].right <= WIDTH


@settings(max_examples=50, deadline=None)
@given(STRETCHES)
def test_marks_of_one_step_stay_on_one_line(stretches: list[Stretch]) -> None:
    found = [sorted({one.step for one in line.marks}) for line in lines_of(stretches)]
    steps = [step for line in found for step in line]
    assert steps == list(range(sum(len(one.steps) for one in stretches)))


@settings(max_examples=50, deadline=None)
@given(STRETCHES)
def test_titles_stand_side_by_side_over_all_that_is_theirs(stretches: list[Stretch]) -> None:
    for line in lines_of(stretches):
        assert all(one.right < other.left for one, other in pairwise(line.headings))
        assert line.headings[0].left == 0
        assert line.headings[-1].right <= WIDTH
        for one in line.marks:
            assert any(head.left <= one.left and one.right <= head.right for head in line.headings)


def test_title_that_goes_on_says_so() -> None:
    step = (Mark("m", 30),)
    first, second = lines_of([Stretch("Shaft", 10, (step,) * 5)])
    assert [(head.title, head.left, head.right) for head in first.headings] == [("Shaft", 0, 94)]
    assert [(head.right, head.continued) for head in second.headings] == [(62, True)]
