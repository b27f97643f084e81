"""What directly precedes what: true in every order, and nothing that follows from the rest."""

from __future__ import annotations

from typing import TYPE_CHECKING

import networkx as nx
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sequencer.planning.plan import plan
from sequencer.planning.preceding import Precedence, precedences
from sequencer.planning.variants import left_out
from tests.helpers import assembly, step, way
from tests.oracle import Oracle
from tests.strategies import rich_models

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly


@settings(max_examples=60, deadline=None)
@given(rich_models(5))
def test_what_is_told_holds_in_every_order(model: Assembly) -> None:
    order = plan(model).order
    assume(order is not None)
    assert order is not None
    found = precedences(model, order)
    chosen = left_out(model, frozenset(one.id for one in model.steps).difference(order))
    for other in Oracle(chosen).orders():
        at = [other.index(name) for name in order]
        assert all(at[one.before] < at[one.after] for one in found)


PAIRS = st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), max_size=20)


@settings(max_examples=60, deadline=None)
@given(PAIRS)
def test_what_follows_from_others_is_left_out(pairs: list[tuple[int, int]]) -> None:
    edges = {(one, other) for one, other in pairs if one < other}
    names = [f"s{number}" for number in range(9)]
    steps = (
        step(name, after=" ".join(names[one] for one, other in sorted(edges) if other == number))
        for number, name in enumerate(names)
    )
    found = precedences(assembly(*steps), names)
    graph: nx.DiGraph[int] = nx.DiGraph(edges)
    assert {one[:2] for one in found} == set(nx.transitive_reduction(graph).edges)
    assert len(found) == len({one[:2] for one in found})


def test_step_that_shuts_the_only_way_in_comes_after() -> None:
    lone = step("seal", fits="seal", ways=(way("top", "lid"),))
    free = step("pin", fits="pin", ways=(way("top", "lid"), way("side")))
    found = precedences(assembly(lone, free, step("lid", fits="lid")), ["seal", "pin", "lid"])
    assert found == (Precedence(0, 2, shuts=True),)


def test_relation_that_is_written_counts_before_a_way_that_is_shut() -> None:
    seal = step("seal", fits="seal", ways=(way("top", "lid"),))
    found = precedences(assembly(seal, step("lid", fits="lid", after="seal")), ["seal", "lid"])
    assert found == (Precedence(0, 1),)


def test_of_an_order_that_breaks_a_relation_nothing_is_told_of_that() -> None:
    model = assembly(step("lid", after="seal"), step("seal"))
    assert precedences(model, ["lid", "seal"]) == ()
