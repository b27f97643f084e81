"""The least that must come out, against every set of steps tried."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, HandlingTimes
from sequencer.model.fastening import Joint, PassValue, TighteningPass
from sequencer.model.quantities import Amount, read_amount
from sequencer.model.steps import Step, Undo
from sequencer.planning.mending import revise
from sequencer.planning.mending.bits import bits_in
from sequencer.planning.mending.closing import Closing
from tests.helpers import links
from tests.mends_oracle import every_mend, works
from tests.oracle import Oracle
from tests.strategies import models, rich_models


class Mistake(NamedTuple):
    """A model, what was done of it, and what has to be done again."""

    model: Assembly
    done: tuple[str, ...]
    redo: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    skipped: tuple[str, ...] = ()


def _minutes(text: str) -> Amount:
    return read_amount(text, ("time",))


_times = st.sampled_from([None, "1 min", "1 min", "2 min", "90 s"])


@st.composite
def mistakes(draw: st.DrawFn, most: int = 6) -> Mistake:
    """A model of which some steps were done: in a good order or not, with some left out."""
    model = draw(st.one_of(models(most), rich_models(most), rich_models(most)))
    names = [step.id for step in model.steps]
    steps = tuple(_with_undo(draw, step, names) for step in model.steps)
    parts = tuple(
        replace(
            part,
            once=draw(st.integers(0, 3)) == 0,
            price=draw(st.sampled_from([None, Fraction(0), Fraction(1), Fraction(3)])),
        )
        for part in model.parts
    )
    rate = draw(st.sampled_from([None, None, Fraction(2)]))
    model = replace(model, steps=steps, parts=parts, handling=HandlingTimes(rate=rate))
    model = _with_joints(draw, model)
    order = list(next(Oracle(model).orders(), ())) if not model.one_of else []
    if not order or draw(st.integers(0, 3)) == 0:
        order = list(draw(st.permutations(names)))
    missed = draw(st.sets(st.sampled_from(names), max_size=3))
    order = [name for name in order if name not in missed]
    done = tuple(order[: draw(st.integers(0, len(order)))] if draw(st.booleans()) else order)
    some = st.sets(st.sampled_from(done), max_size=1) if done else st.just(set[str]())
    redo = draw(some)
    again = draw(some) - redo
    left = [name for name in done if name not in redo | again]
    skipped = draw(st.sets(st.sampled_from(left), max_size=2)) if left else set()
    return Mistake(model, done, tuple(redo), tuple(again), tuple(skipped))


def _with_joints(draw: st.DrawFn, model: Assembly) -> Assembly:
    """The same with fasteners that several steps tighten; some serve once."""
    tightened = draw(st.sets(st.integers(0, len(model.steps) - 1), max_size=3))
    steps = tuple(
        replace(step, tighten=(*step.tighten, *links("t", "joint"))) if at in tightened else step
        for at, step in enumerate(model.steps)
    )
    passes = ((), (_pass("90°"),), (_pass("back 90°"),))
    joints = [
        replace(joint, passes=draw(st.sampled_from(passes)))
        for joint in (*model.joints, Joint(id="t", count=2))
    ]
    return replace(model, steps=steps, joints=tuple(joints))


def _pass(text: str) -> TighteningPass:
    angle, back = read_amount(text.removeprefix("back "), ("angle",)), text.startswith("back")
    return TighteningPass(value=PassValue(text=text, angle=angle, back=back))


def _with_undo(draw: st.DrawFn, step: Step, names: list[str]) -> Step:
    time = draw(_times)
    step = replace(step, time=_minutes(time) if time else None)
    if draw(st.integers(0, 2)):
        return step
    back = draw(_times)
    parts = [fit.part for fit in step.fits if fit.part.startswith("p")]
    spoils = draw(st.sampled_from([*parts, ""])) if parts else ""
    again = draw(st.sampled_from([*names, "", "", ""]))
    return replace(
        step,
        undo=Undo(
            time=_minutes(back) if back else None,
            spoils=links(spoils, "part"),
            again=links(again),
            never="It is welded" if draw(st.integers(0, 4)) == 0 else "",
        ),
    )


def check_against_every_set(mistake: Mistake) -> None:
    model, done, redo, again, skipped = mistake
    every = every_mend(*mistake)
    revised = revise(model, done, redo, again, others=2, skipped=skipped)
    assert revised.proved
    if not every:
        assert revised.mend is None
        assert revised.findings
        return
    best, mend = every[0], revised.mend
    assert mend is not None
    assert abs(mend.minutes - float(best.minutes)) < 1e-6
    assert set(mend.undo) == best.undo - set(skipped)
    for one in (mend, *revised.others):
        tried = [t for t in every if t.undo - set(skipped) == set(one.undo)]
        orders = (one.undo, one.do)
        assert any(works(model, t, orders, done, again, skipped) for t in tried)
    out = {t.undo - set(skipped): t.minutes for t in reversed(every)}
    costs = sorted(cost for undo, cost in out.items() if not any(o < undo for o in out))
    got = [mend.minutes, *(other.minutes for other in revised.others)]
    assert all(abs(a - float(b)) < 1e-6 for a, b in zip(got, costs, strict=False))
    assert len(got) == min(3, len(costs))


@settings(max_examples=150, deadline=None)
@given(mistakes())
def test_the_cheapest_set_comes_out_and_the_job_goes_on_to_its_end(mistake: Mistake) -> None:
    check_against_every_set(mistake)


@settings(max_examples=60, deadline=None)
@given(mistakes())
def test_all_holds_where_no_order_is_found_at_once(mistake: Mistake) -> None:
    with pytest.MonkeyPatch.context() as patched:
        for name in ("doing", "taking_back"):
            patched.setattr(f"sequencer.planning.mending.conditions.{name}", lambda *_: None)
        check_against_every_set(mistake)


@st.composite
def loosened(draw: st.DrawFn) -> Mistake:
    """A mistake of which fasteners that serve once come out, tightened by several steps."""
    mistake = draw(mistakes())
    steps = tuple(
        replace(
            step,
            undo=replace(step.undo, never="") if step.undo is not None else None,
            tighten=links("t", "joint") if draw(st.booleans()) else step.tighten,
            loosens=links("t", "joint") if draw(st.integers(0, 4)) == 0 else (),
        )
        for step in mistake.model.steps
    )
    joints = (Joint(id="t", passes=(_pass("90°"),)), Joint(id="j"))
    model = replace(mistake.model, steps=steps, joints=joints)
    tight = [step.id for step in steps if step.tighten and step.id in mistake.done]
    redo = tuple(tight[:1]) or mistake.redo
    left = [name for name in mistake.skipped if name not in redo]
    again = [name for name in mistake.again if name not in redo]
    return Mistake(model, mistake.done, redo, tuple(again), tuple(left))


@settings(max_examples=60, deadline=None)
@given(loosened())
def test_fasteners_that_serve_once_come_out_with_all_that_tightened_them(mistake: Mistake) -> None:
    check_against_every_set(mistake)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), max_size=25), st.integers(0, 9))
def test_closed_set_holds_all_that_is_led_to(pairs: list[tuple[int, int]], first: int) -> None:
    graph: nx.DiGraph[int] = nx.DiGraph(pairs)
    graph.add_nodes_from(range(10))
    closing = Closing(graph.__getitem__, lambda thing: 1 << thing)
    for thing in [first, *range(10)]:
        assert set(bits_in(closing.of(thing))) == {thing} | nx.descendants(graph, thing)
