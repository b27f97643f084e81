"""Why this before that, where to rest, and what to do while a part is awaited."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.planning.compiling import compile_network
from sequencer.planning.endings import bad_endings
from sequencer.planning.plan import plan, without
from sequencer.planning.why import why
from tests.helpers import assembly, step, way
from tests.oracle import Oracle, variants
from tests.planning.keys import key_of
from tests.strategies import models, rich_models

either = st.one_of(models(), rich_models(), rich_models())


def _settled(model: Assembly) -> bool:
    return len(model.steps) > 1 and not model.one_of and not list(bad_endings(model))


@settings(max_examples=300, deadline=None)
@given(either.filter(_settled), st.data())
def test_why_says_what_every_order_shows(model: Assembly, data: st.DataObject) -> None:
    a, b = data.draw(st.permutations([step.id for step in model.steps]))[:2]
    oracle = Oracle(model)
    orders = list(oracle.orders())
    answer = why(model, a, b)
    assert {answer.first, answer.second} == {a, b}
    ways = {order.index(answer.first) < order.index(answer.second) for order in orders}
    assert answer.must == (ways == {True})
    assert len(answer.examples) == len(ways)
    for example in answer.examples:
        assert example in orders
    if len(answer.examples) == 2:
        first, second = answer.examples
        assert first.index(a) < first.index(b)
        assert second.index(b) < second.index(a)


@settings(max_examples=300, deadline=None)
@given(either.filter(_settled), st.data())
def test_the_reasons_of_why_force_it_and_each_is_needed(
    model: Assembly, data: st.DataObject
) -> None:
    a, b = data.draw(st.permutations([step.id for step in model.steps]))[:2]
    answer = why(model, a, b)
    if not answer.must:
        assert answer.facts == ()
        return
    network = compile_network(model)
    every = {key_of(network, rule) for rule in network.rules()}
    paths = {fact.path for fact in answer.facts}
    facts = {key_of(network, rule) for rule in network.rules() if rule.path in paths}
    forced = Oracle(model, frozenset(every - facts)).orders()
    assert all(order.index(answer.first) < order.index(answer.second) for order in forced)


def test_why_tells_a_way_that_gets_shut() -> None:
    model = assembly(
        step("slinger", fits="slinger", ways=(way("front", "bearing"), way("rear", "nut"))),
        step("bearing", fits="bearing"),
        step("nut", fits="nut", after="bearing"),
    )
    answer = why(model, "nut", "slinger")
    assert (answer.first, answer.second, answer.must) == ("slinger", "nut", True)
    assert [fact.text for fact in answer.facts] == [
        "`bearing` fits `bearing`, which shuts “front”, a way in of `slinger`",
        "`nut` fits `nut`, which shuts “rear”, a way in of `slinger`",
        "`nut` comes after `bearing`",
    ]
    free = why(model, "slinger", "bearing")
    assert not free.must
    assert len(free.examples) == 2


def test_why_refuses_a_step_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        why(assembly(step("a"), step("b")), "a", "c")


@settings(max_examples=200, deadline=None)
@given(either)
def test_rest_points_are_where_nothing_is_loose_or_running(model: Assembly) -> None:
    planned = plan(model)
    if planned.order is None:
        return
    oracle = next(o for o in map(Oracle, variants(model)) if set(o.steps) == set(planned.order))
    for turn, name in enumerate(planned.order, 1):
        may_rest = oracle.may_rest(frozenset(planned.order[:turn]))
        assert (name in planned.rest_after) == may_rest


@settings(max_examples=200, deadline=None)
@given(either.filter(lambda model: not model.one_of), st.data())
def test_while_a_part_is_awaited_all_is_done_that_leaves_a_finish(
    model: Assembly, data: st.DataObject
) -> None:
    part = data.draw(st.sampled_from([part.id for part in model.parts] or ["none"]))
    found = without(model, part)
    oracle = Oracle(model)
    orders = list(oracle.orders())
    if found is None:
        assert not orders
        return
    now, then = found.now, found.then
    assert found.plan.order == (*now, *then)
    needing = {s.id for s in model.steps if any(fit.part == part for fit in s.fits)}
    assert (*now, *then) in orders
    assert not needing & set(now)
    starts = {frozenset(order[:turn]) for order in orders for turn in range(len(order) + 1)}
    assert not any(
        frozenset((*now, name)) in starts and oracle.may_be_done(name, frozenset(now))
        for name in then
        if name not in needing
    )
