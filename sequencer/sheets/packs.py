"""The block of a shim pack on a card: what is known, blanks for the choice, and the table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.figures import in_words
from sequencer.sheets.shim_tables import PackRow, shim_table
from sequencer.trade.basics import Unknown
from sequencer.trade.packs import MOST_SHIMS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check
    from sequencer.model.parts import Pack, Part
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job

_MOST_BLANKS = 4


@dataclass(frozen=True, slots=True)
class PackBlock:
    """What is known of a pack, blanks for the reading and the choice, and the table.

    `known` are lines of a label and words; `blanks` are as many as the pack may have shims. Where
    there is no table, `words` say why.
    """

    name: str
    known: tuple[tuple[str, str], ...]
    blanks: tuple[str, ...]
    unit: str
    rows: tuple[PackRow, ...]
    words: str


def pack_blocks(job: Job, step: Step) -> tuple[PackBlock, ...]:
    """Return the shim tables of the packs that the checks of a step settle."""
    taken = {link.to for link in step.check}
    return tuple(
        _block(job, part, part.pack, job.checks[link.to])
        for part in job.assembly.parts
        if part.pack is not None
        for link in part.pack.settled_by
        if link.to in taken
    )


def blanks_of(pack: Pack) -> tuple[str, ...]:
    """Return a blank for each shim that a pack may have: `+` before all but the first."""
    most = min(pack.at_most or MOST_SHIMS, _MOST_BLANKS)
    return ("", *("+" for _ in range(1, most)))


def settled_in(job: Job, part: Part, step: Step) -> int | None:
    """Return the step before this one that settles a part's pack, if one does."""
    settling = part.pack.settled_by if part.pack is not None else ()
    taken = [at for link in settling for at in job.course.taken_in.get(link.to, ())]
    here = job.number.get(step.id, 0)
    return max((at for at in taken if at < here), default=None)


def _block(job: Job, part: Part, pack: Pack, check: Check) -> PackBlock:
    table = shim_table(pack, check, _division(job, check))
    unit = check.limit.value.unit.symbol if check.limit is not None else ""
    return PackBlock(
        name=part.label,
        known=tuple(_known(job, pack)),
        blanks=blanks_of(pack),
        unit=unit,
        rows=() if isinstance(table, Unknown) else table,
        words=table.words if isinstance(table, Unknown) else "",
    )


def _known(job: Job, pack: Pack) -> Iterator[tuple[str, str]]:
    prints = job.assembly.prints
    yield "Sizes", ", ".join(size.text.strip() for size in pack.sizes) or "not given"
    if pack.at_most:
        yield "At most", f"{pack.at_most} in a pack"
    if pack.start is not None:
        yield "Start", f"measured with a pack of {in_words(pack.start, prints)} in place"
    if pack.effect:
        yield "Effect", pack.effect
    if pack.aim is not None:
        yield "Aim", in_words(pack.aim, prints)
    if pack.rounding:
        yield "Rounding", pack.rounding
    if pack.why:
        yield "Why", pack.why
    yield "Source", job.source(pack.source)


def _division(job: Job, check: Check) -> Amount | None:
    tool = job.tools.get(check.with_)
    return tool.reads if tool is not None else None
