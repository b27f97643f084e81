"""Times and compounds along an order, against a second plain statement of the same."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.model.compounds import Apply, Compound
from sequencer.model.quantities import read_amount
from sequencer.planning.plan import check, plan, plan_by_handling, try_order
from sequencer.planning.timing import ALONG
from sequencer.planning.timing.clock import lasting
from tests.helpers import links
from tests.oracle import Oracle, variants
from tests.strategies import timed_models
from tests.timing_oracle import TimingOracle, sooner

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.problem import Problem
    from tests.timing_oracle import Key


def _keys(findings: Iterable[Problem]) -> set[Key]:
    """Name each finding as the oracle does."""
    return {
        _key(one) for one in findings if one.code in ALONG and one.path[1:2] != ("temperature",)
    }


def _key(one: Problem) -> Key:
    paths = [fact.path for fact in one.facts]
    compounds = [path[1] for path in paths if path[0] == "compounds"]
    if one.code in ("unprepared", "too-late"):
        return one.code, one.path
    if one.code == "open-too-long":
        return one.code, one.path[1], compounds[0]
    if one.code == "not-together":
        both = {word for word in one.message.split("`") if word in ("k", "l")}
        surface = next(word for word in one.message.split("`") if word in ("f", "g"))
        return one.code, one.step, surface, frozenset(both)
    return one.code, one.step, compounds[0]


def _but_the_shop(findings: Iterable[Problem]) -> list[Problem]:
    """Leave out what is told of a shop warmer than a compound bears."""
    return [
        one for one in findings if ("defaults", "temperature") not in [f.path for f in one.facts]
    ]


plain = timed_models().filter(lambda model: not model.one_of)


@settings(max_examples=80, deadline=None)
@given(plain, st.data())
def test_an_order_is_judged_as_the_plain_statement_judges_it(
    model: Assembly, data: st.DataObject
) -> None:
    order = data.draw(st.permutations([step.id for step in model.steps]))
    order = order[: data.draw(st.integers(max(0, len(order) - 1), len(order)))]
    found = _but_the_shop(try_order(model, order).findings)
    assert _keys(found) == TimingOracle(model, order).broken()


@settings(max_examples=40, deadline=None)
@given(timed_models())
def test_check_judges_the_written_order_and_plan_the_printed_one(model: Assembly) -> None:
    written = [step.id for step in next(variants(model)).steps]
    if not model.one_of:
        told = _but_the_shop(check(model))
        assert _keys(told) == TimingOracle(model, written).broken()
    for found in (plan(model), plan_by_handling(model)):
        if found.order is None:
            continue
        chosen = next(
            one for one in variants(model) if {s.id for s in one.steps} == set(found.order)
        )
        told = _but_the_shop(found.findings)
        assert _keys(told) == TimingOracle(chosen, found.order).broken()


@settings(max_examples=40, deadline=None)
@given(plain)
def test_times_begin_end_and_run_as_summed_by_one_person(model: Assembly) -> None:
    found = plan(model)
    if found.order is None:
        return
    oracle = TimingOracle(model, found.order)
    for turn, name in enumerate(found.order):
        assert abs(found.times.begins[name] - oracle.begins[turn]) < 1e-9
        assert abs(found.times.ends[name] - oracle.ends[turn]) < 1e-9
    stretches = {(since, until) for since, until, _, _ in oracle.windows() if since != until}
    assert {(one.since, one.until) for one in found.times.windows} == stretches


def _with_a_bead(model: Assembly, since: str, until: str) -> Assembly:
    """The model with a bead between two steps that stays open for next to no time."""
    bead = (Apply(compound=links("bead", "compound"), to=links("seam", "surface")),)
    steps = tuple(
        replace(
            one,
            apply=(*one.apply, *(bead if one.id == since else ())),
            closes=(*one.closes, *(links("seam", "surface") if one.id == until else ())),
        )
        for one in model.steps
    )
    short = Compound(id="bead", open=read_amount("1 s", ("time",)))
    return replace(model, steps=steps, compounds=(*model.compounds, short))


@settings(max_examples=80, deadline=None)
@given(plain, st.data())
def test_what_can_be_done_before_the_bead_is_named_exactly(
    model: Assembly, data: st.DataObject
) -> None:
    orders = list(Oracle(model).orders())
    if not orders:
        return
    order = data.draw(st.sampled_from(orders))
    at = data.draw(st.integers(0, len(order) - 1))
    model = _with_a_bead(model, order[at], data.draw(st.sampled_from(order[at:])))
    for one in try_order(model, order).findings:
        if one.code != "open-too-long":
            continue
        assert one.step is not None
        since = str(one.path[1])
        moved, passed = sooner(model, order, since, one.step)
        *first, last = [f"`{name}`" for name in moved] or ["none"]
        names = f"{', '.join(first)} and {last}" if first else last
        if moved:
            told = f"do {names} before `{since}`: that leaves {lasting(passed)}"
            assert one.fix.removesuffix(", which is still too long: share out the rest") == told
        else:
            assert one.fix.startswith("share out ")


@settings(max_examples=40, deadline=None)
@given(timed_models())
def test_the_job_is_never_left_with_a_bead_open_or_a_window_running(model: Assembly) -> None:
    found = plan(model)
    if found.order is None:
        return
    chosen = next(one for one in variants(model) if {s.id for s in one.steps} == set(found.order))
    rules, timing = Oracle(chosen), TimingOracle(chosen, found.order)
    turns = {name: turn for turn, name in enumerate(found.order)}
    for turn, name in enumerate(found.order):
        running = any(turns[a] <= turn < turns[b] for a, b, _, _ in timing.windows())
        may_rest = rules.may_rest(frozenset(found.order[: turn + 1])) and not running
        assert (name in found.rest_after) == may_rest


@settings(max_examples=40, deadline=None)
@given(plain, st.data())
def test_times_and_compounds_never_make_an_order_invalid(
    model: Assembly, data: st.DataObject
) -> None:
    order = data.draw(st.permutations([step.id for step in model.steps]))
    tested = try_order(model, order)
    assert tested.ok == (tuple(order) in set(Oracle(model).orders()))
    assert tested.ok == (tested.moves == 0)
