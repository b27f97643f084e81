"""The order with the least handling, against every order tried."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link
from sequencer.model.compounds import Apply, Compound
from sequencer.planning.plan import plan, plan_by_handling
from tests.oracle import Oracle, variants
from tests.strategies import models, rich_models


@st.composite
def handled_models(draw: st.DrawFn) -> Assembly:
    """Models whose steps ask for positions, tools and alternatives of tools, and compounds."""
    model = draw(st.one_of(models(most=6), rich_models(most=6)))
    tools = st.lists(
        st.lists(st.sampled_from("abc"), min_size=1, max_size=2, unique=True), max_size=2
    )
    steps = tuple(
        replace(
            step,
            position=step.position or draw(st.sampled_from(["", "up", "down"])),
            tools=step.tools
            or tuple(tuple(Link(tool, "tool") for tool in entry) for entry in draw(tools)),
            apply=tuple(
                Apply(compound=(Link(name, "compound"),), to=(Link("face", "surface"),))
                for name in draw(st.sampled_from(["", "", "", "k", "l", "kl"]))
            ),
        )
        for step in model.steps
    )
    return replace(model, steps=steps, compounds=(Compound(id="k"), Compound(id="l")))


def _seconds(model: Assembly, order: tuple[str, ...]) -> int:
    """The seconds that an order takes, with every choice of alternatives tried.

    What the step before put on is at hand; any other compound has to be got ready.
    """
    steps = {step.id: step for step in model.steps}
    turns = 0
    lying: dict[str, str] = {}
    for name in order:
        step = steps[name]
        if step.position:
            turns += lying.get(step.unit, step.position) != step.position
            lying[step.unit] = step.position
    cheapest: dict[frozenset[str], int] = {frozenset(): 0}
    for name in order:
        choices = {frozenset(link.to for link in taken) for taken in product(*steps[name].tools)}
        cheapest = {
            taken: min(cost + 15 * len(taken - before) for before, cost in cheapest.items())
            for taken in choices
        }
    put_on = [{link.to for one in steps[name].apply for link in one.compound} for name in order]
    ready = sum(len(now - before) for before, now in pairwise([set[str](), *put_on]))
    return 120 * turns + min(cheapest.values()) + 20 * ready


@settings(max_examples=200, deadline=None)
@given(handled_models())
def test_no_order_takes_less_handling_than_the_one_found(model: Assembly) -> None:
    every = [
        _seconds(variant, order)
        for variant in variants(model)
        for order in Oracle(variant).orders()
    ]
    found = plan_by_handling(model)
    if found.order is None:
        assert not every
        return
    assert found.handling is not None
    assert found.handling.seconds == _seconds(model, found.order) == min(every)
    assert found.handling.bound == min(every)
    written = plan(model)
    assert written.order is not None
    assert written.handling is not None
    assert written.handling.seconds == _seconds(model, written.order)
    assert written.handling.bound is None


@settings(max_examples=200, deadline=None)
@given(handled_models())
def test_the_order_with_the_least_handling_is_valid(model: Assembly) -> None:
    found = plan_by_handling(model)
    if found.order is not None:
        assert any(Oracle(variant).is_valid(found.order) for variant in variants(model))
        assert set(found.steps) == set(found.order)
