"""Parts counted over the steps, and what is left loose: the findings that no order can mend."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from sequencer.planning.telling import quoted
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly, Fit, Part, Step
    from sequencer.problem import Path

_Use = tuple["Step", "Fit", "Path"]


def counted(assembly: Assembly) -> Iterator[Problem]:
    """Yield `never-fitted`, `fitted-twice` and `miscounted`, in the order of the parts.

    A fit without a count takes all that is not yet on: a second such fit, or one after all are
    on, has nothing left to fit.
    """
    uses: defaultdict[str, list[_Use]] = defaultdict(list)
    for step in assembly.steps:
        for item, fit in enumerate(step.fits):
            uses[fit.part].append((step, fit, ("steps", step.id, "fits", item)))
    for part in assembly.parts:
        finding = _judged(part, uses.get(part.id, []))
        if finding is not None:
            yield finding


def _judged(part: Part, uses: list[_Use]) -> Problem | None:
    if not uses:
        return Problem(
            "never-fitted",
            "error",
            f"no step fits `{part.id}`",
            path=("parts", part.id),
            why="it would be left over on the bench when the unit is closed",
            fix=f"name `{part.id}` in the `fits` of a step, or take it out of `parts`",
        )
    stated = sum(fit.count for _, fit, _ in uses if fit.count is not None)
    rests = [step.id for step, fit, _ in uses if fit.count is None]
    twice = len(rests) > 1 or (len(uses) > 1 and part.quantity == 1)
    if twice or (rests and stated >= part.quantity):
        return _fitted_twice(part, uses)
    if not rests and stated != part.quantity:
        return _miscounted(part, uses, stated)
    return None


def _facts(part: Part, uses: list[_Use]) -> tuple[Fact, ...]:
    said = []
    for step, fit, path in uses:
        amount = "all that is not yet on" if fit.count is None else str(fit.count)
        what = f"`{part.id}`" if part.quantity == 1 else f"{amount} of `{part.id}`"
        said.append(Fact(f"`{step.id}` fits {what}", path))
    return (*said, Fact(f"there {_are(part.quantity)} of `{part.id}`", ("parts", part.id)))


def _are(count: int) -> str:
    return "is 1" if count == 1 else f"are {count}"


def _fitted_twice(part: Part, uses: list[_Use]) -> Problem:
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
        facts=_facts(part, uses),
        why="at the second of these steps there is nothing left to fit",
        fix=fix,
    )


def _miscounted(part: Part, uses: list[_Use], stated: int) -> Problem:
    names = quoted(dict.fromkeys(step.id for step, _, _ in uses))
    if stated > part.quantity:
        why = f"{stated - part.quantity} would be missing at the bench"
    else:
        why = f"{part.quantity - stated} would be left over when the unit is closed"
    fits = "fits" if len({step.id for step, _, _ in uses}) == 1 else "fit"
    return Problem(
        "miscounted",
        "error",
        f"there {_are(part.quantity)} of `{part.id}`, but {names} {fits} {stated}",
        step=uses[-1][0].id,
        path=uses[-1][2],
        facts=_facts(part, uses),
        why=why,
        fix="count them on the bench and mend whichever figure is wrong",
    )


def left_loose(assembly: Assembly) -> Iterator[Problem]:
    """Yield `left-loose` for each step that leaves something loose which nothing makes fast."""
    secured = {link.to for step in assembly.steps for link in step.secures}
    for step in assembly.steps:
        if step.leaves == "loose" and step.id not in secured:
            yield Problem(
                "left-loose",
                "error",
                f"`{step.id}` leaves something loose, and no step makes it fast",
                step=step.id,
                path=("steps", step.id, "leaves"),
                why="the unit would be closed with it loose",
                fix=f"write `secures: {step.id}` in the step that tightens it",
            )
