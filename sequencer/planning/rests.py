"""Rest points: steps after which the job may be left overnight."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.relating import fasteners_again

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.planning.lookups import Lookups
    from sequencer.planning.network import Network
    from sequencer.planning.results import Window


def rest_points(
    lookups: Lookups, network: Network, order: Sequence[int], windows: Iterable[Window] = ()
) -> tuple[str, ...]:
    """Return the steps after which nothing is loose and nothing that bars others is running.

    Parameters
    ----------
    lookups : Lookups
        The names of the model.
    network : Network
        Its rules.
    order : sequence of int
        A valid order of all steps.
    windows : iterable of Window
        What has to be done in time in that order.

    Returns
    -------
    tuple of str
        Steps in the order given: after each, no group or trial is begun and not finished,
        nothing is left loose, no state runs that keeps a position or bars a step, no compound is
        open that a later step closes, and no step has to begin in time. The last step is one.
    """
    turn = {step: at for at, step in enumerate(order)}
    change = [0] * (len(order) + 1)
    index = network.index
    in_time = ((turn[index[one.since]], turn[index[one.until]]) for one in windows)
    for first, last in (*_unrest(lookups, network, turn), *in_time):
        if last > first:
            change[first] += 1
            change[last] -= 1
    running = 0
    found = []
    for at, step in enumerate(order):
        running += change[at]
        if not running:
            found.append(network.ids[step])
    return tuple(found)


def _unrest(lookups: Lookups, network: Network, turn: dict[int, int]) -> Iterator[tuple[int, int]]:
    """Yield stretches: from the turn that begins something to the turn that ends it."""
    for group in network.groups:
        turns = [turn[step] for step in group.steps]
        yield min(turns), max(turns)
    for number, step in enumerate(lookups.steps):
        fast = lookups.secured_by.get(step.id, ()) if "loose" in step.leaves else ()
        for link in step.loosens:
            fast = (*fast, *fasteners_again(lookups, number, link))
        if fast:
            yield turn[number], max(turn[other] for other in fast)
    barring = {link.to for step in lookups.steps for link in step.not_while}
    for state in lookups.assembly.states:
        begins = [turn[step] for link in state.begins for step in lookups.named(link)]
        ends = [turn[step] for link in state.ends for step in lookups.named(link)]
        if begins and ends and (state.keep or state.id in barring):
            yield min(begins), max(ends)
