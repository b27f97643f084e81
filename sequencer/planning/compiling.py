"""From a model to its network: all that decides whether an order is valid, as plain lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.lookups import Lookups
from sequencer.planning.network import Group, Network
from sequencer.planning.reaching import needs
from sequencer.planning.relating import relations

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link


def compile_network(assembly: Assembly) -> Network:
    """Return the model's rules as plain lists, in time linear in the size of the model.

    Names that the model lacks are passed over: the reader has refused them. Of `one_of` all
    steps are in the network; see `variants` for one step of each.
    """
    lookups = Lookups(assembly)
    groups = tuple(group for group in _groups(lookups) if len(group.steps) > 1)
    group_of = [-1] * len(assembly.steps)
    for number, group in enumerate(groups):
        for step in group.steps:
            group_of[step] = number
    return Network(
        tuple(lookups.index),
        lookups.index,
        tuple(relations(lookups)),
        groups,
        tuple(needs(lookups)),
        tuple(group_of),
    )


def _groups(lookups: Lookups) -> Iterable[Group]:
    assembly = lookups.assembly
    for number, together in enumerate(assembly.together):
        yield Group(_steps(lookups, together.steps), ("together", number), together.why)
    for trial in assembly.trials:
        steps = _steps(lookups, trial.steps)
        yield Group(steps, ("trials", trial.id), trial.why, trial=True)


def _steps(lookups: Lookups, links: Iterable[Link]) -> tuple[int, ...]:
    numbers = (lookups.index[link.to] for link in links if link.to in lookups.index)
    return tuple(dict.fromkeys(numbers))
