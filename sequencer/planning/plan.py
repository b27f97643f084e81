"""The planner's answers: is the model sound, which order to take, is this order right."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.awaiting import await_part
from sequencer.planning.chances import told_by_order
from sequencer.planning.clash import clashes
from sequencer.planning.compiling import compile_network
from sequencer.planning.count import MOST_SETS, Counted, count_orders
from sequencer.planning.counts import counted
from sequencer.planning.decide import decide
from sequencer.planning.endings import bad_endings, not_there
from sequencer.planning.lookups import Lookups
from sequencer.planning.masks import Masks
from sequencer.planning.moves import count_moves
from sequencer.planning.repair import Repaired, repair
from sequencer.planning.rests import rest_points
from sequencer.planning.results import Awaited, HandlingTotals, Plan, Tested
from sequencer.planning.settled import unsettled, with_settled
from sequencer.planning.shared_check import shared_checks
from sequencer.planning.stale import stale
from sequencer.planning.telling import Teller, told_clash, told_undecided
from sequencer.planning.tested import gathered, judged, one_too_many, unknown
from sequencer.planning.timing import (
    ALONG,
    paused,
    times_along,
    timing_as_written,
    timing_findings,
)
from sequencer.planning.unconfirmed import unconfirmed
from sequencer.planning.variants import fallbacks, variants
from sequencer.trade.findings import findings

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.handling import Handled
    from sequencer.problem import Problem


STATES = 5_000_000
OF_ONE_ORDER = ALONG | {"stale", "unsettled"}
"""The codes of findings that hold for one order, and may not for another."""


def check(assembly: Assembly) -> tuple[Problem, ...]:
    """Return every finding about a model: no order, a written order that fails, parts, loose ends.

    A written order that does not work while another does gives warnings, one for each step that
    breaks a rule at its turn.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.steps import Step
    >>> steps = (
    ...     Step(id="lid", do="Fit the lid.", after=(Link("gasket"),)),
    ...     Step(id="gasket", do="Lay the gasket."),
    ... )
    >>> [(found.code, found.severity) for found in check(Assembly(assembly="box", steps=steps))]
    [('not-yet', 'warning')]
    """
    tellers, endings = _that_end_well(assembly)
    told = tellers or list(_tellers(assembly))
    return (
        *_about_order(told),
        *timing_as_written(told),
        *counted(assembly),
        *endings,
        *not_there(assembly),
        *stale(assembly, [step.id for step in assembly.steps]),
        *shared_checks(assembly),
        *unconfirmed(told[0]),
        *unsettled(assembly, [step.id for step in assembly.steps]),
        *findings(assembly),
    )


def _tellers(assembly: Assembly) -> Iterator[Teller]:
    """Yield the model with its rules, once for each choice that `one_of` leaves."""
    for variant in variants(assembly):
        yield Teller(variant, compile_network(variant))


def _that_end_well(assembly: Assembly) -> tuple[list[Teller], tuple[Problem, ...]]:
    """Return the choices that leave nothing loose or on for good; where none is, why not."""
    endings: list[tuple[Problem, ...]] = []
    tellers: list[Teller] = []
    for teller in _tellers(assembly):
        bad = tuple(bad_endings(teller.assembly))
        if bad:
            endings.append(bad)
        else:
            tellers.append(teller)
    return tellers, () if tellers else endings[0]


def _about_order(tellers: Iterable[Teller]) -> tuple[Problem, ...]:
    """Return the findings about order alone: deadlocks, or what the written order breaks.

    Where `one_of` leaves choices, one whose written order works is enough; else those of the first
    choice that has an order, and where none has, the deadlocks of the choice written first.
    """
    broken: tuple[Problem, ...] = ()
    deadlocks: tuple[Problem, ...] = ()
    undecided = False
    for teller in tellers:
        network = teller.network
        decision = decide(network)
        if decision.order == tuple(range(len(network.ids))):
            return ()
        if decision.order is not None:
            found = judged(teller, range(len(network.ids)))
            broken = broken or tuple(replace(finding, severity="warning") for finding in found)
        elif not broken:
            undecided |= decision.undecided
            clashing = (told_clash(teller, clash) for clash in clashes(network, decision))
            deadlocks = deadlocks or tuple(clashing)
    return broken or ((told_undecided(),) if undecided else deadlocks)


def plan(assembly: Assembly) -> Plan:
    """Return the written order if it is valid, else a valid one that moves few steps.

    Returns
    -------
    Plan
        With `order` None where no order exists; its findings then say why. A model in which
        something is left loose or an aid left on for good has no valid order either.
    """
    tellers, endings = _that_end_well(assembly)
    findings = (*_about_order(tellers or _tellers(assembly)), *endings)
    best = _nearest(tellers, [range(len(teller.network.ids)) for teller in tellers])
    if best is None:
        return Plan(None, findings=findings)
    from sequencer.planning.least import totals

    teller, repaired = best
    made = totals(teller.assembly, repaired.order)
    return _planned(assembly, teller, repaired, made, findings)


def plan_by_handling(assembly: Assembly, budget: int = STATES) -> Plan:
    """Return an order with the least handling, and what any order takes at least.

    Parameters
    ----------
    assembly : Assembly
        The model.
    budget : int
        How many states may be gone through; the result depends on nothing else, so that it is
        the same on every machine.

    Returns
    -------
    Plan
        With `moves` counted from the written order, and `handling.bound` the proven bound: where
        it equals `handling.seconds` no order takes less.
    """
    from sequencer.planning.handling import least_handling
    from sequencer.planning.least import attributes_of, totals, weights_of

    written = plan(assembly)
    if written.order is None:
        return written
    best: tuple[Teller, Handled] | None = None
    least: float | None = None
    for teller in _that_end_well(assembly)[0]:
        written_order = range(len(teller.network.ids))
        network = with_settled(teller.assembly, teller.network, written_order)
        start = decide(network).order
        if start is None:
            continue
        asked = attributes_of(teller.assembly), weights_of(teller.assembly)
        found = least_handling(Masks(network), *asked, budget=budget, start=start)
        least = found.bound if least is None else min(least, found.bound)
        if best is None or found.seconds < best[1].seconds:
            best = teller, found
    if best is None:
        return written
    teller, found = best
    moves = count_moves(found.order, range(len(teller.network.ids)))
    made = replace(totals(teller.assembly, found.order), bound=least)
    repaired = Repaired(found.order, moves, fewest=not moves)
    return _planned(assembly, teller, repaired, made, written.findings)


def _planned(
    assembly: Assembly,
    teller: Teller,
    repaired: Repaired,
    made: HandlingTotals,
    findings: tuple[Problem, ...],
) -> Plan:
    """Return an order with all that it tells."""
    network = teller.network
    order = tuple(network.ids[step] for step in repaired.order)
    times = times_along(teller.assembly, network, repaired.order)
    return Plan(
        order,
        repaired.moves,
        repaired.fewest,
        told_by_order(network, repaired.order),
        made,
        rest_points(Lookups(teller.assembly), network, repaired.order, times.windows),
        {step: other for step in network.ids if (other := fallbacks(assembly, step))},
        (
            *(finding for finding in findings if finding.code not in OF_ONE_ORDER),
            *stale(teller.assembly, order),
            *unsettled(teller.assembly, order),
            *timing_findings(teller, repaired.order),
        ),
        times,
    )


def without(assembly: Assembly, part: str) -> Awaited | None:
    """Return what can be done while a part is awaited, and then the rest; None without an order.

    The steps that fit the part wait, and with them all without which no finish would be left.
    """
    from sequencer.planning.least import totals

    planned = plan(assembly)
    if planned.order is None:
        return None
    teller = next(t for t in _tellers(assembly) if set(t.network.ids) == set(planned.order))
    network = teller.network
    waiting = frozenset(
        number
        for number, step in enumerate(teller.assembly.steps)
        if any(fit.part == part for fit in step.fits)
    )
    awaiting = await_part(network, [network.index[step] for step in planned.order], waiting)
    order = (*awaiting.now, *awaiting.then)
    moves = count_moves(order, range(len(network.ids)))
    repaired = Repaired(order, moves, fewest=not moves)
    made = totals(teller.assembly, order)
    whole = _planned(assembly, teller, repaired, made, planned.findings)
    now = tuple(network.ids[step] for step in awaiting.now)
    then = tuple(network.ids[step] for step in awaiting.then)
    whole = replace(whole, findings=(*whole.findings, *paused(whole.times, now, part)))
    return Awaited(whole, now, then)


def _nearest(
    tellers: Iterable[Teller], wanted: Iterable[Sequence[int]]
) -> tuple[Teller, Repaired] | None:
    """Return the choice and the order with the fewest moves, of equal ones the first."""
    best: tuple[Teller, Repaired] | None = None
    fewest = True
    for teller, order in zip(tellers, wanted, strict=True):
        repaired = repair(with_settled(teller.assembly, teller.network, order), order)
        if repaired is None:
            continue
        fewest &= repaired.fewest
        if best is None or repaired.moves < best[1].moves:
            best = teller, repaired
        if not repaired.moves:
            return best
    return None if best is None else (best[0], replace(best[1], fewest=fewest))


def count(assembly: Assembly, most_sets: int = MOST_SETS) -> Counted:
    """Count the valid orders of a model: those of steps in groups too; none if it has none."""
    total, exact = 0, True
    for teller in _that_end_well(assembly)[0]:
        if decide(teller.network).order is not None:
            found = count_orders(Masks(teller.network), most_sets)
            total += found.count
            exact &= found.exact
    return Counted(total, exact)


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

    Notes
    -----
    Of each `one_of` the step in the list counts; where the list has none of its steps, or
    several, every choice is tried and the one with the fewest findings judges.
    """
    if len(set(names)) != len(names):
        raise ValueError("a step stands twice in the order")
    every = [step.id for step in assembly.steps]
    judgements = [
        (
            (
                *_left_out(teller, names, every),
                *judged(teller, _listed(teller, names)),
                *bad_endings(teller.assembly),
            ),
            teller,
        )
        for teller in _tellers(assembly)
    ]
    tellers, _ = _that_end_well(assembly)
    found, judge = min(judgements, key=lambda one: len(one[0]))
    timing = timing_findings(judge, _listed(judge, names))
    packs = unsettled(judge.assembly, names)
    strange = unknown(names, every)
    findings = (*strange, *(gathered(found) if strange else found), *packs, *timing)
    best = _nearest(tellers, [_listed(teller, names) for teller in tellers])
    if best is None:
        return Tested((*findings, *_about_order(tellers)), None, None)
    teller, repaired = best
    mended = tuple(teller.network.ids[step] for step in repaired.order)
    return Tested(findings, mended, repaired.moves)


def _listed(teller: Teller, names: Sequence[str]) -> list[int]:
    index = teller.network.index
    return [index[name] for name in names if name in index]


def _left_out(teller: Teller, names: Sequence[str], every: Sequence[str]) -> Iterator[Problem]:
    """Yield a finding for each step of the list that a choice of `one_of` leaves out."""
    for name in names:
        if name in every and name not in teller.network.index:
            yield one_too_many(name)
