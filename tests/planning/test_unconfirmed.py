"""Points of no return that may be passed before anybody has looked, beside all orders."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.steps import Undo
from sequencer.planning.plan import check
from tests.oracle import Oracle
from tests.strategies import models

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly


@st.composite
def _with_no_return(draw: st.DrawFn) -> Assembly:
    """Draw a model, some steps of which cannot be undone and some of which are to be signed."""
    model = draw(models(5))
    marks = [draw(st.sampled_from(("", "never", "hold", "never, hold"))) for _ in model.steps]
    steps = tuple(
        replace(
            step,
            undo=Undo(never="It is glued") if "never" in mark else None,
            hold="foreman" if "hold" in mark else "",
        )
        for step, mark in zip(model.steps, marks, strict=True)
    )
    return replace(model, steps=steps)


@settings(max_examples=150, deadline=None)
@given(_with_no_return())
def test_told_are_those_that_some_order_has_before_all_that_look(model: Assembly) -> None:
    lookers = {step.id for step in model.steps if step.check or step.hold}
    asked = [step.id for step in model.steps if step.undo and step.undo.never and not step.check]
    orders = list(Oracle(model).orders())
    may_be_passed = [
        name
        for name in asked
        if any(lookers.isdisjoint(order[: order.index(name)]) for order in orders)
    ]
    told = [found.step for found in check(model) if found.code == "unconfirmed"]
    assert told == may_be_passed
