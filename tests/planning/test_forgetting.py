"""What it costs to forget a step, against every set of steps tried, and the STOP rule."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings

from sequencer.model.assembly import HandlingTimes
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Undo
from sequencer.planning.mending import (
    cost_of_forgetting,
    is_dear,
    last_chances,
    with_forgetting,
)
from sequencer.planning.plan import plan
from tests.helpers import assembly, step
from tests.mends_oracle import every_mend
from tests.planning.test_cases import model
from tests.planning.test_mending import Mistake, mistakes


@settings(max_examples=40, deadline=None)
@given(mistakes(most=5))
def test_forgetting_costs_what_the_cheapest_mend_of_the_whole_order_does(mistake: Mistake) -> None:
    order = plan(mistake.model).order or ()
    costs = cost_of_forgetting(mistake.model, order, order)
    assert list(costs) == list(order)
    for name, cost in costs.items():
        every = every_mend(mistake.model, [other for other in order if other != name])
        assert cost == (pytest.approx(float(every[0].minutes)) if every else None)


def test_runners_cost_a_bracket_and_the_last_bracket_nothing() -> None:
    rail = model("runners-in-a-rail")
    planned = with_forgetting(rail, plan(rail))
    assert planned.order == ("rail-up", "left-bracket", "runners-in", "right-bracket")
    assert planned.forget_minutes == {
        "rail-up": 30,  # all three others come off and go on again
        "left-bracket": 0,
        "runners-in": 10,
        "right-bracket": 0,
    }
    assert last_chances(planned) == ("runners-in",)


def test_what_cannot_be_put_right_costs_no_number() -> None:
    closed = step("close", after="fill", undo=Undo(never="It is welded"))
    assert cost_of_forgetting(assembly(step("fill"), closed), ("fill", "close"), ["fill"]) == {
        "fill": None
    }


def test_job_without_an_order_has_nothing_to_forget() -> None:
    circle = assembly(step("a", after="b"), step("b", after="a"))
    assert with_forgetting(circle, plan(circle)) == plan(circle)
    assert last_chances(plan(circle)) == ()


def test_stop_stands_where_forgetting_takes_a_quarter_of_an_hour_unless_said_otherwise() -> None:
    unit = assembly(step("a"))
    assert [is_dear(unit, minutes) for minutes in (14.9, 15, None)] == [False, True, True]
    hour = HandlingTimes(stop_above=read_amount("1 h", ("time",)))
    patient = replace(unit, handling=hour)
    assert [is_dear(patient, minutes) for minutes in (59, 60, None)] == [False, True, True]
