"""Which of the steps between a bead and its closing can be done before the bead."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.tested import judged
from sequencer.planning.timing.along import Along

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from sequencer.planning.network import Network
    from sequencer.planning.telling import Teller
    from sequencer.planning.timing.windows import Opened

MOST = 60
"""So many steps, or groups of them, are tried at the most; each costs a look at the whole order."""


def could_go_before(
    teller: Teller, along: Along, bead: Opened, broken: Callable[[Along], set[object]]
) -> tuple[int, ...]:
    """Return the steps in between that can all be done before a bead instead.

    Parameters
    ----------
    teller : Teller
        The model, with its rules.
    along : Along
        The order. Where it is not valid no step can be moved.
    bead : Opened
        The bead.
    broken : callable
        Gives a key for each thing that is wrong with the times of an order.

    Returns
    -------
    tuple of int
        Going down the order, each step that can stand right before the bead, behind those moved
        already, all else unchanged: the order stays valid and nothing more is wrong with its
        times. A group without the bead moves as one, and stays where it closes the bead; a bead
        inside a group that a step is not of has that step before the group.
    """
    if judged(teller, along.order):
        return ()
    network, turns = teller.network, along.clock.turns
    order, wrong = list(along.order), broken(along)
    moved: list[int] = []
    between = along.order[turns[bead.since] + 1 : turns[bead.until]]
    for block in _blocks(network, between, bead)[:MOST]:
        tried = _moved(network, order, block, bead.since)
        if not judged(teller, tried) and broken(Along(along.model, tried)) <= wrong:
            order = tried
            moved += block
    return tuple(moved)


def _blocks(network: Network, between: Sequence[int], bead: Opened) -> list[list[int]]:
    """Return what may be moved: single steps, and groups without the bead or its closing."""
    group_of = network.group_of
    blocks: dict[tuple[str, int], list[int]] = {}
    for step in between:
        group = group_of[step]
        if group < 0 or group == group_of[bead.since]:
            blocks["step", step] = [step]
        elif group != group_of[bead.until]:
            blocks.setdefault(("group", group), []).append(step)
    return list(blocks.values())


def _moved(network: Network, order: Sequence[int], block: Sequence[int], bead: int) -> list[int]:
    """Return the order with a block right before the bead, or before the group of the bead."""
    group = network.group_of[bead]
    whole = group >= 0 and network.group_of[block[0]] != group
    rest = [step for step in order if step not in block]
    at = next(
        at
        for at, step in enumerate(rest)
        if step == bead or (whole and network.group_of[step] == group)
    )
    return [*rest[:at], *block, *rest[at:]]
