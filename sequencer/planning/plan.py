"""The planner's answers: is the model sound, which order to take, is this order right."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.chances import told_by_order
from sequencer.planning.clash import clashes
from sequencer.planning.count import MOST_SETS, Counted, count_orders
from sequencer.planning.counts import counted, left_loose
from sequencer.planning.decide import decide
from sequencer.planning.masks import Masks
from sequencer.planning.network import compile_network
from sequencer.planning.repair import repair
from sequencer.planning.results import Plan, Tested
from sequencer.planning.telling import Teller, told_clash, told_undecided
from sequencer.planning.tested import judged, unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem


def check(assembly: Assembly) -> tuple[Problem, ...]:
    """Return every finding about a model: no order, a written order that fails, parts, loose ends.

    A written order that does not work while another does gives warnings, one for each step that
    breaks a rule at its turn.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly, Link, Step
    >>> steps = (
    ...     Step(id="lid", do="Fit the lid.", after=(Link("gasket"),)),
    ...     Step(id="gasket", do="Lay the gasket."),
    ... )
    >>> [(found.code, found.severity) for found in check(Assembly(assembly="box", steps=steps))]
    [('not-yet', 'warning')]
    """
    teller = Teller(assembly, compile_network(assembly))
    return (*_about_order(teller), *counted(assembly), *left_loose(assembly))


def _about_order(teller: Teller) -> tuple[Problem, ...]:
    """Return the findings about order alone: deadlocks, or what the written order breaks."""
    network = teller.network
    decision = decide(network)
    if decision.undecided:
        return (told_undecided(),)
    if decision.order is None:
        return tuple(told_clash(teller, clash) for clash in clashes(network, decision))
    if decision.order == tuple(range(len(network.ids))):
        return ()
    return tuple(
        replace(finding, severity="warning") for finding in judged(teller, range(len(network.ids)))
    )


def plan(assembly: Assembly) -> Plan:
    """Return the written order if it is valid, else a valid one that moves few steps.

    Returns
    -------
    Plan
        With `order` None where no order exists; its findings then say why. A model in which
        something is left loose for good has no valid order either.
    """
    network = compile_network(assembly)
    loose = tuple(left_loose(assembly))
    repaired = None if loose else repair(network, range(len(network.ids)))
    findings = (*_about_order(Teller(assembly, network)), *loose)
    if repaired is None:
        return Plan(None, findings=findings)
    return Plan(
        tuple(network.ids[step] for step in repaired.order),
        repaired.moves,
        repaired.fewest,
        told_by_order(network, repaired.order),
        findings,
    )


def count(assembly: Assembly, most_sets: int = MOST_SETS) -> Counted:
    """Count the valid orders of a model: those of steps in groups too; none if it has none."""
    network = compile_network(assembly)
    if any(left_loose(assembly)) or decide(network).order is None:
        return Counted(0, exact=True)
    return count_orders(Masks(network), most_sets)


def try_order(assembly: Assembly, names: Sequence[str]) -> Tested:
    """Judge an order of one's own, and mend it.

    Parameters
    ----------
    assembly : Assembly
        The model.
    names : sequence of str
        Step ids, none twice; names that the model lacks are told and passed over.

    Returns
    -------
    Tested
        `mended` is the order itself where it is valid, and None only where no order exists.

    Raises
    ------
    ValueError
        If a step stands twice in the list.
    """
    if len(set(names)) != len(names):
        raise ValueError("a step stands twice in the order")
    network = compile_network(assembly)
    teller = Teller(assembly, network)
    wanted = [network.index[name] for name in names if name in network.index]
    loose = tuple(left_loose(assembly))
    findings = (*unknown(names, network.ids), *judged(teller, wanted), *loose)
    mended = None if loose else repair(network, wanted)
    if mended is None:
        clash_findings = (told_clash(teller, clash) for clash in clashes(network, decide(network)))
        return Tested((*findings, *clash_findings), None, None)
    return Tested(findings, tuple(network.ids[step] for step in mended.order), mended.moves)
