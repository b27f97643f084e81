"""`sequencer packet`: the printed work package."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, NoReturn

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    model_argument,
    output_options,
)
from sequencer.commands.packet_tablet import refuse_paper_options, tablet_page
from sequencer.commands.printed_order import of_printed_order, planned_for_print
from sequencer.commands.printing import (
    STOPPED,
    NotPrinted,
    SheetList,
    faults_told,
    packet_name,
    packet_options,
    paper_options,
    progress,
    write_pages,
)
from sequencer.problem import Problem, has_errors, located

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from sequencer.commands.photos import Photos
    from sequencer.model.assembly import Assembly
    from sequencer.reading import Reading

_SHEETS = (
    "cover",
    "before",
    "kit",
    "isolation",
    "condition",
    "steps",
    "torque-record",
    "sources",
    "labels",
    "planning",
    "checklist",
)
_ON_REQUEST = ("planning",)
_USUAL = tuple(name for name in _SHEETS if name not in _ON_REQUEST)
_MOST_ASKED = 300  # steps; of more it would take too long to say what forgetting each costs
_ALONE = "alone"


class _Look(NamedTuple):
    """How the packet is to look, its order, where it goes and whence it comes: what was asked."""

    sheets: tuple[str, ...]
    paper: str
    layouts: Path | None
    by: str
    awaited: str | None
    draft: bool
    into: Path
    file: Path
    html: bool

    @property
    def ending(self) -> str:
        """How the file's name ends."""
        return ".html" if self.html else ".pdf"


@click.command("packet")
@model_argument
@click.option(
    "--sheets",
    type=SheetList(_SHEETS),
    default=",".join(_USUAL),
    show_default=True,
    help=f"Which sheets, with commas between; {' and '.join(_ON_REQUEST)} only if named.",
)
@click.option(
    "--without",
    "awaited",
    metavar="PART",
    help="In the order that `plan --without` gives while this part is awaited.",
)
@click.option(
    "--each",
    is_flag=True,
    help="A packet for each model that is used, and one in which those come ready made.",
)
@click.option("--html", is_flag=True, help="One page for a tablet instead, to be ticked there.")
@packet_options(by="In which order: the one that `plan` gives for the same word.")
@paper_options
@output_options
def packet_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    sheets: tuple[str, ...],
    paper: str,
    by: str,
    awaited: str | None,
    each: bool,
    draft: bool,
    into: Path,
    layouts: Path | None,
    html: bool,
    as_json: bool,
    show_all: bool,
) -> None:
    """Print the work package of a model as a PDF.

    Nothing is printed while `check` finds errors, unless --draft. Exit code: 0 if it was printed,
    1 if not, 2 if the file cannot be read or the call is wrong.
    """
    if awaited is not None and by != "written":
        raise click.UsageError("--without keeps near the written order: it does not go with --by")
    if awaited is not None and each:
        raise click.UsageError("--without is about one packet for all: it does not go with --each")
    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    look = _Look(sheets, paper, layouts, by, awaited, draft, into, file, html)
    if html:
        refuse_paper_options()
    if each:
        _print_each(output, reading, look)
    _print_whole(output, reading, assembly, look)


def _print_whole(output: Output, reading: Reading, assembly: Assembly, look: _Look) -> NoReturn:
    """Print one packet for all of a model."""
    from sequencer.commands.photos import photos_of
    from sequencer.planning.plan import check
    from sequencer.planning.tested import unknown
    from sequencer.sheets.drafts import why_draft
    from sequencer.sheets.glyphs import glyph_findings

    nothing = {"ok": False, "file": None}
    parts = [part.id for part in assembly.parts]
    if look.awaited is not None and look.awaited not in parts:
        strange = unknown([look.awaited], parts, "part")
        output.finish(NOT_OK, nothing, reading, strange, "nothing printed")
    photos, missing = photos_of(reading, assembly, look.file)
    findings = (*reading.problems, *check(assembly), *missing)
    if has_errors(findings) and not look.draft:
        output.finish(NOT_OK, nothing, reading, findings, STOPPED)
    target = look.into / f"{packet_name(assembly)}{look.ending}"
    try:
        pdf, findings = _pdf(assembly, findings, look, photos)
        write_pages(target, pdf)
    except NotPrinted as stop:
        output.finish(NOT_OK, nothing, reading, (*findings, stop.finding), "nothing printed")
    told = (*findings, *glyph_findings(assembly))
    is_draft = look.draft or bool(why_draft(assembly, findings))
    result = {"ok": True, "file": str(target), "draft": is_draft}
    output.finish(NOT_OK if missing else OK, result, reading, told, str(target))


