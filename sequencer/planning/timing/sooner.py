"""Which of the steps between a bead and its closing can be done before the bead."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.tested import judged
from sequencer.planning.timing.along import Along

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from fractions import Fraction

    from sequencer.planning.network import Network
    from sequencer.planning.telling import Teller
    from sequencer.planning.timing.windows import Opened

_WORK = 100_000  # steps looked at, for all beads of one order together


class Tries:
    """How often an order may still be tried with a step moved; each try looks at all of it."""

    def __init__(self, steps: int) -> None:
        self.left = _WORK // max(steps, 1)

    def take(self) -> bool:
        """Tell whether one more may be made, and count it."""
        self.left -= 1
        return self.left >= 0


class Sooner(NamedTuple):
    """Steps that can be done before a bead, and what then passes until it is closed.

    `all_tried` is false where the tries were used up.
    """

    moved: tuple[int, ...]
    passed: Fraction
    all_tried: bool


def could_go_before(
    teller: Teller,
    along: Along,
    bead: Opened,
    broken: Callable[[Along], set[object]],
    tries: Tries,
) -> Sooner:
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
    tries : Tries
        How many are allowed; once they are used up nothing more is moved.

    Returns
    -------
    Sooner
        Going down the order, each step that can stand right before the bead, behind those moved
        already, all else unchanged: the order stays valid and nothing more is wrong with its
        times. A group without the bead moves as one, and stays where it closes the bead; a bead
        inside a group that a step is not of has that step before the group.
    """
    if not tries.take() or judged(teller, along.order):
        return Sooner((), bead.passed, all_tried=tries.left >= 0)
    network, turns = teller.network, along.clock.turns
    order, wrong = list(along.order), broken(along)
    moved: list[int] = []
    between = along.order[turns[bead.since] + 1 : turns[bead.until]]
    for block in _blocks(network, between, bead):
        if not tries.take():
            break
        tried = _moved(network, order, block, bead.since)
        if not judged(teller, tried) and broken(Along(along.model, tried)) <= wrong:
            order = tried
            moved += block
    clock = Along(along.model, order).clock
    passed = clock.ends[bead.until] - clock.ends[bead.since]
    return Sooner(tuple(moved), passed, all_tried=tries.left >= 0)


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
