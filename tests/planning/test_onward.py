"""Going on from steps done: against every order there is, and what is said, whole."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.model.steps import OneOf
from sequencer.planning.endings import bad_endings
from sequencer.planning.onward import Onward
from sequencer.planning.plan import plan
from sequencer.problem import Fact, Problem
from tests.helpers import assembly, links, step, way
from tests.oracle import Oracle
from tests.strategies import models, rich_models

either = st.one_of(models(6), rich_models(6), rich_models(6))


def _plain(model: Assembly) -> bool:
    return not model.one_of and not list(bad_endings(model)) and plan(model).order is not None


@settings(max_examples=40, deadline=None)
@given(either.filter(_plain), st.data())
def test_the_rest_is_an_order_that_finishes_the_job_if_one_does(
    model: Assembly, data: st.DataObject
) -> None:
    every = [step.id for step in model.steps]
    done = data.draw(st.permutations(every))[: data.draw(st.integers(0, len(every)))]
    beginnings = {frozenset(order[: len(done)]) for order in Oracle(model).orders()}
    rest = Onward(model, every).rest(done)
    assert (rest is not None) == (frozenset(done) in beginnings)
    if rest is not None:
        orders = {order[len(done) :] for order in Oracle(model).orders()}
        assert rest in orders
        assert set(rest) == set(every) - set(done)


@settings(max_examples=40, deadline=None)
@given(either.filter(_plain), st.data())
def test_a_step_is_in_its_turn_if_some_valid_order_goes_on_with_it(
    model: Assembly, data: st.DataObject
) -> None:
    orders = list(Oracle(model).orders())
    order = data.draw(st.sampled_from(orders))
    count = data.draw(st.integers(0, len(order) - 1))
    done = order[:count]
    printed = plan(model).order or ()
    onward = Onward(model, printed)
    following = {other[count] for other in orders if set(other[:count]) == set(done)}
    for step_ in set(order) - set(done):
        objections = onward.objections(done, [step_])
        assert (objections == ()) == (step_ in following)
        assert all(one.severity == "warning" for one in objections)
        assert all(one.step == step_ for one in objections)


@settings(max_examples=30, deadline=None)
@given(either.filter(_plain), st.data())
def test_several_steps_break_what_each_of_them_breaks_at_its_turn(
    model: Assembly, data: st.DataObject
) -> None:
    every = data.draw(st.permutations([step.id for step in model.steps]))
    first = data.draw(st.integers(0, len(every)))
    done, steps = every[:first], every[first : data.draw(st.integers(first, len(every)))]
    onward = Onward(model, plan(model).order or ())
    found = onward.objections(done, steps)
    singly = [onward.objections((*done, *steps[:at]), [one]) for at, one in enumerate(steps)]
    assert (found == ()) == all(one == () for one in singly)
    lost = [one for one in found if "would leave no way" in one.message or one.code == "no-order"]
    assert len({one.step for one in lost}) <= 1
    for one in found:
        assert one in lost or one in singly[steps.index(str(one.step))]
    for one in (one for several in singly for one in several):
        told = "would leave no way" not in one.message and one.code != "no-order"
        assert not told or one in found


@settings(max_examples=40, deadline=None)
@given(either.filter(_plain))
def test_the_printed_order_is_kept_where_it_was_followed(model: Assembly) -> None:
    printed = plan(model).order or ()
    onward = Onward(model, printed)
    for at in range(len(printed)):
        assert onward.rest(printed[:at]) == printed[at:]


HUB = assembly(
    step("magnet", fits="magnet", ways=(way("side", "wheel"),)),
    step("washer"),
    step("wheel", fits="wheel", after="washer"),
    step("nut", after="wheel"),
)
PRINTED = ("magnet", "washer", "wheel", "nut")


def test_a_step_before_what_it_comes_after_is_told_whole() -> None:
    (found,) = Onward(HUB, PRINTED).objections(("magnet",), ["wheel"])
    assert found == Problem(
        "not-yet",
        "warning",
        "`wheel` comes after `washer`, which is not done",
        step="wheel",
        path=("steps", "wheel"),
        facts=(Fact("`wheel` comes after `washer`", ("steps", "wheel", "after", 0)),),
        why="what `wheel` needs is not there yet at its turn",
        fix="do `washer` first, or record it if that was done",
    )


def test_a_step_that_shuts_the_last_way_to_another_is_told_whole() -> None:
    (found,) = Onward(HUB, PRINTED).objections(("washer",), ["wheel"])
    assert found == Problem(
        "shut-out",
        "warning",
        "`wheel` would leave no way for `magnet`, which is not done yet",
        step="wheel",
        path=("steps", "magnet"),
        facts=(
            Fact(
                "`wheel` fits `wheel`, which shuts “side”, a way in of `magnet`",
                ("steps", "magnet", "ways_in", "side", "shut_by", 0),
            ),
        ),
        why="`wheel` would have to come out again",
        fix="do `magnet` first",
    )


def test_a_mistake_already_made_is_no_fault_of_the_next_step() -> None:
    onward = Onward(HUB, PRINTED)
    assert onward.rest(("washer", "wheel")) is None
    assert onward.objections(("washer", "wheel"), ["nut"]) == ()


def test_the_alternative_that_was_done_counts() -> None:
    model = replace(
        assembly(step("bore"), step("plug"), step("start", after="bore plug")),
        one_of=(OneOf(steps=links("bore plug"), before=links("start")),),
    )
    onward = Onward(model, ("bore", "start"))
    assert onward.rest(()) == ("bore", "start")
    assert onward.rest(("plug",)) == ("start",)
    assert onward.objections((), ["plug"]) == ()
    (found,) = onward.objections(("plug",), ["bore"])
    assert found.code == "one-too-many"


def test_steps_that_the_model_lacks_are_passed_over() -> None:
    assert Onward(HUB, PRINTED).rest(("polish", "magnet")) == ("washer", "wheel", "nut")
