"""Parts counted over the steps: never fitted, fitted twice, or not as many as there are."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from sequencer.planning.telling import quoted
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.parts import Part
    from sequencer.model.steps import Fit, Step
    from sequencer.problem import Path

_Use = tuple["Step", "Fit", "Path"]


def counted(assembly: Assembly) -> Iterator[Problem]:
    """Yield `never-fitted`, `fitted-twice` and `miscounted`, in the order of the parts.

    A fit without a count takes all that is not yet on: a second such fit, or one after all are
    on, has nothing left to fit.
    """
    uses: defaultdict[str, list[_Use]] = defaultdict(list)
    in_trials = {link.to for trial in assembly.trials for link in trial.steps}
    passing = {link.to for step in assembly.steps for link in step.takes_off}
    tried: set[str] = set()
    for step in assembly.steps:
        if step.id in in_trials:
            tried.update(fit.part for fit in step.fits)
            continue
        for item, fit in enumerate(step.fits):
            uses[fit.part].append((step, fit, ("steps", step.id, "fits", item)))
    units = {unit.id for unit in assembly.units}
    for part in assembly.parts:
        if part.id in passing or part.at_start:
            continue  # how many are on changes on the way: see `stays`
        if part.id in tried and part.id not in uses:
            continue  # nothing of a trial stays
        place: Path = ("units" if part.id in units else "parts", part.id)
        finding = _judged(part, uses.get(part.id, []), place)
        if finding is not None:
            yield finding


def _judged(part: Part, uses: list[_Use], place: Path) -> Problem | None:
    if not uses:
        return Problem(
            "never-fitted",
            "error",
            f"no step fits `{part.id}`",
            path=place,
            why="it would be left over on the bench when the job is done",
            fix=f"name `{part.id}` in the `fits` of a step, or take it out of `{place[0]}`",
        )
    stated = sum(fit.count for _, fit, _ in uses if fit.count is not None)
    rests = [step.id for step, fit, _ in uses if fit.count is None]
    twice = len(rests) > 1 or (len(uses) > 1 and part.quantity == 1)
    if twice or (rests and stated >= part.quantity):
        return _fitted_twice(part, uses, place)
    if not rests and stated != part.quantity:
        return _miscounted(part, uses, stated, place)
    return None


def _facts(part: Part, uses: list[_Use], place: Path) -> tuple[Fact, ...]:
    said = []
    for step, fit, path in uses:
        amount = "all that is not yet on" if fit.count is None else str(fit.count)
        what = f"`{part.id}`" if part.quantity == 1 else f"{amount} of `{part.id}`"
        said.append(Fact(f"`{step.id}` fits {what}", path))
    there = f"there {_are(part.quantity)} of `{part.id}`"
    if part.spare:
        there += f", and {part.spare} spare on top"
    return (*said, Fact(there, place))


def _are(count: int) -> str:
    return "is 1" if count == 1 else f"are {count}"


def _fitted_twice(part: Part, uses: list[_Use], place: Path) -> Problem:
    names = quoted(dict.fromkeys(step.id for step, _, _ in uses))
    if part.quantity == 1:
        message, fix = f"`{part.id}` is fitted more than once, by {names}", "keep one of them"
    else:
        message = f"`{part.id}` is all on before the last of {names} fits it"
        fix = f"say how many each step fits, as in `fits: 2 {part.id}`"
    return Problem(
        "fitted-twice",
        "error",
        message,
        step=uses[-1][0].id,
        path=uses[-1][2],
        facts=_facts(part, uses, place),
        why="at the second of these steps there is nothing left to fit",
        fix=fix,
    )


def _miscounted(part: Part, uses: list[_Use], stated: int, place: Path) -> Problem:
    names = quoted(dict.fromkeys(step.id for step, _, _ in uses))
    fix = "count them on the bench and mend whichever figure is wrong"
    if stated > part.quantity:
        why = f"{stated - part.quantity} would be missing at the bench"
    else:
        why = f"{part.quantity - stated} would be left over when the unit is closed"
        fix += (
            f"; if that is meant, write `quantity: {stated}` and `spare: {part.quantity - stated}`"
        )
    fits = "fits" if len({step.id for step, _, _ in uses}) == 1 else "fit"
    return Problem(
        "miscounted",
        "error",
        f"there {_are(part.quantity)} of `{part.id}`, but {names} {fits} {stated}",
        step=uses[-1][0].id,
        path=uses[-1][2],
        facts=_facts(part, uses, place),
        why=why,
        fix=fix,
    )
