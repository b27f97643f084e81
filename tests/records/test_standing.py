"""How a unit stands after some steps: against the planner's rest points, and example by example."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, State, Trial
from sequencer.planning.plan import plan
from sequencer.records.standing import standing
from tests.helpers import assembly, links, step
from tests.oracle import Oracle
from tests.strategies import models, rich_models


@settings(max_examples=40, deadline=None)
@given(st.one_of(models(), rich_models(), rich_models()).filter(lambda one: not one.one_of))
def test_the_log_calls_rest_points_what_the_planner_does(model: Assembly) -> None:
    planned = plan(model)
    if planned.order is None:
        return
    oracle = Oracle(model)
    for at in range(1, len(planned.order) + 1):
        done = planned.order[:at]
        may_rest = standing(model, done).is_rest_point
        assert may_rest == (done[-1] in planned.rest_after)
        assert may_rest == oracle.may_rest(frozenset(done))


UNIT = replace(
    assembly(
        step("sleeve-on", fits="sleeve"),
        step("gland-on", fits="gland", leaves="loose"),
        step("sleeve-off", takes_off=links("sleeve", "part")),
        step("gland-tight", secures=links("gland-on")),
        step("balls", fits=""),
        step("mesh-in", fits="gauge"),
        step("mesh-out", takes_off=links("gauge", "part")),
        together=("sleeve-off gland-tight",),
        parts=(Part(id="sleeve", aid=True), Part(id="gland"), Part(id="ball", quantity=20)),
    ),
    trials=(Trial(id="mesh", steps=links("mesh-in mesh-out")),),
    states=(
        State(id="locked-out", begins=links("sleeve-on"), ends=links("balls")),
        State(id="upright", begins=links("gland-on"), ends=links("balls"), keep="position"),
    ),
)


def test_what_is_on_loose_begun_and_lasting_is_told() -> None:
    stands = standing(UNIT, ("sleeve-on", "gland-on", "sleeve-off"))
    assert dict(stands.on) == {"gland": 1}
    assert stands.aids == ()
    assert stands.loose == ("gland-on",)
    assert stands.begun == (("gland-tight",),)
    assert stands.lasting == ("locked-out", "upright")
    assert stands.barring == ("upright",)
    assert not stands.is_rest_point
    before = standing(UNIT, ("sleeve-on",))
    assert before.aids == ("sleeve",)
    assert before.lasting == ("locked-out",)
    assert before.is_rest_point


def test_what_a_trial_fits_is_on_only_while_it_is_under_way() -> None:
    assert dict(standing(UNIT, ("mesh-in",)).on) == {"gauge": 1}
    assert standing(UNIT, ("mesh-in",)).begun == (("mesh-out",),)
    assert dict(standing(UNIT, ("mesh-in", "mesh-out")).on) == {}


def test_counts_are_as_the_steps_say_and_else_what_is_not_on_yet() -> None:
    ten = replace(step("ten"), fits=(Fit("ball", 10),))
    model = assembly(ten, step("rest", fits="ball"), parts=(Part(id="ball", quantity=20),))
    assert dict(standing(model, ("ten",)).on) == {"ball": 10}
    assert dict(standing(model, ("ten", "rest")).on) == {"ball": 20}


def test_steps_that_the_model_lacks_are_passed_over() -> None:
    assert standing(UNIT, ("polish", "sleeve-on")) == standing(UNIT, ("sleeve-on",))


def test_what_two_steps_tighten_is_fast_after_both() -> None:
    unit = assembly(
        step("slack", loosens=links("j", "joint")),
        step("snug", tighten=links("j", "joint")),
        step("tight", tighten=links("j", "joint")),
    )
    assert standing(unit, ("slack", "snug")).loosened == ("j",)
    assert standing(unit, ("slack", "snug", "tight")).loosened == ()
