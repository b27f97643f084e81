"""The order given, judged and mended, and what it tells, against every order tried."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.planning.count import Counted
from sequencer.planning.plan import check, count, plan, try_order
from sequencer.problem import has_errors
from tests.oracle import Oracle, moves, variants
from tests.strategies import models, rich_models

either = st.one_of(models(), rich_models(), rich_models())

_TESTED = {"not-yet", "stray", "shut-out", "falls-out"}
_ORDER_CODES = _TESTED | {"circle", "split-pair", "too-big", "no-order", "undecided"}


def _orders(model: Assembly) -> list[tuple[Oracle, list[tuple[str, ...]]]]:
    return [(oracle, list(oracle.orders())) for oracle in map(Oracle, variants(model))]


def _written(model: Assembly) -> list[str]:
    return [step.id for step in model.steps]


@settings(max_examples=400, deadline=None)
@given(either)
def test_the_plan_is_a_valid_order_with_the_fewest_moves(model: Assembly) -> None:
    planned = plan(model)
    every = _orders(model)
    if planned.order is None:
        assert not any(orders for _, orders in every)
        assert has_errors(planned.findings)
        return
    assert any(planned.order in orders for _, orders in every)
    assert planned.moves == moves(planned.order, _written(model))
    assert planned.fewest
    best = min(moves(order, _written(model)) for _, orders in every for order in orders)
    assert planned.moves == best


@settings(max_examples=400, deadline=None)
@given(either)
def test_the_plan_tells_ways_in_last_chances_and_until(model: Assembly) -> None:
    planned = plan(model)
    if planned.order is None:
        return
    oracle = next(o for o in map(Oracle, variants(model)) if set(o.steps) == set(planned.order))
    chances = oracle.last_chances(planned.order)
    assert set(planned.steps) == set(planned.order)
    for turn, name in enumerate(planned.order):
        told = planned.steps[name]
        assert list(told.last_chance_for) == chances.get(name, [])
        assert told.until == oracle.until(planned.order, name)
        ways = oracle.open_ways(name, frozenset(planned.order[:turn]))
        assert told.ways_in == tuple(names[0] for names in ways)


@settings(max_examples=300, deadline=None)
@given(either, st.data())
def test_a_tested_order_is_judged_and_mended_rightly(model: Assembly, data: st.DataObject) -> None:
    order = data.draw(st.permutations(_written(model)))
    choices = [(oracle, list(oracle.orders())) for oracle in map(Oracle, variants(model))]
    kept = set(data.draw(st.sampled_from(choices))[0].steps)
    order = [name for name in order if name in kept]
    tested = try_order(model, order)
    assert tested.ok == any(tuple(order) in orders for _, orders in choices)
    if tested.mended is None:
        assert not any(orders for _, orders in choices)
        return
    assert any(tested.mended in orders for _, orders in choices)
    assert tested.moves == moves(tested.mended, order)
    if tested.ok:
        assert list(tested.mended) == order


@settings(max_examples=300, deadline=None)
@given(either.filter(lambda model: not model.one_of), st.data())
def test_each_finding_in_a_tested_order_names_a_step_that_breaks_a_rule(
    model: Assembly, data: st.DataObject
) -> None:
    order = data.draw(st.permutations(_written(model)))
    oracle = Oracle(model)
    findings = [found for found in try_order(model, order).findings if found.code in _TESTED]
    named = {found.step for found in findings}
    for turn, name in enumerate(order):
        assert (name in named) == (not oracle.may_be_done(name, frozenset(order[:turn])))


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
        oracle = Oracle(model)
        assert oracle.is_valid(tested.mended)
        assert tested.moves == moves(tested.mended, kept)
        assert tested.moves == min(moves(valid, kept) for valid in oracle.orders())


@settings(max_examples=300, deadline=None)
@given(models())
def test_check_reports_errors_of_order_only_where_there_is_none(model: Assembly) -> None:
    findings = [found for found in check(model) if found.code in _ORDER_CODES]
    oracle = Oracle(model)
    assert has_errors(findings) == (not oracle.has_order())
    assert bool(findings) == (not oracle.is_valid(_written(model)))
    assert all(found.facts and found.step for found in findings)


@settings(max_examples=300, deadline=None)
@given(either)
def test_the_count_is_that_of_all_valid_orders(model: Assembly) -> None:
    every = sum(len(orders) for _, orders in _orders(model))
    assert count(model) == Counted(every, exact=True)
    cut_short = count(model, most_sets=2)
    assert cut_short.exact or 1 <= cut_short.count <= every
