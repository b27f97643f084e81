"""Which piece went in: serial numbers still to come, and matched pieces that were crossed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.records.entries import Fitted, Spoiled
from sequencer.records.pieces import crossed_pairs, piece_findings, serials_missing
from tests.reading.models import model
from tests.records.making import state

# Case A20 of the collection of open cases: eight pairs of rods and caps, cap n only on rod n; the
# record says cap 3 on rod 5.
RODS = model(
    """
    assembly: x
    parts:
      rod: {name: Rod, quantity: 8, matched: rods}
      cap: {name: Rod cap, quantity: 8, matched: rods}
      lid: Lid
    steps:
      rods-in: {do: Lower them in., fits: rod}
      caps-on: {do: Fit each cap on its rod., fits: [cap, lid]}
    """
)
PAIRS = model(
    """
    assembly: x
    parts:
      rod-3: {matched: pair 3}
      cap-3: {matched: pair 3}
      rod-5: {matched: pair 5}
      cap-5: {matched: pair 5}
      lid: Lid
      converter: Converter
    steps:
      on: {do: Fit all., fits: [rod-3, cap-3, rod-5, cap-5, lid, converter]}
    """
)


def messages(told: object, what: Fitted) -> list[str]:
    return [f"{one.severity}: {one.message}" for one in piece_findings(told, what)]  # type: ignore[arg-type] # a state


def test_a_cap_on_the_rod_of_another_mark_is_crossed() -> None:
    told = state(RODS, "rods-in")
    assert messages(told, Fitted(part="cap", mark="3", with_="3")) == []
    assert messages(told, Fitted(part="cap", mark="3")) == []
    assert messages(told, Fitted(part="cap", mark="3", with_="5")) == [
        "error: `cap` of the matched set rods is crossed: mark 3 on `rod` of mark 5"
    ]


def test_pieces_of_one_pair_bear_one_mark() -> None:
    told = state(PAIRS, Fitted(part="rod-5", mark="5"), Fitted(part="rod-3", mark="3"))
    assert messages(told, Fitted(part="cap-5", mark="5")) == []
    assert messages(told, Fitted(part="cap-5", mark="3")) == [
        "error: `cap-5` of the matched set pair 5 is crossed: mark 3 with `rod-5` of mark 5"
    ]


def test_a_serial_number_of_another_set_is_crossed_and_of_ones_own_is_none() -> None:
    told = state(PAIRS, Fitted(part="rod-3", serial="K 3"))
    assert messages(told, Fitted(part="cap-3", serial="K 3")) == []
    assert messages(told, Fitted(part="cap-5", serial="K 3")) == [
        "error: `cap-5` of the matched set pair 5 is crossed: serial K 3 is recorded for `rod-3` "
        "of the set pair 3 (entry 2)"
    ]


@given(st.sampled_from("12345678"), st.sampled_from("12345678"))
def test_the_log_tells_a_crossed_pair_if_and_only_if_the_marks_differ(cap: str, rod: str) -> None:
    told = state(RODS, "rods-in", Fitted(part="cap", mark=cap, with_=rod))
    assert len(crossed_pairs(told)) == (cap != rod)


@pytest.mark.parametrize(("part", "count"), [("lid", 0), ("converter", 1)])
def test_one_serial_number_has_one_place(part: str, count: int) -> None:
    told = state(PAIRS, Fitted(part="lid", serial="A 77"))
    assert (
        messages(told, Fitted(part=part, serial="A 77"))
        == ["warning: serial A 77 is recorded for `lid` already (entry 2)"] * count
    )
    assert messages(told, Fitted(part="converter")) == []


def test_a_piece_that_was_exchanged_is_free_again() -> None:
    told = state(PAIRS, Fitted(part="lid", serial="A 77"), Fitted(part="lid", serial="A 78"))
    assert messages(told, Fitted(part="converter", serial="A 77")) == []
    assert len(messages(told, Fitted(part="converter", serial="A 78"))) == 1


def test_what_is_told_besides_of_a_piece_leaves_its_mark_and_number() -> None:
    told = state(
        PAIRS,
        Fitted(part="rod-5", mark="5"),
        Fitted(part="rod-5", batch="12"),
        Fitted(part="lid", serial="A 77"),
        Fitted(part="lid", batch="3"),
    )
    assert messages(told, Fitted(part="cap-5", mark="3")) == [
        "error: `cap-5` of the matched set pair 5 is crossed: mark 3 with `rod-5` of mark 5"
    ]
    assert messages(told, Fitted(part="converter", serial="A 77")) == [
        "warning: serial A 77 is recorded for `lid` already (entry 4)"
    ]


def test_serial_numbers_are_missed_for_what_is_on() -> None:
    pumps = model(
        """
        assembly: x
        parts: {pump: {quantity: 2, serial: record}, cap: Cap}
        steps: {one: {do: Fit., fits: 1 pump}, two: {do: Fit., fits: [1 pump, cap]}}
        """
    )
    first, second = Fitted(part="pump", serial="11"), Fitted(part="pump", serial="12")
    assert serials_missing(state(pumps)) == {}
    assert serials_missing(state(pumps, "one")) == {"pump": 1}
    assert serials_missing(state(pumps, "one", first)) == {}
    assert serials_missing(state(pumps, "one two", first)) == {"pump": 1}
    assert serials_missing(state(pumps, "one two", first, first)) == {"pump": 1}
    assert serials_missing(state(pumps, "one two", first, second)) == {}
    spoiled = state(pumps, "one", first, Spoiled(part="pump"))
    assert serials_missing(spoiled) == {"pump": 1}


def test_a_model_used_twice_has_two_sets_of_one_name() -> None:
    both = model(
        """
        assembly: x
        parts: {a/rod: {matched: r}, a/cap: {matched: r}, b/rod: {matched: r}, b/cap: {matched: r}}
        steps: {s: S.}
        """.replace("/", "-")
    )
    joined = tuple(
        part.__class__(id=part.id.replace("-", "/"), matched=part.matched) for part in both.parts
    )
    told = state(
        both.__class__(assembly="x", steps=both.steps, parts=joined),
        Fitted(part="a/rod", mark="1"),
    )
    assert messages(told, Fitted(part="b/cap", mark="2")) == []
    assert len(messages(told, Fitted(part="a/cap", mark="2"))) == 1
