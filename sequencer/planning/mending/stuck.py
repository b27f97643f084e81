"""Why nothing mends a mistake: points of no return, and ways that nothing opens."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.clash import clashes
from sequencer.planning.decide import decide
from sequencer.planning.mending.costs import NO_RETURN, Costs
from sequencer.planning.mending.left import left_to_do, left_to_take_back
from sequencer.planning.mending.reasons import Reasons
from sequencer.planning.mending.results import Revised
from sequencer.planning.plan import plan
from sequencer.planning.telling import Teller, quoted
from sequencer.planning.tested import unknown
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending.case import Case, Node
    from sequencer.planning.mending.history import History
    from sequencer.planning.mending.mender import Mender
    from sequencer.planning.mending.pulls import Cause
    from sequencer.planning.mending.search import Found, Outcome


def not_asked_rightly(
    assembly: Assembly, done: Sequence[str], repeated: Sequence[str], skipped: Collection[str]
) -> tuple[Problem, ...]:
    """Return a finding for each name that is no step, or no step that was done."""
    known = [step.id for step in assembly.steps]
    found = unknown((*done, *repeated), known)
    for name in dict.fromkeys(repeated):
        if name in known and (name not in done or name in skipped):
            message = f"`{name}` is to be done again, and was not done yet"
            why = "what was not done has nothing to come out"
            fix = f"leave `{name}` out, or name it among the steps done"
            found.append(
                Problem("not-done", "error", message, name, ("steps", name), why=why, fix=fix)
            )
    return tuple(found)


def no_mend(mender: Mender, history: History, budget: int, outcome: Outcome) -> Revised:
    """Return a result without a mend, with what stands in the way."""
    planned = plan(mender.assembly)
    if planned.order is None:
        return Revised(None, findings=planned.findings)
    if not outcome.proved:
        return Revised(None, proved=False, findings=(_undecided(),))
    freed = mender.search(history, budget, costs=Costs(mender.assembly, mender.skipped, NO_RETURN))
    if freed.plans:
        finding = _no_return(mender, freed.plans[0])
    elif freed.dead is not None:
        finding = _no_way_out(mender, *freed.dead)
    else:
        return Revised(None, proved=False, findings=(_undecided(),))
    return Revised(None, findings=(finding,))


def _undecided() -> Problem:
    return Problem(
        "undecided",
        "warning",
        "no mend was found within the bound on work, and it is not proved that none exists",
        why="so many sets of steps might come out that the choices run away",
        fix="ask again with fewer steps done, or with what you would take out under --redo",
    )


def _no_return(mender: Mender, found: Found) -> Problem:
    """Return the finding for steps marked `never` that would have to come out."""
    case, steps = found.case, mender.assembly.steps
    causes = case.causes(found.node)
    reasons = Reasons(mender.assembly, case)
    out = set(case.pulls.steps(found.node.mask))
    points = [step for step in case.history.done if step in out and step in mender.never]
    facts: list[Fact] = []
    for point in points:
        facts.extend(_chain(reasons, causes, point))
        undo = steps[point].undo
        reason = undo.never if undo is not None else ""
        path = ("steps", steps[point].id, "undo", "never")
        facts.append(Fact(f"`{steps[point].id}` is marked: {reason}", path))
    names = quoted(steps[point].id for point in points)
    return Problem(
        "no-return",
        "error",
        f"{names} would have to come out, and cannot be undone",
        step=steps[points[0]].id,
        path=("steps", steps[points[0]].id),
        facts=tuple(dict.fromkeys(facts)),
        why="a point of no return was passed: with that done, no order leads to the end",
        fix="ask the maker what can be done, and change the model by the answer",
    )


def _chain(reasons: Reasons, causes: Mapping[int, Cause], point: int) -> list[Fact]:
    """Return why a step comes out, from the first cause to the step itself."""
    told: list[Fact] = []
    seen: set[int] = set()
    step = point
    while step not in seen:
        seen.add(step)
        cause = causes[step]
        told.append(reasons.told(step, cause))
        if cause.step < 0 or cause.step not in causes:
            break
        step = cause.step
    return told[::-1]


def _no_way_out(mender: Mender, case: Case, node: Node) -> Problem:
    """Return the finding for steps that no way is open to, whatever else comes out."""
    staying = case.staying(node)
    out = sorted(case.pulls.steps(node.mask))
    left = left_to_take_back(case.undoing, staying, out, case.finished_trials)
    decision = decide(left.network)
    message, network = "what would have to come out cannot be got at", case.undoing.network
    if decision.order is not None:
        steps = [s for s in range(len(staying)) if case.rules.there[s] and not staying[s]]
        left = left_to_do(case.rules, staying, steps, case.kept)
        decision = decide(left.network)
        network = case.rules.network
        message = "what is still to be done can no longer be, whatever comes out"
    teller = Teller(mender.assembly, network)
    clash = next(clashes(left.network, decision), None)
    rules = [left.rule_in_whole(rule) for rule in clash.rules] if clash is not None else []
    at_fault = [left.steps[number] for number in clash.steps] if clash is not None else []
    step = mender.assembly.steps[at_fault[0]].id if at_fault else None
    fix = "check these facts against the unit on the bench, and change the model by what you see"
    if mender.skipped:
        names = quoted(mender.assembly.steps[number].id for number in sorted(mender.skipped))
        fix += f"; or take back the leave to leave out {names}: name it under --redo"
    return Problem(
        "no-return",
        "error",
        f"{message}: {teller.names(at_fault)}" if at_fault else message,
        step=step,
        path=("steps", step) if step is not None else (),
        facts=tuple(teller.fact(rule) for rule in rules),
        why="a point of no return was passed: with what was done, no order leads to the end",
        fix=fix,
    )
