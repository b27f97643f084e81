"""`sequencer strip`: the packet for taking a finished unit apart."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    model_argument,
    options_taken,
    output_options,
)
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
from sequencer.problem import Problem, has_errors

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.planning.stripping import Strip
    from sequencer.sheets.job import Job

_SHEETS = ("front", "isolation", "strip", "labels", "condition", "buy")


@click.command("strip")
@model_argument
@click.option(
    "--sheets",
    type=SheetList(_SHEETS),
    default=",".join(_SHEETS),
    show_default=True,
    help="Which sheets, with commas between.",
)
@packet_options(by="The reverse of the order that `plan` gives for the same word.")
@paper_options
@output_options
def strip_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    sheets: tuple[str, ...],
    by: str,
    draft: bool,
    into: Path,
    paper: str,
    layouts: Path | None,
    as_json: bool,
    show_all: bool,
) -> None:
    """Print the packet for taking a finished unit apart, as a PDF.

    The order is that of putting together turned round: what fits or tightens something is taken
    back, trials fall out. Nothing is printed while `check` finds errors, unless --draft. Exit code:
    0 if it was printed, 1 if not, 2 if the file cannot be read or the call is wrong.
    """
    from sequencer.commands.photos import photos_of
    from sequencer.planning.plan import check
    from sequencer.planning.stripping import strip
    from sequencer.sheets.glyphs import glyph_findings

    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    photos, missing = photos_of(reading, assembly, file)
    findings = (*reading.problems, *check(assembly), *missing)
    found = strip(assembly, by)
    findings += tuple(one for one in found.findings if one not in findings)
    nothing = {"ok": False, "file": None, "order": found.order}
    if found.order is None or (has_errors(findings) and not draft):
        text = "nothing printed: no order works" if found.order is None else STOPPED
        output.finish(NOT_OK, nothing, reading, findings, text)
    job = replace(_job(assembly, found, findings, sheets, draft=draft), photos=photos)
    target = into / f"{packet_name(assembly, 'strip')}.pdf"
    try:
        write_pages(target, _pdf(job, found, paper, layouts))
    except NotPrinted as stop:
        output.finish(NOT_OK, nothing, reading, (*findings, stop.finding), "nothing printed")
    result = {"ok": True, "file": str(target), **_as_json(assembly, found)}
    code = NOT_OK if missing else OK
    output.finish(code, result, reading, (*findings, *glyph_findings(assembly)), str(target))


def _pdf(job: Job, found: Strip, paper: str, layouts: Path | None) -> bytes:
    """Return the packet, or raise what stopped it."""
    from sequencer.sheets.pdf import write_pdf
    from sequencer.sheets.strip import strip_html

    photos, tell = tuple((job.photos or {}).values()), progress()
    try:
        with faults_told():
            html = strip_html(job, found, paper=paper, layouts=layouts)
            return write_pdf(html, layouts=layouts, photos=photos, tell=tell)
    finally:
        tell("")


def _job(
    assembly: Assembly,
    found: Strip,
    findings: Sequence[Problem],
    sheets: tuple[str, ...],
    *,
    draft: bool,
) -> Job:
    from sequencer.model.fingerprint import fingerprint
    from sequencer.sheets.job import job_of

    # A torque that nobody has chosen is no reason here: nothing is tightened.
    errors = tuple(one.message for one in findings if one.severity == "error")
    return job_of(
        assembly,
        found.plan,
        fingerprint=fingerprint(assembly),
        sheets=sheets,
        draft=errors or (("asked for with --draft",) if draft else ()),
        findings=tuple(findings),
    )


def _as_json(assembly: Assembly, found: Strip) -> dict[str, object]:
    steps = {step.id: step for step in assembly.steps}
    return {
        "order": found.order,
        "steps": {name: _step_as_json(steps[name].undo, found, name) for name in found.steps},
        "stays": found.stays,
        "no_return": [
            {"step": p.step, "why": p.why, "stays": p.stays, "before": p.before}
            for p in found.points
        ],
        "spoiled": list(
            dict.fromkeys(part for taken in found.steps.values() for part in taken.spoils)
        ),
        "buy": dict(found.buy),
        **options_taken(assembly),
    }


def _step_as_json(undo: object, found: Strip, name: str) -> dict[str, object]:
    taken = found.steps[name]
    return {
        "takes_off": dict(taken.comes_off),
        "puts_on": dict(taken.goes_on),
        "loosens": taken.loosens,
        "way_in": _way(taken.ways),
        "do": getattr(undo, "do", ""),
        "spoils": taken.spoils,
        "renews": taken.renews,
        "reads": taken.reads,
        "minutes": taken.minutes,
        "guessed": taken.is_guess,
    }


def _way(ways: tuple[str, ...]) -> str | tuple[str, ...] | None:
    """Return the way as `plan` has it: a list where there are two needs, null without one."""
    if not ways:
        return None
    return ways[0] if len(ways) == 1 else ways
