"""What directly precedes what: the relations that are left when those that follow are left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.compiling import compile_network
from sequencer.planning.variants import left_out

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.network import Network


class Precedence(NamedTuple):
    """Two steps, by their places in an order, of which one comes before the other in every order.

    `shuts` tells that the later one shuts the only way in of the earlier.
    """

    before: int
    after: int
    shuts: bool = False


def precedences(assembly: Assembly, order: Sequence[str]) -> tuple[Precedence, ...]:
    """Return what directly precedes what among the steps of an order.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        The steps that are done, in an order that is valid or not; of what it breaks nothing is
        told.

    Returns
    -------
    tuple of Precedence
        In the order of the later steps. Relations, and ways in that have no alternative and stay
        shut; where one follows from others it is left out. More may be forced by groups and by
        ways in with alternatives.

    Notes
    -----
    Transitive reduction on bit masks, in time linear in relations times steps.
    """
    gone = frozenset(step.id for step in assembly.steps).difference(order)
    network = compile_network(left_out(assembly, gone))
    place = {network.index[step]: at for at, step in enumerate(order)}
    earlier: dict[int, dict[int, bool]] = {at: {} for at in range(len(order))}
    for before, after, shuts in _pairs(network):
        one, other = place[before], place[after]
        if one < other:
            earlier[other][one] = earlier[other].get(one, True) and shuts
    return tuple(_reduced(earlier))


def _pairs(network: Network) -> Iterator[Precedence]:
    for relation in network.relations:
        for before in relation.befores:
            for after in relation.afters:
                yield Precedence(before, after)
    for need in network.needs:
        for obstacle in need.ways[0].obstacles if len(need.ways) == 1 else ():
            for blocker in obstacle.blockers if not obstacle.clearers else ():
                yield Precedence(need.step, blocker, shuts=True)


def _reduced(earlier: Mapping[int, Mapping[int, bool]]) -> Iterator[Precedence]:
    """Yield the pairs that do not follow from others; the places are an order of all of them."""
    above: list[int] = []
    for after, befores in earlier.items():
        reached = 0
        for before in sorted(befores, reverse=True):
            if not reached >> before & 1:
                yield Precedence(before, after, befores[before])
                reached |= above[before] | 1 << before
        above.append(reached)
