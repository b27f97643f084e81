"""Orders of tightening: the laws that any of them keeps, and orders true to position."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.basics import TradeError
from sequencer.trade.patterns import (
    Pattern,
    Point,
    around,
    circle,
    handbook_circle_of_16,
    inside_out,
    pattern_for,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from random import Random

ORDERS = {count: circle(count).order for count in range(1, 121)}


def _breaking(law: Callable[[int, tuple[int, ...]], bool]) -> list[int]:
    """Return the numbers of fasteners whose order breaks a law."""
    return [count for count, order in ORDERS.items() if not law(count, order)]


def _apart(one: int, other: int, count: int) -> int:
    return min((one - other) % count, (other - one) % count)


def _gaps(places: Sequence[int], count: int) -> list[int]:
    """Return the empty steps between fasteners round the circle."""
    round_ = sorted(places)
    return [
        (after - before) % count or count
        for before, after in zip(round_, round_[1:] + round_[:1], strict=True)
    ]


def test_every_fastener_of_a_circle_is_tightened_once_from_number_one_on() -> None:
    assert not _breaking(lambda count, order: sorted(order) == list(range(1, count + 1)))
    assert not _breaking(lambda _, order: order[0] == 1)


def test_pairs_on_a_circle_lie_opposite() -> None:
    """Diametrically for an even number, and but for half a place for an odd one."""

    def opposite(count: int, order: tuple[int, ...]) -> bool:
        pairs = zip(order[::2], order[1::2], strict=False)
        return all(_apart(one, other, count) == count // 2 for one, other in pairs)

    assert not _breaking(opposite)


def test_no_neighbours_on_a_circle_follow_each_other() -> None:
    """From five fasteners on; among four everyone is a neighbour of two."""

    def jumping(count: int, order: tuple[int, ...]) -> bool:
        return all(_apart(one, other, count) > 1 for one, other in pairwise(order))

    assert _breaking(jumping) == [2, 3, 4]


def test_first_four_of_a_circle_stand_a_quarter_turn_apart() -> None:
    def quartered(count: int, order: tuple[int, ...]) -> bool:
        gaps = _gaps(order[:4], count)
        return count < 4 or max(gaps) - min(gaps) <= 2

    assert not _breaking(quartered)


def test_tightened_fasteners_are_spread_at_every_stage() -> None:
    """No empty arc is ever more than four times what even spacing would leave."""

    def spread(count: int, order: tuple[int, ...]) -> bool:
        return all(
            max(_gaps(order[:done], count)) <= 4 * math.ceil(count / done)
            for done in range(1, count + 1)
        )

    assert not _breaking(spread)


def test_labels_are_the_inverse_of_the_order() -> None:
    for count, order in ORDERS.items():
        labels = Pattern("as made", order).labels
        assert [labels[fastener - 1] for fastener in order] == list(range(1, count + 1))


@pytest.mark.parametrize("count", [5, 6, 7, 10, 28, 32, 68])
def test_rule_does_not_bear_the_name_of_a_published_table(count: int) -> None:
    assert "PCC-1" not in circle(count).name
    assert "PCC-1" in circle(12).name


def test_loosening_goes_the_other_way_round() -> None:
    """As in a published case: tightened 2-3-1-4, released 4-1-3-2."""
    assert Pattern("case", (2, 3, 1, 4)).removal == (4, 1, 3, 2)
    assert handbook_circle_of_16().removal[-1] == 1


def _on_circle(count: int, start: float = 90.0) -> list[Point]:
    """Return positions clockwise from the top."""
    angles = (math.radians(start - 360 * place / count) for place in range(count))
    return [(50 * math.cos(angle), 50 * math.sin(angle)) for angle in angles]


@given(st.integers(1, 40), st.randoms(use_true_random=False))
def test_cross_follows_the_positions_whatever_their_listed_order(
    count: int, random: Random
) -> None:
    at = _on_circle(count)
    listed = list(range(count))
    random.shuffle(listed)
    shuffled = pattern_for("cross", 0, [at[place] for place in listed])
    first = listed[0]
    expected = [(first + fastener - 1) % count for fastener in circle(count).order]
    assert [listed[number - 1] for number in shuffled.order] == expected


def test_around_goes_clockwise_from_the_first_listed() -> None:
    north, east, south, west = (0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)
    assert pattern_for("around", 0, [south, north, east, west]).order == (1, 4, 2, 3)
    assert around(3).order == (1, 2, 3)


def test_joint_without_positions_stands_on_a_circle() -> None:
    assert pattern_for("cross", 12) == circle(12)
    assert pattern_for("around", 5) == around(5)


HEAD = [
    (float(x), float(y)) for y in (0, 90) for x in (0, 80, 160, 240, 320)
]  # ten bolts in two rows


def test_head_is_tightened_from_the_middle_outwards_on_the_diagonal() -> None:
    order = inside_out(HEAD).order
    assert set(order[:2]) == {3, 8}
    assert set(order[2:6]) == {2, 4, 7, 9}
    for one, other in ((order[2], order[3]), (order[4], order[5]), (order[6], order[7])):
        assert HEAD[one - 1][0] != HEAD[other - 1][0]
        assert HEAD[one - 1][1] != HEAD[other - 1][1]


POINTS = st.lists(
    st.tuples(st.integers(-9, 9).map(float), st.integers(-9, 9).map(float)),
    min_size=1,
    max_size=30,
    unique=True,
)


@given(POINTS)
def test_inside_out_never_goes_inwards(at: list[Point]) -> None:
    pattern = pattern_for("inside out", 0, at)
    assert sorted(pattern.order) == list(range(1, len(at) + 1))
    x = sum(point[0] for point in at) / len(at)
    y = sum(point[1] for point in at) / len(at)
    distances = [math.dist(at[number - 1], (x, y)) for number in pattern.order]
    assert all(later >= earlier - 1e-3 for earlier, later in pairwise(distances))


@given(st.integers(5, 12), st.integers(2, 5))
def test_inside_out_of_a_grid_takes_no_neighbours_in_a_ring_in_turn(wide: int, high: int) -> None:
    """Partners across the middle are not next to each other, but for the two in the middle."""
    at = [(float(x), float(y)) for x in range(wide) for y in range(high)]
    order = inside_out(at).order
    x, y = (wide - 1) / 2, (high - 1) / 2
    for one, other in pairwise(order):
        first, second = at[one - 1], at[other - 1]
        mirrored = (2 * x - first[0], 2 * y - first[1])
        if second == mirrored and math.dist(first, (x, y)) > 1:
            assert math.dist(first, second) > 1


@pytest.mark.parametrize(
    ("kind", "count", "at"),
    [
        ("spiral", 8, []),
        ("inside out", 8, []),
        ("cross", 0, []),
        ("cross", 501, []),
        ("cross", 2, [(0.0, 0.0), (0.0, 0.0)]),
    ],
)
def test_pattern_that_cannot_be_is_refused(kind: str, count: int, at: list[Point]) -> None:
    with pytest.raises(TradeError):
        pattern_for(kind, count, at)
