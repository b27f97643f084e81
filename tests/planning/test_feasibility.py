"""Whether an order exists, against every order tried."""

from __future__ import annotations

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.planning.clash import clashes
from sequencer.planning.decide import decide
from sequencer.planning.network import compile_network
from sequencer.planning.peel import peel
from tests.helpers import assembly, step
from tests.oracle import has_order, is_valid
from tests.strategies import models


@settings(max_examples=400, deadline=None)
@given(models())
def test_an_order_is_found_exactly_where_one_exists(model: Assembly) -> None:
    network = compile_network(model)
    peeled = peel(network)
    order = [network.ids[number] for number in peeled.order]
    assert bool(peeled.stuck) == (not has_order(model))
    if not peeled.stuck:
        assert is_valid(model, order)


@settings(max_examples=300, deadline=None)
@given(models(), st.randoms(use_true_random=False))
def test_a_valid_order_is_given_back_when_it_is_preferred(model: Assembly, random: object) -> None:
    network = compile_network(model)
    ranks = list(range(len(network.ids)))
    random.shuffle(ranks)  # type: ignore[attr-defined]  # hypothesis types its random as object
    order = sorted(range(len(ranks)), key=ranks.__getitem__)
    if is_valid(model, [network.ids[number] for number in order]):
        assert peel(network, ranks).order == tuple(order)


@settings(max_examples=400, deadline=None)
@given(models())
def test_a_clash_alone_admits_no_order_and_needs_each_of_its_facts(model: Assembly) -> None:
    network = compile_network(model)
    every = {rule.path for rule in network.rules()}
    for clash in clashes(network, decide(network)):
        facts = {rule.path for rule in clash.rules}
        assert len(facts) == len(clash.rules)
        assert not has_order(model, frozenset(every - facts))
        for fact in facts:
            assert has_order(model, frozenset(every - facts | {fact}))
        assert facts


@settings(max_examples=300, deadline=None)
@given(models())
def test_a_clash_is_told_wherever_no_order_exists(model: Assembly) -> None:
    network = compile_network(model)
    found = list(clashes(network, decide(network)))
    assert bool(found) == (not has_order(model))


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
    peeled = peel(network)
    assert (not peeled.stuck) == nx.is_directed_acyclic_graph(graph)
    if peeled.stuck:
        circle = next(clashes(network, decide(network)))
        assert circle.code == "circle"
        assert len(circle.rules) == min(map(len, nx.simple_cycles(graph)))
    else:
        turn = {number: at for at, number in enumerate(peeled.order)}
        assert all(turn[a] < turn[b] for a, b in edges)
