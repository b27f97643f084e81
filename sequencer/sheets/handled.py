"""The parts that a step fits and takes off, as its card names them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.matched import fellows
from sequencer.sheets.job import Ref, said
from sequencer.sheets.packs import blanks_of, settled_in
from sequencer.sheets.words import listed, numbered

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.common import Link
    from sequencer.model.parts import Part
    from sequencer.model.steps import Fit, Step
    from sequencer.sheets.job import Job, Said


@dataclass(frozen=True, slots=True)
class Fitted:
    """A part as it is fitted here: how many, which, what to mind, which way round.

    Of shims, `chosen` says where the pack was chosen, and `blanks` carry it over. `matched` says
    with what it has to stay; `serials` are blanks for the serial numbers of its pieces.
    """

    quantity: str
    name: str
    number: str
    mass: str
    is_new: bool
    single_use: bool
    remark: Said
    facing: str
    chosen: Said = ()
    blanks: tuple[str, ...] = ()
    matched: str = ""
    serials: tuple[str, ...] = ()


_MOST_SERIALS = 12


@dataclass(frozen=True, slots=True)
class Removed:
    """A part as it is taken off here: how many, which, what becomes of it."""

    quantity: str
    name: str
    remark: str


def fitted_parts(job: Job, step: Step) -> tuple[Fitted, ...]:
    """Return the parts that a step fits."""
    return tuple(
        _fitted(job, step, fit, count)
        for fit, count in zip(step.fits, job.course.counts[step.id], strict=True)
    )


def _fitted(job: Job, step: Step, fit: Fit, count: int) -> Fitted:
    part = job.parts[fit.part]
    settled = settled_in(job, part, step)
    return Fitted(
        quantity=_times(count),
        name=part.label,
        number=part.number,
        mass=part.mass.text.strip() if part.mass is not None else "",
        is_new=part.renew == "always",
        single_use=part.once or part.renew == "always",
        remark=_semicolons(_fit_remarks(job, step, fit.part)),
        facing=fit.facing,
        chosen=("pack chosen in ", Ref(settled)) if settled else (),
        blanks=blanks_of(part.pack) if settled and part.pack else (),
        matched=matched_words(job, part),
        serials=serial_blanks(part, count),
    )


def matched_words(job: Job, part: Part) -> str:
    """Say what a part has to stay with; nothing if it belongs to no set."""
    if not part.matched:
        return ""
    others = listed([other.label for other in fellows(job.assembly, part)])
    if not others:
        return f"Matched set {part.matched}: all of one set"
    several = part.quantity > 1
    return f"Matched set {part.matched}: {'each ' if several else ''}with {others} of the same mark"


def serial_blanks(part: Part, count: int) -> tuple[str, ...]:
    """Return the labels of the blanks for serial numbers, one for each piece as far as few do."""
    if not part.serial:
        return ()
    if count == 1:
        return ("serial no.",)
    return tuple(f"serial no. {piece}" for piece in range(1, min(count, _MOST_SERIALS) + 1))


def _times(count: int) -> str:
    return f"{count} ×" if count > 1 else ""


def _semicolons(remarks: Iterator[Said]) -> Said:
    pieces: list[str | Ref] = []
    for remark in remarks:
        pieces += ("; ", *remark) if pieces else remark
    return said(*pieces)


def _fit_remarks(job: Job, step: Step, part: str) -> Iterator[Said]:
    off = job.course.off_again.get((step.id, part))
    if job.parts[part].aid:
        yield ("aid, comes off in ", Ref(off)) if off else ("aid, must come off again",)
    elif off:
        yield ("comes off again in ", Ref(off))
    if job.parts[part].bag:
        yield (f"from bag {job.parts[part].bag}",)
    built = job.course.built_in.get(part, ()) if part in job.units else ()
    if built:
        yield (f"built in {numbered(built)}",)
    settled = _settled_in(job, part)
    if settled and settled < job.number.get(step.id, 0):
        yield ("as settled in ", Ref(settled))


def _settled_in(job: Job, part: str) -> int | None:
    """Return the last step of the trial that settles a part."""
    for trial in job.assembly.trials:
        members = job.numbers(trial.steps)
        if members and any(link.to == part for link in trial.settles):
            return members[-1]
    return None


def removed_parts(job: Job, step: Step) -> tuple[Removed, ...]:
    """Return the parts that a step takes off."""
    return tuple(
        Removed(_times(count), job.parts[link.to].label, _off_remark(job, link))
        for link, count in zip(step.takes_off, job.course.taken[step.id], strict=True)
    )


def _off_remark(job: Job, link: Link) -> str:
    part = job.parts[link.to]
    spoiled = part.once or part.renew == "always"
    kind = "aid" if part.aid else "not to be used again" if spoiled else ""
    return (f", {kind}" if kind else "") + (f" – {link.why}" if link.why else "")
