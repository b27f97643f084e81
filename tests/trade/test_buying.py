"""What has to be bought, in the packs that it is sold in; and what is odd about a kit."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.parts import Part
from sequencer.trade.buying import Purchase, pack_size, purchase
from sequencer.trade.findings import findings
from tests.reading.models import model

SIZES = [
    ("box of 50", 50),
    ("Box of  50, zinc plated", 50),
    ("10 pcs", 10),
    ("25 pieces", 25),
    ("pack 4", 4),
    ("100", 100),
    ("each", 1),
    ("singly", 1),
    ("a pair", 2),
    ("dozen", 12),
    ("in a box", None),
    ("2 m of hose", None),
    ("coil of 2.5 m", None),
    ("0.5 l tin", None),
    ("box of 0", None),
    ("tin", None),
]


@pytest.mark.parametrize(("words", "size"), SIZES)
def test_a_count_is_read_and_a_length_is_none(words: str, size: int | None) -> None:
    assert pack_size(words) == size


def test_what_lacks_is_rounded_up_to_whole_packs() -> None:
    clip = Part(id="clip", bought_as="box of 10", on_hand=3)
    assert purchase(clip, 14) == Purchase(lacking=11, size=10, packs=2)
    assert purchase(clip, 3) is None
    assert purchase(Part(id="hose", bought_as="by the metre"), 2) == Purchase(lacking=2)


@given(st.integers(0, 60), st.integers(0, 60), st.integers(1, 20))
def test_bought_and_on_hand_are_enough_and_no_pack_too_many(
    needed: int, on_hand: int, size: int
) -> None:
    found = purchase(Part(id="p", on_hand=on_hand, bought_as=f"box of {size}"), needed)
    if needed <= on_hand:
        assert found is None
        return
    assert found is not None
    assert found.packs is not None
    assert on_hand + found.packs * size >= needed > on_hand + (found.packs - 1) * size
    assert found.over == on_hand + found.packs * size - needed


def told(parts: str) -> list[str]:
    text = f"assembly: x\nparts: {{{parts}}}\nsteps: {{s: S.}}\n"
    return [f"{one.severity}[{one.code}]: {one.message}" for one in findings(model(text))]


def test_a_set_has_more_than_one_piece() -> None:
    assert told("rod: {matched: one}, cap: {matched: one}") == []
    assert told("pads: {quantity: 2, matched: pads}") == []
    assert told("rod: {matched: one}, cap: {matched: 1}") == [
        "warning[matched-alone]: `rod` is the only part of the matched set `one`",
        "warning[matched-alone]: `cap` is the only part of the matched set `1`",
    ]


def test_the_pieces_of_a_set_come_out_even() -> None:
    assert told("rod: {quantity: 8, matched: r}, bolt: {quantity: 16, matched: r}") == []
    assert told("rod: {quantity: 8, matched: r}, cap: {quantity: 7, matched: r}") == [
        "warning[matched-uneven]: the matched set `r` does not come out even: "
        "7 of `cap` and 8 of `rod`"
    ]


def test_bags_that_look_alike_are_told_once_each() -> None:
    assert told("a: {bag: B 1}, b: {bag: B 1}, c: {bag: b-1}, d: {bag: B2}") == [
        "note[bags-alike]: `c` is in bag `b-1` and `a` in bag `B 1`"
    ]


def test_all_that_lacks_is_one_note() -> None:
    some = "a: {quantity: 4, spare: 1, on_hand: 3}, b: {on_hand: 1}, c: {on_hand: 0}"
    assert told(some) == ["note[short-on-hand]: 2 of `a` and 1 of `c` have to be bought first"]
    assert told("c: {on_hand: 0}") == ["note[short-on-hand]: 1 of `c` has to be bought first"]
    assert told("c: {quantity: 2}") == []
