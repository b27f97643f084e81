"""The packet: the sheets asked for, as one HTML document.

A sheet is one view function here and one folder of the same name in `layouts/`, with
`sheet.html` and `style.css`; `layouts/base/` holds what they share. Templates only place what
the views say.
"""

from __future__ import annotations

import traceback
from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.drawing.ink import mm
from sequencer.sheets import markup
from sequencer.sheets.before import before_view
from sequencer.sheets.checklist import checklist_view
from sequencer.sheets.condition import condition_view
from sequencer.sheets.cover import cover_view
from sequencer.sheets.drafts import why_draft
from sequencer.sheets.isolation import isolation_view
from sequencer.sheets.job import job_of
from sequencer.sheets.kit import kit_view
from sequencer.sheets.labels import labels_view
from sequencer.sheets.planning import planning_view
from sequencer.sheets.sources import sources_view
from sequencer.sheets.steps import steps_view
from sequencer.sheets.torque_record import torque_record_view
from sequencer.sheets.words import shortened
from sequencer.shipped import shipped_folder

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from pathlib import Path

    from jinja2 import Environment, TemplateError

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan
    from sequencer.problem import Path as ModelPath
    from sequencer.problem import Problem
    from sequencer.sheets.job import Job
    from sequencer.sheets.photos import Photo

PAPERS: tuple[str, ...] = ("A4", "Letter")

_VIEWS: Mapping[str, Callable[[Job], object]] = {
    "cover": cover_view,
    "before": before_view,
    "kit": kit_view,
    "isolation": isolation_view,
    "condition": condition_view,
    "steps": steps_view,
    "torque-record": torque_record_view,
    "sources": sources_view,
    "labels": labels_view,
    "planning": planning_view,
    "checklist": checklist_view,
}
SHEETS: tuple[str, ...] = tuple(_VIEWS)
"""Every kind of sheet, in the order in which a packet holds them."""
ON_REQUEST: tuple[str, ...] = ("planning",)
"""Sheets that a packet holds only if they are asked for."""
USUAL: tuple[str, ...] = tuple(name for name in SHEETS if name not in ON_REQUEST)

MOST_PAGES = 800
"""Of one document: all are laid out before one is written, so that references are right."""
_A_PAGE = 5000  # characters of HTML on a page, whatever the job
_HEADER_LENGTH = 44  # characters of the title in the header of each page
_ISSUE_LENGTH = 12
_NOTICE_LENGTH = 130  # and of the notice at its foot
_UNIT_LENGTH, _BLANK = 16, "_" * 14  # and of the number of the unit beside it


# What no page can hold: control characters but for tab and line feed, and halves of split pairs.
_UNPRINTABLE: dict[int, str | None] = {
    **dict.fromkeys((*range(9), *range(11, 32), *range(127, 160))),
    **dict.fromkeys(range(0xD800, 0xE000), "\ufffd"),
}


class LayoutFault(ValueError):  # noqa: N818 - named for what is wrong, like the findings
    """A template that does not work, most likely one of the user's own."""


class TooLong(ValueError):  # noqa: N818 - likewise
    """A document of more pages than are laid out at once: about `pages`."""

    def __init__(self, pages: int) -> None:
        super().__init__(f"about {pages:,} pages, and {MOST_PAGES} are the most")
        self.pages = pages


def packet_html(  # noqa: PLR0913 - one call says all that a packet depends on
    assembly: Assembly,
    plan: Plan,
    *,
    fingerprint: str,
    sheets: tuple[str, ...] = USUAL,
    paper: str = "A4",
    draft: tuple[str, ...] = (),
    findings: tuple[Problem, ...] = (),
    photos: Mapping[ModelPath, Photo] = MappingProxyType({}),
    layouts: Path | None = None,
) -> str:
    """Return the packet as one HTML document, for `pdf.write_pdf`.

    Parameters
    ----------
    assembly : Assembly
        The model, completed.
    plan : Plan
        Its order and what that tells about each step; without an order the written one is printed.
    fingerprint : str
        What ties the paper to the file, printed on every page.
    sheets : tuple of str
        Which of `SHEETS` to print; they come in the order of `SHEETS`.
    paper : str
        One of `PAPERS`.
    draft : tuple of str
        Why this may not be worked from yet, besides what the findings and the model leave open;
        with any reason, every page says DRAFT.
    findings : tuple of Problem
        What the builder should know before the start, listed on the cover.
    photos : mapping of path to Photo
        The pictures that the model names, see `photos.read_photos`; one that is not among them is
        printed as missing.
    layouts : Path or None
        A folder whose files stand in for those of the same name in `layouts/`.

    Raises
    ------
    ValueError
        If a sheet or a paper is none of these, or the folder is not there.
    LayoutFault
        If a template does not work.
    TooLong
        If there would be more pages than `MOST_PAGES`.

    Notes
    -----
    Authors' text is escaped as it is placed, and nothing is rendered twice, so that whatever
    they write is printed as written.
    """
    unknown = [name for name in sheets if name not in _VIEWS]
    if unknown or paper not in PAPERS:
        raise ValueError(f"no such sheet or paper: {', '.join(unknown) or paper}")
    if layouts is not None and not layouts.is_dir():
        raise ValueError(f"no such folder of layouts: {layouts}")
    job = job_of(
        assembly,
        plan,
        fingerprint=fingerprint,
        sheets=tuple(name for name in SHEETS if name in sheets),
        draft=why_draft(assembly, findings, draft),
        findings=findings,
    )
    views = _views(replace(job, paper=paper, photos=photos))
    return document_html(job, views, paper=paper, layouts=layouts)


