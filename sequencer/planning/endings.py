"""What no order can mend: left loose, left on, or taken off and built on while not there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.lookups import Lookups
from sequencer.planning.relating import fasteners_again
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import Fit, Step
    from sequencer.problem import Path


def bad_endings(assembly: Assembly) -> Iterator[Problem]:
    """Yield `left-loose` and `left-on`: with any of these a model has no valid order."""
    lookups = Lookups(assembly)
    for number, step in enumerate(assembly.steps):
        if "loose" in step.leaves and step.id not in lookups.secured_by:
            yield _left_loose(
                step.id,
                ("steps", step.id, "leaves"),
                f"`{step.id}` leaves something loose, and no step makes it fast",
                f"write `secures: {step.id}` in the step that tightens it",
                _fitted(lookups, step),
            )
        for item, link in enumerate(step.loosens):
            if not fasteners_again(lookups, number, link):
                yield _left_loose(
                    step.id,
                    ("steps", step.id, "loosens", item),
                    f"`{step.id}` loosens `{link.to}`, and no other step makes it fast again",
                    f"add the step that tightens `{link.to}` again",
                    _loosened(lookups, link),
                )
    yield from _left_on(lookups)


def _left_loose(step: str, path: Path, message: str, fix: str, facts: tuple[Fact, ...]) -> Problem:
    why = "the unit would be closed with it loose"
    return Problem(
        "left-loose", "error", message, step=step, path=path, facts=facts, why=why, fix=fix
    )


def _loosened(lookups: Lookups, link: Link) -> tuple[Fact, ...]:
    """Return what was made fast before: a joint's fasteners, or what a step fits."""
    if link.kind == "step":
        return _fitted(lookups, lookups.steps[lookups.index[link.to]])
    return tuple(
        Fact(f"`{joint.id}` has {joint.count} fasteners", ("joints", joint.id, "count"))
        for joint in lookups.assembly.joints
        if joint.id == link.to and joint.count > 1
    )


def _fitted(lookups: Lookups, step: Step) -> tuple[Fact, ...]:
    """Return what a step fits, with how many where that is more than one."""
    said = [f"{_many(lookups, fit)}`{fit.part}`" for fit in step.fits]
    if not said:
        return ()
    *others, last = said
    listed = f"{', '.join(others)} and {last}" if others else last
    return (Fact(f"`{step.id}` fits {listed}", ("steps", step.id, "fits")),)


def _many(lookups: Lookups, fit: Fit) -> str:
    """Return how many a fit puts on, and a space; nothing for one."""
    part = lookups.parts.get(fit.part)
    count = fit.count
    if count is None and part is not None:
        fits = (other for step in lookups.steps for other in step.fits)
        others = sum(other.count or 0 for other in fits if other.part == fit.part)
        count = part.quantity - others
    return f"{count} " if count is not None and count > 1 else ""


def _left_on(lookups: Lookups) -> Iterator[Problem]:
    for part in lookups.assembly.parts:
        if not part.aid:
            continue
        stay = lookups.stay_of(part.id, len(lookups.steps))
        if stay is not None and stay.off < 0:
            step = lookups.steps[stay.fits[-1]].id if stay.fits else None
            where = f"`{step}` fits" if step else "the job begins with"
            yield Problem(
                "left-on",
                "error",
                f"{where} `{part.id}`, an aid, and no later step takes it off",
                step=step,
                path=("parts", part.id, "aid"),
                why="it would be shut in the unit",
                fix=f"write `takes_off: {part.id}` in the step that takes it off",
            )


def not_there(assembly: Assembly) -> Iterator[Problem]:
    """Yield `not-there` for each step that takes off, or builds on, a part that is not on."""
    lookups = Lookups(assembly)
    for number, step in enumerate(assembly.steps):
        trial = lookups.trials.number.get(number, -1)
        for item, link in enumerate(step.takes_off):
            own = lookups.trials.fits.get((trial, link.to))
            stays = lookups.stays.get(link.to, [])
            if not own and not any(stay.off == number for stay in stays):
                yield _absent(step.id, "takes_off", item, link.to, "takes off")
        for item, link in enumerate(step.onto):
            own = lookups.trials.fits.get((trial, link.to))
            if not own and lookups.stay_of(link.to, number) is None:
                yield _absent(step.id, "onto", item, link.to, "builds on")


def _absent(step: str, field: str, item: int, part: str, does: str) -> Problem:
    return Problem(
        "not-there",
        "error",
        f"`{step}` {does} `{part}`, which is not on",
        step=step,
        path=("steps", step, field, item),
        why="the step cannot be done as it stands",
        fix=f"name `{part}` in the `fits` of an earlier step, or write `at_start: fitted` for it",
    )
