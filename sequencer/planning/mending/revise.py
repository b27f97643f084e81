"""The least that must come out after a mistake, and all that follows from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.mending.costs import MINUTE
from sequencer.planning.mending.making import Maker
from sequencer.planning.mending.mender import Mender, usual_budget
from sequencer.planning.mending.results import Revised
from sequencer.planning.mending.stuck import no_mend, not_asked_rightly

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from sequencer.model.assembly import Assembly


def revise(  # noqa: PLR0913  # one question says all of this
    assembly: Assembly,
    done: Sequence[str],
    redo: Sequence[str] = (),
    again: Sequence[str] = (),
    *,
    budget: int | None = None,
    others: int = 0,
    order: Sequence[str] | None = None,
    skipped: Collection[str] = (),
) -> Revised:
    """Find the least that must come out so that the job can go on to its end.

    Parameters
    ----------
    assembly : Assembly
        The model.
    done : sequence of str
        The steps done, in the order in which they were.
    redo : sequence of str
        Steps that have to come out and be done again: spoiled, failed, or with changed figures.
    again : sequence of str
        Steps to do afresh in their place, if they can be reached; else they count as `redo`, as
        do those that tighten fasteners that serve once.
    budget : int, optional
        How many sets of steps may be looked into; the result depends on nothing else, so that it
        is the same on every machine.
    others : int
        How many of the next best mends to give as well.
    order : sequence of str, optional
        The order that what is still to be done keeps to where it can; the default is as written.
    skipped : collection of str
        Those of `done` that were left out with leave, see the notes; none of them in `redo` or
        `again`, as there is nothing of them to be done again.

    Returns
    -------
    Revised
        Without a mend where none exists; its findings then say why.

    Raises
    ------
    ValueError
        If a step stands twice in a list.

    Notes
    -----
    Exact by branch and bound, see `search`. Equal costs go by the fewest parts disturbed, then
    by what was done last.

    A step left out with leave was never done, so that nothing of it has to come out, nothing of
    it is on, and it is neither paid for nor done later: whoever gave the leave has decided about
    this unit, and a mend is no reason to ask again. But the leave was to go on without the step,
    not to change the order of the others: what must come after it comes after all that it must
    come after, and goes out with it. To take the leave back, leave the step out of `done`: then
    it counts as forgotten, and what should have waited for it comes out.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.steps import Step
    >>> steps = (
    ...     Step(id="gasket", do="Lay the gasket."),
    ...     Step(id="lid", do="Fit the lid.", after=(Link("gasket"),)),
    ... )
    >>> mend = revise(Assembly(assembly="box", steps=steps), ["lid"]).mend
    >>> mend.undo, mend.do, mend.minutes
    (('lid',), ('gasket', 'lid'), 5.0)
    """
    for names in (done, redo, again):
        if len(set(names)) != len(names):
            raise ValueError("a step stands twice in a list")
    wrong = not_asked_rightly(assembly, done, (*redo, *again), frozenset(skipped))
    if wrong:
        return Revised(None, findings=wrong)
    mender = Mender(assembly, order, skipped)
    history = mender.history(done, redo, again)
    budget = usual_budget(len(assembly.steps)) if budget is None else budget
    outcome = mender.search(history, budget, 1 + others)
    if not outcome.plans:
        return no_mend(mender, history, budget, outcome)
    maker = Maker(mender, history)
    best, *rest = (maker.mend(found) for found in outcome.plans)
    gap = (outcome.plans[0].node.cost - outcome.bound) / MINUTE
    return Revised(best, not gap, gap, tuple(rest))
