"""What can be done while a part is awaited, so that a finish stays possible."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.planning.decide import decide
from sequencer.planning.masks import Masks
from sequencer.planning.network import Relation

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.planning.network import Network


@dataclass(frozen=True, slots=True)
class Awaiting:
    """Steps to do now, and the rest once the part has come; together a valid order."""

    now: tuple[int, ...]
    then: tuple[int, ...]


def await_part(network: Network, order: Sequence[int], waiting: frozenset[int]) -> Awaiting:
    """Put off the steps that need an awaited part, and all that must wait for them.

    Parameters
    ----------
    network : Network
        The rules.
    order : sequence of int
        A valid order, whose sequence is kept where it can be.
    waiting : frozenset of int
        The steps that cannot be done until the part comes.

    Returns
    -------
    Awaiting
        After each step of `now` a finish without undoing anything is still possible, and no
        other step could be added at its end.

    Notes
    -----
    Steps are taken in the order given, again and again, as long as one may be done and leaves an
    order for the rest: one decision for each step that is tried.
    """
    masks = Masks(network)
    now: list[int] = []
    done = 0
    rest = list(order)
    added = True
    while added:
        added = False
        for step in list(rest):
            if step in waiting or not masks.may_follow(step, done):
                continue
            if _leaves_a_finish(network, [*now, step]) is not None:
                now.append(step)
                done |= 1 << step
                rest.remove(step)
                added = True
    whole = _leaves_a_finish(network, now) or tuple(order)
    return Awaiting(tuple(now), tuple(step for step in whole if not done >> step & 1))


def _leaves_a_finish(network: Network, now: Sequence[int]) -> tuple[int, ...] | None:
    """Return an order that begins with these steps, if there is one."""
    begun = set(now)
    rest = tuple(step for step in range(len(network.ids)) if step not in begun)
    if not now or not rest:
        return decide(network).order
    first = Relation(tuple(now), rest, "now", "step", "", (), "")
    return decide(replace(network, relations=(*network.relations, first))).order
