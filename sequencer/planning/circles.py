"""Circles of must-precede facts, at their shortest."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    import networkx as nx

    from sequencer.planning.network import Relation

# A step, or (relation, "") between the steps that it binds.
_Node: TypeAlias = "int | tuple[int, str]"
_MOST_WORK = 5_000_000


class Circle(NamedTuple):
    """Relations along a circle, each from the step at its place to the next one."""

    relations: tuple[Relation, ...]
    steps: tuple[int, ...]


def shortest_circle(relations: Sequence[Relation], steps: Iterable[int]) -> Circle | None:
    """Return a shortest circle of must-precede facts, or None where there is none.

    Parameters
    ----------
    relations : sequence of Relation
        The facts that may be used.
    steps : iterable of int
        The steps that the circle may pass.

    Returns
    -------
    Circle or None
        From its first step as written; of equally short ones the first found from the first step as
        written. On a very large tangle the search stops at a bound on work, and the circle is
        then the shortest met so far.

    Notes
    -----
    Breadth-first search from each step of each strongly connected component, no deeper than the
    best circle so far: O(n e) at worst.
    """
    graph = _graph(relations, frozenset(steps))
    best: list[_Node] | None = None
    work = 0
    for start, part in _starts(graph):
        if work > _MOST_WORK and best is not None:
            break
        path, looked_at = _round_trip(part, start, None if best is None else len(best) - 1)
        work += looked_at
        if path is not None and (best is None or len(path) < len(best)):
            best = path
    if best is None:
        return None
    path = _from_first_step(best)
    return Circle(
        tuple(relations[node[0]] for node in path if isinstance(node, tuple)),
        tuple(node for node in path if isinstance(node, int)),
    )


def _graph(relations: Sequence[Relation], steps: frozenset[int]) -> nx.DiGraph[_Node]:
    import networkx as nx

    graph: nx.DiGraph[_Node] = nx.DiGraph()
    for number, relation in enumerate(relations):
        befores = steps.intersection(relation.befores)
        afters = steps.intersection(relation.afters)
        alone = len(relation.befores) == 1 == len(relation.afters)
        if alone or befores.isdisjoint(afters):
            gate = (number, "")
            graph.add_edges_from((before, gate) for before in befores)
            graph.add_edges_from((gate, after) for after in afters)
            continue
        for before in befores:  # a step of both sides need not wait for itself
            gate = (number, str(before))
            graph.add_edge(before, gate)
            graph.add_edges_from((gate, after) for after in afters if after != before)
    return graph


def _starts(graph: nx.DiGraph[_Node]) -> Iterator[tuple[int, nx.DiGraph[_Node]]]:
    """Yield each step that lies on some circle with the part of the graph that it circles in."""
    import networkx as nx

    found: list[tuple[int, nx.DiGraph[_Node]]] = []
    for component in nx.strongly_connected_components(graph):
        if len(component) > 1:
            part = graph.subgraph(component).copy()
            found.extend((node, part) for node in component if isinstance(node, int))
    yield from sorted(found, key=lambda item: item[0])


def _round_trip(
    graph: nx.DiGraph[_Node], start: int, depth: int | None
) -> tuple[list[_Node] | None, int]:
    """Return a shortest way from a step back to itself, and how many edges were looked at."""
    import networkx as nx

    came_from: dict[_Node, _Node] = {}
    closing = set(graph.predecessors(start))
    last = None
    for parent, child in nx.bfs_edges(graph, start, depth_limit=depth):
        came_from[child] = parent
        if child in closing:
            last = child
            break
    if last is None:
        return None, len(came_from)
    path = [last]
    while path[-1] != start:
        path.append(came_from[path[-1]])
    return path[::-1], len(came_from)


def _from_first_step(path: list[_Node]) -> list[_Node]:
    first = path.index(min(node for node in path if isinstance(node, int)))
    return path[first:] + path[:first]