def document_html(
    job: Job,
    views: Sequence[tuple[str, object]],
    *,
    paper: str = "A4",
    layouts: Path | None = None,
    unit: str = "",
) -> str:
    """Return sheets as one HTML document: the name of each with what its view says.

    Without the number of the unit, every page has a blank for it.

    Raises
    ------
    LayoutFault
        If a template does not work.
    TooLong
        If there would be more pages than `MOST_PAGES`.
    """
    from jinja2 import TemplateError

    title = job.assembly.title or job.assembly.assembly
    try:
        html = (
            environment(layouts)
            .get_template("base/packet.html")
            .render(
                paper=paper,
                title=title,
                short_title=shortened(title, _HEADER_LENGTH),
                issue=job.assembly.issue,
                short_issue=shortened(job.assembly.issue, _ISSUE_LENGTH),
                notice=shortened(job.assembly.notice, _NOTICE_LENGTH),
                fingerprint=job.fingerprint,
                unit=_short_unit(unit),
                draft=job.draft,
                has_cards="steps" in job.sheets,
                sheets=views,
            )
        )
    except TemplateError as error:
        raise layout_fault(error) from error
    pages = len(html) // _A_PAGE
    if pages > MOST_PAGES:
        raise TooLong(-(-pages // 10) * 10)  # it is an estimate
    return printable(html)


def _short_unit(unit: str) -> str:
    """Return the number of a unit for the foot, by its end, which tells one from the next.

    Examples
    --------
    >>> _short_unit("0042"), _short_unit("Line 3, pinion unit 0042"), _short_unit("")
    ('0042', '…inion unit 0042', '______________')
    """
    line = " ".join(unit.split())
    if not line:
        return _BLANK
    return line if len(line) <= _UNIT_LENGTH else f"…{line[1 - _UNIT_LENGTH :].lstrip()}"


def printable(html: str) -> str:
    """Return a document without the characters that no page can hold."""
    return html.translate(_UNPRINTABLE)


def layout_fault(error: TemplateError) -> LayoutFault:
    """Return what is wrong with a layout, and where."""
    return LayoutFault(f"{_where(error)}: {error.message or 'not found'}")


def _views(job: Job) -> list[tuple[str, object]]:
    """Return what the sheets say; those with nothing to say are left out, unless all are."""
    views = [(name, _VIEWS[name](job)) for name in job.sheets]
    return [(name, view) for name, view in views if view] or views


def _where(error: TemplateError) -> str:
    """Return which layout an error comes from, and the line."""
    frames = traceback.extract_tb(error.__traceback__)
    at = next((frame for frame in reversed(frames) if frame.filename.endswith(".html")), None)
    return f"layout {at.filename}, line {at.lineno}" if at else "layout"


@lru_cache(maxsize=4)
def environment(layouts: Path | None) -> Environment:
    """Return what renders the layouts: those that ship, and the user's own in their stead.

    It is kept, because a template takes longer to compile than to fill in; a layout that has
    been changed since is compiled anew.
    """
    from jinja2 import ChoiceLoader, Environment, FileSystemLoader, StrictUndefined

    shipped = shipped_folder("layouts")
    folders = [shipped] if layouts is None else [layouts, shipped]
    environment = Environment(
        loader=ChoiceLoader([FileSystemLoader(folder) for folder in folders]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["prose"] = markup.prose
    environment.filters["figure"] = markup.figure
    environment.filters["mm"] = mm
    return environment