def _print_each(output: Output, reading: Reading, look: _Look) -> NoReturn:
    """Print a packet for each of the models that a model is made of: all or none."""
    from sequencer.commands.photos import photos_of
    from sequencer.planning.plan import check
    from sequencer.sheets.drafts import why_draft
    from sequencer.sheets.glyphs import glyph_findings

    told: list[Problem] = list(reading.problems)
    packets: list[_Packet] = []
    is_missing = False
    for prefix, one in reading.apart():
        found = () if one.assembly is None else check(one.assembly)
        photos, missing = photos_of(one, one.assembly, look.file)
        is_missing = is_missing or bool(missing)
        findings = _located((*one.problems, *found, *missing), one)
        told += [finding for finding in findings if finding not in told]
        if one.assembly is not None and reading.assembly is not None:
            name = packet_name(reading.assembly, prefix or _ALONE)
            target = look.into / f"{name}{look.ending}"
            packets.append(_Packet(target, one, one.assembly, findings, photos))
            told += (located(found, one.place_of) for found in glyph_findings(one.assembly))
    nothing = {"ok": False, "files": []}
    if has_errors(told) and (not look.draft or len(packets) < len(reading.apart())):
        output.finish(NOT_OK, nothing, reading, told, STOPPED)
    try:
        _write_all(packets, look, told)
    except NotPrinted as stop:
        output.finish(NOT_OK, nothing, reading, (*told, stop.finding), "not all printed")
    drafts = [bool(why_draft(one.model, one.findings)) for one in packets]
    files = [str(one.target) for one in packets]
    result = {"ok": True, "files": files, "draft": look.draft or any(drafts)}
    output.finish(NOT_OK if is_missing else OK, result, reading, told, "\n".join(files))


class _Packet(NamedTuple):
    """One of several packets: where it goes, and what it is made from."""

    target: Path
    reading: Reading
    model: Assembly
    findings: tuple[Problem, ...]
    photos: Photos


def _write_all(packets: Sequence[_Packet], look: _Look, told: list[Problem]) -> None:
    """Print every packet, then write them; add to what is told what their orders bring."""
    pdfs = []
    for one in packets:
        pdf, of_order = _pdf(one.model, one.findings, look, one.photos)
        told += (found for found in _located(of_order, one.reading) if found not in told)
        pdfs.append(pdf)
    for one, pdf in zip(packets, pdfs, strict=True):
        write_pages(one.target, pdf)


def _located(findings: Iterable[Problem], reading: Reading) -> tuple[Problem, ...]:
    return tuple(located(finding, reading.place_of) for finding in findings)


def _pdf(
    assembly: Assembly, findings: Sequence[Problem], look: _Look, photos: Photos
) -> tuple[bytes, tuple[Problem, ...]]:
    """Return the packet and the findings of the order in it, or raise what stopped it."""
    from sequencer.model.fingerprint import fingerprint
    from sequencer.planning.mending import last_chances, with_forgetting
    from sequencer.sheets.drafts import why_draft
    from sequencer.sheets.packet import packet_html
    from sequencer.sheets.pdf import write_pdf

    reasons = () if why_draft(assembly, findings) or not look.draft else ("asked for with --draft",)
    tell = progress()
    try:
        with faults_told():
            tell("planning")
            planned, notes = planned_for_print(assembly, look.by, look.awaited)
            findings = of_printed_order(findings, planned, draft=look.draft)
            every = "planning" in look.sheets and len(assembly.steps) <= _MOST_ASKED
            asked = None if every else last_chances(planned)
            planned = with_forgetting(assembly, planned, asked)
            tell("composing the sheets")
            if look.html:
                known = (*findings, *notes)
                page = tablet_page(assembly, planned, known, reasons, photos, look.layouts)
                return page, findings
            html = packet_html(
                assembly,
                planned,
                fingerprint=fingerprint(assembly),
                sheets=look.sheets,
                paper=look.paper,
                draft=reasons,
                findings=(*findings, *notes),
                photos=photos,
                layouts=look.layouts,
            )
            shown = tuple(photos.values())
            pdf = write_pdf(html, layouts=look.layouts, photos=shown, tell=tell)
            return pdf, tuple(findings)
    finally:
        tell("")
