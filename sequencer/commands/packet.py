"""`sequencer packet`: the printed work package."""

from __future__ import annotations

import contextlib
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from sequencer.commands.common import NOT_OK, OK, Output, model_argument, output_options
from sequencer.problem import Problem, has_errors

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan

_SHEETS = ("cover", "steps", "checklist")
_PAPERS = ("A4", "Letter")


class _SheetList(click.ParamType[tuple[str, ...]]):
    """Names of sheets with commas between."""

    name = "list"

    def convert(
        self, value: str, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, ...]:
        names = tuple(value.replace(",", " ").split())
        strange = ", ".join(name for name in names if name not in _SHEETS)
        if strange or not names:
            choices = ", ".join(_SHEETS)
            self.fail(f"{strange or 'nothing'} is no sheet: choose from {choices}", param, ctx)
        return names


class _Look(NamedTuple):
    """How the packet is to look and in which order it goes, as the call says."""

    sheets: tuple[str, ...]
    paper: str
    layouts: Path | None
    by: str
    awaited: str | None


class _NotPrinted(Exception):  # noqa: N818  # named for what it means, like the findings
    """Something stopped the printing; the finding says what."""

    def __init__(self, finding: Problem) -> None:
        super().__init__(finding.message)
        self.finding = finding


@click.command("packet")
@model_argument
@click.option(
    "--sheets",
    type=_SheetList(),
    default=",".join(_SHEETS),
    show_default=True,
    help="Which sheets, with commas between.",
)
@click.option(
    "--paper",
    type=click.Choice(_PAPERS, case_sensitive=False),
    default=_PAPERS[0],
    show_default=True,
)
@click.option(
    "--by",
    type=click.Choice(["written", "handling"]),
    default="written",
    show_default=True,
    help="In which order: the one that `plan` gives for the same word.",
)
@click.option(
    "--without",
    "awaited",
    metavar="PART",
    help="In the order that `plan --without` gives while this part is awaited.",
)
@click.option("--draft", is_flag=True, help="Print even with errors, marked DRAFT on every page.")
@click.option(
    "--into",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("out"),
    show_default=True,
    help="The folder to write into.",
)
@click.option(
    "--layouts",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="A folder whose files stand in for the layouts of the same name.",
)
@output_options
def packet_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    sheets: tuple[str, ...],
    paper: str,
    by: str,
    awaited: str | None,
    draft: bool,
    into: Path,
    layouts: Path | None,
    as_json: bool,
    show_all: bool,
) -> None:
    """Print the work package of a model as a PDF.

    Nothing is printed while `check` finds errors, unless --draft. Exit code: 0 if it was printed,
    1 if not, 2 if the file cannot be read or the call is wrong.
    """
    from sequencer.planning.plan import check
    from sequencer.planning.tested import unknown
    from sequencer.sheets.glyphs import glyph_findings

    if awaited is not None and by != "written":
        raise click.UsageError("--without keeps near the written order: it does not go with --by")
    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    if awaited is not None and awaited not in {part.id for part in assembly.parts}:
        strange = unknown([awaited], [part.id for part in assembly.parts], "part")
        output.finish(NOT_OK, {"ok": False, "file": None}, reading, strange, "nothing printed")
    findings = (*reading.problems, *check(assembly))
    nothing = {"ok": False, "file": None}
    if has_errors(findings) and not draft:
        text = f"nothing printed: {file} has errors (--draft prints all the same, marked so)"
        output.finish(NOT_OK, nothing, reading, findings, text)
    target = into / f"{_file_name(assembly)}.pdf"
    try:
        pdf = _pdf(assembly, findings, _Look(sheets, paper, layouts, by, awaited), draft=draft)
        _write(target, pdf)
    except _NotPrinted as stop:
        output.finish(NOT_OK, nothing, reading, (*findings, stop.finding), "nothing printed")
    told = (*findings, *glyph_findings(assembly))
    result = {"ok": True, "file": str(target), "draft": draft}
    output.finish(OK, result, reading, told, str(target))


def _pdf(assembly: Assembly, findings: Sequence[Problem], look: _Look, *, draft: bool) -> bytes:
    """Return the packet, or raise what stopped it."""
    from sequencer.model.fingerprint import fingerprint
    from sequencer.planning.mending import last_chances, with_forgetting
    from sequencer.sheets.packet import LayoutFault, packet_html
    from sequencer.sheets.pdf import RendererMissing, write_pdf

    errors = [finding.message for finding in findings if finding.severity == "error"]
    reasons = tuple(errors) or (("asked for with --draft",) if draft else ())
    tell = _progress()
    try:
        tell("planning")
        planned, notes = _planned(assembly, look)
        planned = with_forgetting(assembly, planned, last_chances(planned))
        tell("composing the sheets")
        html = packet_html(
            assembly,
            planned,
            fingerprint=fingerprint(assembly),
            sheets=look.sheets,
            paper=look.paper,
            draft=reasons,
            findings=(*findings, *notes),
            layouts=look.layouts,
        )
        return write_pdf(html, layouts=look.layouts, tell=tell)
    except RendererMissing as missing:
        why = "without it no page can be laid out; `check` and `plan` work all the same"
        raise _NotPrinted(
            Problem("no-renderer", "error", str(missing), why=why, fix=missing.fix)
        ) from missing
    except LayoutFault as fault:
        why = "a sheet of your own layouts cannot be printed as it stands"
        raise _NotPrinted(Problem("layout", "error", str(fault), why=why)) from fault
    finally:
        tell("")


def _planned(assembly: Assembly, look: _Look) -> tuple[Plan, tuple[Problem, ...]]:
    """Return the order to print, and what the cover has to say about it."""
    from sequencer.planning.plan import plan, plan_by_handling, without

    if look.awaited is None:
        return plan_by_handling(assembly) if look.by == "handling" else plan(assembly), ()
    split = without(assembly, look.awaited)
    if split is None:
        return plan(assembly), ()
    label = next(part.label for part in assembly.parts if part.id == look.awaited)
    now, every = len(split.now), len(split.now) + len(split.then)
    if not now:
        message = f"{label} is awaited, and nothing can be done before it comes"
    else:
        message = f"{label} is awaited: do steps 1 to {now}, then wait for it"
    why = f"steps {now + 1} to {every} would shut its way in, or need it"
    return split.plan, (Problem("awaited", "note", message, why=why),)


def _progress() -> Callable[[str], None]:
    """Return what tells on a terminal how far the work is, on one line that is wiped again."""
    if not sys.stderr.isatty():
        return lambda _: None
    return lambda text: click.echo(f"\r\x1b[K{text}", nl=False, err=True)


def _file_name(assembly: Assembly) -> str:
    """Return a file name that no model can lead out of the folder with."""
    return re.sub(r"[^\w.-]+", "_", f"{assembly.assembly}-{assembly.issue}").lstrip(".")


def _write(target: Path, pdf: bytes) -> None:
    """Write the file whole or not at all."""
    unfinished = target.with_name(f"{target.name}.part")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        unfinished.write_bytes(pdf)
        unfinished.replace(target)
    except OSError as fault:
        with contextlib.suppress(OSError):
            unfinished.unlink()
        raise _NotPrinted(
            Problem(
                "not-written",
                "error",
                f"cannot write {target}: {fault.strerror}",
                why="the packet was laid out but could not be kept",
                fix="free the file or the folder, or choose another with --into",
            )
        ) from fault
