"""The sheets of a log on paper: the handover sheet and the as-built record."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from sequencer.commands.log_open import ENDING
from sequencer.commands.printing import (
    faults_told,
    file_name,
    into_option,
    paper_options,
    progress,
    write_pages,
)

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from sequencer.commands.log_next import Next
    from sequencer.commands.log_open import Opened
    from sequencer.sheets.job import Job

    _Command = TypeVar("_Command", bound=Callable[..., object])


def printing(command: _Command) -> _Command:
    """Give a command the options of what it prints."""
    return into_option(paper_options(command))


def handover_pdf(
    opened: Opened, coming: Next, into: Path, paper: str, layouts: Path | None
) -> Path:
    """Print the handover sheet of a log, and return where it is.

    Raises
    ------
    NotPrinted
        If it could not be laid out or written.
    """
    from sequencer.sheets.handover import handover_view

    def view(job: Job) -> object:
        return handover_view(job, opened.state, coming.steps, tuple(coming.waiting))

    return _printed(opened, "handover", view, into, paper, layouts)


def record_pdf(opened: Opened, into: Path, paper: str, layouts: Path | None) -> Path:
    """Print the as-built record of a log, and return where it is; raises as `handover_pdf` does."""
    from sequencer.sheets.as_built import as_built_view

    def view(job: Job) -> object:
        return as_built_view(job, opened.state)

    return _printed(opened, "as-built", view, into, paper, layouts)


def _printed(  # a sheet, what it says, and how it is to look
    opened: Opened,
    sheet: str,
    view: Callable[[Job], object],
    into: Path,
    paper: str,
    layouts: Path | None,
) -> Path:
    from sequencer.planning.results import Plan
    from sequencer.planning.variants import fallbacks
    from sequencer.sheets.job import job_of
    from sequencer.sheets.packet import document_html
    from sequencer.sheets.pdf import write_pdf

    state, tell = opened.state, progress()
    known = {step.id for step in state.assembly.steps}
    order = tuple(step for step in state.model.order if step in known)
    instead = {step: other for step in order if (other := fallbacks(state.assembly, step))}
    job = job_of(
        state.assembly,
        Plan(order, fallbacks=instead),
        fingerprint=state.model.fingerprint,
        sheets=(sheet,),
    )
    target = into / f"{file_name(opened.path.name.removesuffix(ENDING), sheet)}.pdf"
    try:
        with faults_told():
            views = [(sheet, view(job))]
            html = document_html(job, views, unit=state.unit, paper=paper, layouts=layouts)
            pdf = write_pdf(html, layouts=layouts, tell=tell)
        write_pages(target, pdf)
    finally:
        tell("")
    return target
