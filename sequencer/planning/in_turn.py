"""Steps left out with leave among those done: each counts from where its turn has come."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.planning.network import Network


def in_turn(network: Network, done: Sequence[str], skipped: Iterable[str]) -> tuple[str, ...]:
    """Return the steps done, and among them what was left out, as soon as that could be done.

    Leave may be given long before: a step whose turn has not come, because something that must
    precede it is still to be done, is not among them.

    Parameters
    ----------
    network : Network
        The rules of order.
    done : sequence of str
        The steps done, in the order in which they were.
    skipped : iterable of str
        Those left out with leave.
    """
    placed = list(done)
    left = [step for step in skipped if step not in placed and step in network.index]
    while True:
        at = {step: place for place, step in enumerate(placed)}
        found = next((one for one in left if _befores(network, one) <= at.keys()), None)
        if found is None:
            return tuple(placed)
        left.remove(found)
        first = max((at[step] + 1 for step in _befores(network, found)), default=0)
        mates = (at[step] for step in _mates(network, found) if step in at)
        placed.insert(max(first, min(mates, default=0)), found)


def _befores(network: Network, step: str) -> set[str]:
    """Return what must precede a step."""
    number = network.index[step]
    befores = {
        network.ids[before]
        for relation in network.relations
        if number in relation.afters
        for before in relation.befores
    }
    return befores - {step}


def _mates(network: Network, step: str) -> list[str]:
    """Return the steps with which a step is one operation."""
    group = network.group_of[network.index[step]]
    return [network.ids[mate] for mate in network.groups[group].steps] if group >= 0 else []
