"""What must precede what in every order, as far as that follows from pairs of steps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.masks import Masks, mask_of, steps_in

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.network import Network


def forced_before(network: Network) -> list[int]:
    """Return for each step the set (as a mask) of steps that come before it in every order.

    Only what follows from relations, from ways in that have no alternative and stay shut, and
    from groups being of one piece: what comes before one step of a group comes before all of it.
    More may be forced by ways in with alternatives. Steps in a circle come before themselves.

    Notes
    -----
    Transitive closure on bit masks, in the order of the strongly connected parts.
    """
    direct = list(Masks(network).before)
    for need in network.needs:
        for obstacle in need.ways[0].obstacles if len(need.ways) == 1 else ():
            for blocker in obstacle.blockers if not obstacle.clearers else ():
                direct[blocker] |= 1 << need.step
    for group in network.groups:
        whole = mask_of(group.steps)
        outside = 0
        for step in group.steps:
            outside |= direct[step] & ~whole
        for step in group.steps:
            direct[step] |= outside
    return _closed(direct, [mask_of(group.steps) for group in network.groups], network.group_of)


def _closed(direct: list[int], groups: Sequence[int], group_of: Sequence[int]) -> list[int]:
    """Close the relation: what comes before what comes before, a group counting as one."""
    closed = list(direct)
    changed = True
    while changed:
        changed = False
        for step, before in enumerate(closed):
            more = before
            for other in steps_in(before):
                more |= closed[other]
                group = group_of[other]
                if group >= 0 and group != group_of[step]:
                    more |= groups[group]
            if more != before:
                closed[step] = more
                changed = True
    return closed


def largest_unforced(
    before: Sequence[int], ranks: Sequence[int], steps: Sequence[int]
) -> frozenset[int]:
    """Return a largest set of the steps of which no two are forced against their ranks.

    Parameters
    ----------
    before : sequence of int
        For each step the set of steps forced before it, as `forced_before` gives it.
    ranks : sequence of int
        For each step where it should stand.
    steps : sequence of int
        The steps to choose from.

    Returns
    -------
    frozenset of int

    Notes
    -----
    "Forced before, yet ranked behind" is itself a partial order, so that the largest set without
    such a pair is a largest antichain: by Dilworth's theorem [1]_ found from a largest matching,
    by way of a smallest vertex cover (König).

    References
    ----------
    .. [1] R. P. Dilworth, "A decomposition theorem for partially ordered sets", Annals of
       Mathematics 51 (1950), pp. 161-166.
    """
    chosen = mask_of(steps)
    against = {
        step: [other for other in steps_in(before[step] & chosen) if ranks[other] > ranks[step]]
        for step in steps
    }
    if not any(against.values()):
        return frozenset(steps)
    import networkx as nx
    from networkx.algorithms import bipartite

    graph: nx.Graph[tuple[str, int]] = nx.Graph()
    graph.add_nodes_from(("ahead", step) for step in steps)
    for step, others in against.items():
        graph.add_edges_from((("ahead", step), ("behind", other)) for other in others)
    ahead = [("ahead", step) for step in steps]
    matching = bipartite.hopcroft_karp_matching(graph, ahead)
    cover = bipartite.to_vertex_cover(graph, matching, ahead)
    covered = {step for _, step in cover}
    return frozenset(step for step in steps if step not in covered)
