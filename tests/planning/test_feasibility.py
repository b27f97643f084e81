"""Whether an order exists, against every order tried."""

from __future__ import annotations

from typing import Any

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.planning.clash import clashes
from sequencer.planning.compiling import compile_network
from sequencer.planning.decide import decide
from sequencer.planning.endings import bad_endings
from sequencer.planning.peel import peel
from tests.helpers import assembly, step
from tests.oracle import Oracle
from tests.planning.keys import key_of
from tests.strategies import models, rich_models

either = st.one_of(models(), rich_models(), rich_models())


def _without_choices(model: Assembly) -> bool:
    """One of several steps, and things left loose, are settled before a network is made."""
    return not model.one_of and not list(bad_endings(model))


@settings(max_examples=500, deadline=None)
@given(either.filter(_without_choices))
def test_an_order_is_found_exactly_where_one_exists(model: Assembly) -> None:
    network = compile_network(model)
    decision = decide(network)
    oracle = Oracle(model)
    assert not decision.undecided
    assert (decision.order is not None) == oracle.has_order()
    if decision.order is not None:
        assert oracle.is_valid([network.ids[number] for number in decision.order])


@settings(max_examples=300, deadline=None)
@given(either.filter(_without_choices), st.randoms(use_true_random=False))
def test_a_valid_order_is_given_back_when_it_is_preferred(model: Assembly, random: Any) -> None:
    network = compile_network(model)
    ranks = list(range(len(network.ids)))
    random.shuffle(ranks)
    order = sorted(range(len(ranks)), key=ranks.__getitem__)
    if Oracle(model).is_valid([network.ids[number] for number in order]):
        assert decide(network, ranks).order == tuple(order)


@settings(max_examples=500, deadline=None)
@given(either.filter(_without_choices))
def test_a_clash_alone_admits_no_order_and_needs_each_of_its_facts(model: Assembly) -> None:
    network = compile_network(model)
    every = {key_of(network, rule) for rule in network.rules()}
    found = list(clashes(network, decide(network)))
    assert bool(found) == (not Oracle(model).has_order())
    for clash in found:
        facts = {key_of(network, rule) for rule in clash.rules}
        assert facts
        assert not Oracle(model, frozenset(every - facts)).has_order()
        for fact in facts:
            assert Oracle(model, frozenset(every - facts | {fact})).has_order()


@settings(max_examples=200, deadline=None)
@given(models())
def test_the_peel_stops_only_at_steps_that_no_order_frees(model: Assembly) -> None:
    network = compile_network(model)
    peeled = peel(network)
    assert bool(peeled.stuck) == (not Oracle(model).has_order())
    assert peeled.stuck.isdisjoint(peeled.order)
    assert len(peeled.stuck) + len(peeled.order) == len(network.ids)


@settings(max_examples=200, deadline=None)
@given(st.integers(1, 8), st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=20))
def test_models_with_only_after_agree_with_networkx(
    count: int, pairs: list[tuple[int, int]]
) -> None:
    edges = {(a % count, b % count) for a, b in pairs}
    names = [f"s{number}" for number in range(count)]
    model = assembly(
        *(
            step(name, after=" ".join(names[a] for a, b in sorted(edges) if b == number))
            for number, name in enumerate(names)
        )
    )
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from((names[a], names[b]) for a, b in edges)
    network = compile_network(model)
    decision = decide(network)
    assert (decision.order is not None) == nx.is_directed_acyclic_graph(graph)
    if decision.order is None:
        circle = next(clashes(network, decision))
        assert circle.code == "circle"
        assert len(circle.rules) == min(map(len, nx.simple_cycles(graph)))
    else:
        turn = {number: at for at, number in enumerate(decision.order)}
        assert all(turn[a] < turn[b] for a, b in edges)
