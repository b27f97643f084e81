"""The order given, judged and mended, and what it tells, against every order tried."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.planning.count import Counted
from sequencer.planning.plan import check, count, plan, try_order
from sequencer.problem import has_errors
from tests.oracle import (
    has_order,
    is_valid,
    last_chances,
    may_be_done,
    moves,
    open_ways,
    until,
    valid_orders,
)
from tests.strategies import models

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

_ORDER_CODES = {"circle", "split-pair", "too-big", "no-order", "not-yet", "stray", "shut-out"}


def _written(model: Assembly) -> list[str]:
    return [step.id for step in model.steps]


@settings(max_examples=300, deadline=None)
@given(models())
def test_the_plan_is_a_valid_order_with_the_fewest_moves(model: Assembly) -> None:
    planned = plan(model)
    if planned.order is None:
        assert not has_order(model)
        assert has_errors(planned.findings)
        return
    assert is_valid(model, planned.order)
    assert planned.moves == moves(planned.order, _written(model))
    assert planned.fewest
    assert planned.moves == min(moves(order, _written(model)) for order in valid_orders(model))


@settings(max_examples=300, deadline=None)
@given(models())
def test_the_plan_tells_ways_in_last_chances_and_until(model: Assembly) -> None:
    planned = plan(model)
    if planned.order is None:
        return
    chances = last_chances(model, planned.order)
    steps = {step.id: step for step in model.steps}
    assert set(planned.steps) == set(planned.order)
    for turn, name in enumerate(planned.order):
        told = planned.steps[name]
        assert list(told.last_chance_for) == chances.get(name, [])
        assert told.until == until(model, planned.order, name)
        ways = open_ways(model, planned.order[:turn], steps[name])
        assert told.ways_in == tuple(ways[:1])


@settings(max_examples=300, deadline=None)
@given(models(), st.data())
def test_a_tested_order_is_judged_and_mended_rightly(model: Assembly, data: st.DataObject) -> None:
    order = data.draw(st.permutations(_written(model)))
    tested = try_order(model, order)
    assert tested.ok == is_valid(model, order)
    if tested.mended is None:
        assert not has_order(model)
        return
    assert is_valid(model, tested.mended)
    assert tested.moves == moves(tested.mended, order)
    if tested.ok:
        assert list(tested.mended) == order


@settings(max_examples=200, deadline=None)
@given(models(), st.data())
def test_each_finding_in_a_tested_order_names_a_step_that_breaks_a_rule(
    model: Assembly, data: st.DataObject
) -> None:
    order = data.draw(st.permutations(_written(model)))
    steps = {step.id: step for step in model.steps}
    findings = [found for found in try_order(model, order).findings if found.code in _TESTED]
    named = {found.step for found in findings}
    for turn, name in enumerate(order):
        assert (name in named) == (not may_be_done(model, order[:turn], steps[name]))


_TESTED = {"not-yet", "stray", "shut-out"}


@settings(max_examples=200, deadline=None)
@given(models(), st.data())
def test_an_order_that_lacks_steps_is_told_so_and_made_whole(
    model: Assembly, data: st.DataObject
) -> None:
    order = data.draw(st.permutations(_written(model)))
    kept = order[: data.draw(st.integers(0, len(order) - 1))]
    tested = try_order(model, kept)
    missing = {found.step for found in tested.findings if found.code == "step-missing"}
    assert missing == set(order) - set(kept)
    assert not tested.ok
    if tested.mended is not None:
        assert is_valid(model, tested.mended)
        assert tested.moves == moves(tested.mended, kept)
        best = min(moves(valid, kept) for valid in valid_orders(model))
        assert tested.moves == best


@settings(max_examples=300, deadline=None)
@given(models())
def test_check_reports_errors_of_order_only_where_there_is_none(model: Assembly) -> None:
    findings = [found for found in check(model) if found.code in _ORDER_CODES]
    assert has_errors(findings) == (not has_order(model))
    assert bool(findings) == (not is_valid(model, _written(model)))
    assert all(found.facts and found.step for found in findings)


@settings(max_examples=200, deadline=None)
@given(models())
def test_the_count_is_that_of_all_valid_orders(model: Assembly) -> None:
    every = sum(1 for _ in valid_orders(model))
    counted = count(model)
    assert counted == Counted(every, exact=True)
    cut_short = count(model, most_sets=2)
    assert cut_short.exact or 1 <= cut_short.count <= every
