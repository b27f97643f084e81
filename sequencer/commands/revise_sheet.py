"""The change sheet on paper: what comes out and goes back in after a mistake."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.commands.log_open import ENDING
from sequencer.commands.printing import faults_told, file_name, progress, write_pages

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.commands.revise_log import Asked
    from sequencer.planning.mending import Mend, Mistake
    from sequencer.planning.results import Plan


def change_pdf(  # what to print, where, and how it is to look
    asked: Asked, mistake: Mistake, mend: Mend, into: Path, paper: str, layouts: Path | None
) -> Path:
    """Print the change sheet of a mend, and return where it is.

    Raises
    ------
    NotPrinted
        If it could not be laid out or written.
    """
    from sequencer.sheets.change import change_view
    from sequencer.sheets.job import job_of
    from sequencer.sheets.packet import document_html
    from sequencer.sheets.pdf import write_pdf

    job = job_of(
        asked.assembly,
        _plan(asked, mistake),
        fingerprint=mistake.now.fingerprint,
        sheets=("change",),
        findings=mistake.findings,
    )
    name = asked.log.name.removesuffix(ENDING) if asked.log is not None else asked.file.stem
    target, tell = into / f"{file_name(name, 'change')}.pdf", progress()
    try:
        with faults_told():
            views = [("change", change_view(job, mistake, mend))]
            html = document_html(job, views, paper=paper, layouts=layouts)
            pdf = write_pdf(html, layouts=layouts, tell=tell)
        write_pages(target, pdf)
    finally:
        tell("")
    return target


def _plan(asked: Asked, mistake: Mistake) -> Plan:
    """Return the plan of the packet whose step numbers are used."""
    from sequencer.planning.plan import plan
    from sequencer.planning.results import Plan
    from sequencer.planning.variants import fallbacks

    planned = plan(asked.assembly)
    if planned.order == mistake.order:
        return planned
    known = {step.id for step in asked.assembly.steps}
    order = tuple(step for step in mistake.order if step in known)
    instead = {step: other for step in order if (other := fallbacks(asked.assembly, step))}
    return Plan(order, fallbacks=instead)
