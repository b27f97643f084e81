"""The change sheet on paper: what comes out and goes back in after a mistake."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.commands.log_open import ENDING
from sequencer.commands.photos import photos_of
from sequencer.commands.printing import faults_told, file_name, progress, write_pages

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.commands.revise_log import Asked
    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending import Mend, Mistake
    from sequencer.planning.results import Plan


def change_pdf(  # what to print, where, and how it is to look
    asked: Asked, mistake: Mistake, mend: Mend, into: Path, paper: str, layouts: Path | None
) -> Path:
    """Print the change sheet of a mend, and return where it is.

    The unit stands open, so that errors in the model do not stop it; every page then says DRAFT.
    Pictures are shown if all of them are there, as beside the model they are; else they are named.

    Raises
    ------
    NotPrinted
        If it could not be laid out or written.
    """
    from sequencer.planning.plan import check
    from sequencer.sheets.change import change_view
    from sequencer.sheets.drafts import why_draft
    from sequencer.sheets.job import job_of
    from sequencer.sheets.packet import document_html
    from sequencer.sheets.pdf import write_pdf

    findings = check(asked.assembly)
    job = job_of(
        asked.assembly,
        _plan(asked.assembly, mistake.order),
        fingerprint=mistake.now.fingerprint,
        sheets=("change",),
        draft=why_draft(asked.assembly, findings),
        findings=findings,
    )
    photos, missing = photos_of(asked.reading, asked.assembly, asked.file)
    name = asked.log.name.removesuffix(ENDING) if asked.log is not None else asked.file.stem
    target, tell = into / f"{file_name(name, 'change')}.pdf", progress()
    try:
        with faults_told():
            shown = replace(job, photos=None if missing else photos)
            views = [("change", change_view(shown, mistake, mend))]
            unit = mistake.unit
            html = document_html(job, views, unit=unit, paper=paper, layouts=layouts)
            pdf = write_pdf(html, layouts=layouts, photos=photos.values(), tell=tell)
        write_pages(target, pdf)
    finally:
        tell("")
    return target


def _plan(assembly: Assembly, printed: tuple[str, ...]) -> Plan:
    """Return the plan of the packet whose step numbers are used, with its STOP lines.

    An order that works is the plan of the model written in that order.
    """
    from sequencer.planning.mending import last_chances, with_forgetting
    from sequencer.planning.plan import plan
    from sequencer.planning.results import Plan
    from sequencer.planning.variants import fallbacks

    turn = {step: at for at, step in enumerate(printed)}
    steps = sorted(assembly.steps, key=lambda step: turn.get(step.id, len(turn)))
    planned = plan(replace(assembly, steps=tuple(steps)))
    if planned.order == printed:
        return with_forgetting(assembly, planned, last_chances(planned))
    order = tuple(step.id for step in steps if step.id in turn)
    instead = {step: other for step in order if (other := fallbacks(assembly, step))}
    return Plan(order, fallbacks=instead)
