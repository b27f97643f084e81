"""`sequencer revise`: after a mistake, the least that must come out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    each_once,
    fact_as_json,
    listed_names,
    output_options,
    settings_option,
)
from sequencer.commands.printed_order import by_number
from sequencer.commands.printing import paper_options
from sequencer.commands.revise_log import Asked, asked_by_log
from sequencer.commands.revise_text import Told

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.planning.mending import Mend, Mistake, Revised
    from sequencer.problem import Problem
    from sequencer.reading import Reading


@click.command("revise")
@settings_option
@click.argument("file", type=click.Path(path_type=Path), metavar="[FILE]", required=False)
@click.option(
    "--log",
    "named",
    type=click.Path(path_type=Path),
    help="The build log to go by. Default without --done: the one beside FILE, or the only one "
    "in this folder.",
)
@click.option(
    "--done",
    metavar="LIST",
    help="Without a log, the steps done, in that order: ids and ranges of the printed order, "
    "such as 14-22, with commas between, or @file.",
)
@click.option(
    "--redo", multiple=True, metavar="STEP", help="A step that has to come out and go in again."
)
@click.option(
    "--again",
    multiple=True,
    metavar="STEP",
    help="A step to do afresh where it is, such as one whose torque was raised.",
)
@click.option(
    "--other",
    type=click.IntRange(min=0),
    default=0,
    show_default=True,
    help="How many of the next best ways to show as well.",
)
@click.option(
    "--into",
    type=click.Path(file_okay=False, path_type=Path),
    help="Print the change sheet into this folder; marked DRAFT where the model has errors.",
)
@paper_options
@output_options
def revise_command(  # noqa: PLR0913  # click hands over every option
    file: Path | None,
    *,
    named: Path | None,
    done: str | None,
    redo: tuple[str, ...],
    again: tuple[str, ...],
    other: int,
    into: Path | None,
    paper: str,
    layouts: Path | None,
    as_json: bool,
    show_all: bool,
) -> None:
    """After a mistake: find the least that must come out, and how the job goes on.

    Tells what comes out and in which order, what that spoils, what is to be prepared again, and
    every step still to be done. By a build log, failed checks, spoiled parts and what the model
    changed since are taken into account by themselves; without FILE the model is the one that
    lies beside the log, or else the copy in the log. Exit code: 0 if it can be mended, 1 if not,
    2 if the file cannot be read or the call is wrong.
    """
    output = Output(as_json=as_json, show_all=show_all)
    asked = _asked(output, file, named, done)
    named_besides = asked.mistake.and_also(_listed("--redo", redo), _listed("--again", again))
    mistake, found = asked.mended(named_besides, other)
    revised = mistake.all_known_better(found, asked.assembly)
    sheet, problems = _sheet(asked, mistake, revised, into, paper, layouts)
    findings = (*asked.findings, *mistake.findings, *revised.findings, *problems)
    result = _as_json(revised, asked.reading)
    if asked.log is not None:
        result |= {"log": _log_as_json(asked.log, mistake)}
    if into is not None:
        result |= {"sheet": str(sheet) if sheet is not None else None}
    told = Told(asked.assembly, mistake)
    text = (told.given(str(asked.log), revised) if asked.log is not None else "") + told.whole(
        revised
    )
    text += f"\n\n{sheet}" if sheet is not None else ""
    ok = revised.ok and not problems
    output.finish(OK if ok else NOT_OK, result, asked.reading, findings, text)


def _asked(output: Output, file: Path | None, named: Path | None, done: str | None) -> Asked:
    """Return what a mend starts from, by the log or by the list of what was done."""
    if done is None:
        return asked_by_log(output, file, named)
    if named is not None or file is None:
        raise click.UsageError("give FILE and --done, or --log: a log tells itself what is done")
    from sequencer.model.fingerprint import fingerprint
    from sequencer.planning.mending import Mistake, Paper
    from sequencer.planning.plan import plan

    reading, assembly = output.read(file)
    steps = tuple(step.id for step in assembly.steps)
    printed = plan(assembly).order or steps
    paper = Paper(assembly.issue, fingerprint(assembly))
    names = each_once(by_number(listed_names(done), printed, steps), "--done")
    mistake = Mistake(done=tuple(names), order=printed, was=paper, now=paper, numbered_by=paper)
    turns = tuple(name for name in names if name in steps)
    return Asked(file, reading, assembly, mistake, reading.problems, turns)


def _sheet(  # what to print, where, and how it is to look
    asked: Asked,
    mistake: Mistake,
    revised: Revised,
    into: Path | None,
    paper: str,
    layouts: Path | None,
) -> tuple[Path | None, tuple[Problem, ...]]:
    """Print the change sheet if that is asked for, and return where it is, or why there is none."""
    from sequencer.commands.printing import NotPrinted

    if into is None or revised.mend is None:
        return None, ()
    from sequencer.commands.revise_sheet import change_pdf

    try:
        return change_pdf(asked, mistake, revised.mend, into, paper, layouts), ()
    except NotPrinted as stopped:
        return None, (stopped.finding,)


def _listed(option: str, values: Iterable[str]) -> list[str]:
    names = [name for value in values for name in value.replace(",", " ").split()]
    return each_once(names, option)


# As JSON.


def _as_json(revised: Revised, reading: Reading) -> dict[str, object]:
    mend = revised.mend
    best = _mend_as_json(mend, reading) if mend is not None else _NO_MEND
    return {
        "ok": revised.ok,
        **best,
        "proved": revised.proved,
        "gap": revised.gap,
        "others": [_mend_as_json(other, reading) for other in revised.others],
    }


def _log_as_json(log: Path, mistake: Mistake) -> dict[str, object]:
    return {
        "file": str(log),
        "was": mistake.was._asdict(),
        "now": mistake.now._asdict(),
        "done": list(mistake.done),
        "skipped": list(mistake.skipped),
        "redo": dict(mistake.redo),
        "again": dict(mistake.again),
        "begun": dict(mistake.begun),
        "awaited": dict(mistake.awaited),
        "spoiled": list(mistake.spoiled),
    }


_NO_MEND: dict[str, object] = {"undo": [], "do": [], "minutes": None, "spoiled": []}


def _mend_as_json(mend: Mend, reading: Reading) -> dict[str, object]:
    return {
        "undo": list(mend.undo),
        "do": list(mend.do),
        "minutes": mend.minutes,
        "spoiled": list(mend.spoiled),
        "fasteners": [one._asdict() for one in mend.fasteners],
        "made": mend.made._asdict(),
        "in_place": list(mend.in_place),
        "renew": dict(mend.renew),
        "prepare": list(mend.prepare),
        "waits": [wait._asdict() for wait in mend.waits],
        "void": list(mend.void),
        "why": {step: fact_as_json(fact, reading) for step, fact in mend.why.items()},
    }
