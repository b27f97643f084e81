"""The model's side of least handling: what each step asks of the hands, and what that takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.handling import Attributes, Weights, handling_of
from sequencer.planning.results import HandlingTotals

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Assembly


def attributes_of(assembly: Assembly) -> tuple[Attributes, ...]:
    """Return what each step asks of the hands, as written."""
    return tuple(
        Attributes(
            position=step.position,
            tools=tuple(tuple(link.to for link in entry) for entry in step.tools),
            compounds=tuple(dict.fromkeys(link.to for one in step.apply for link in one.compound)),
            unit=step.unit,
        )
        for step in assembly.steps
    )


def weights_of(assembly: Assembly) -> Weights:
    """Return what handling takes, in seconds; the defaults where the model says nothing."""
    stated = assembly.handling
    usual = Weights()
    return Weights(
        turn=usual.turn if stated.turn is None else stated.turn.si,
        tool=usual.tool if stated.tool is None else stated.tool.si,
        compound=usual.compound if stated.compound is None else stated.compound.si,
    )


def totals(assembly: Assembly, order: Sequence[int]) -> HandlingTotals:
    """Return what the handling of an order takes; nothing is claimed about other orders."""
    found = handling_of(order, attributes_of(assembly), weights_of(assembly))
    return HandlingTotals(found.turns, found.tools, found.seconds, compounds=found.compounds)
