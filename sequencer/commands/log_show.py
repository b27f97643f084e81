"""`sequencer log status`, `next`, `stop` and `print`: what a log tells, on screen and on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import NOT_OK, OK
from sequencer.commands.log_next import labelled, model_changed, next_steps
from sequencer.commands.log_open import Opened
from sequencer.commands.log_run import Recorder, recording
from sequencer.commands.log_sheet import handover_pdf, printing, record_pdf
from sequencer.commands.log_status import as_text, as_values, unrest
from sequencer.commands.printing import NotPrinted
from sequencer.problem import Problem
from sequencer.records.describe import described, moment
from sequencer.records.entries import Stop

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.records.entries import Entry
    from sequencer.records.state import State

_MOST = 3


def showing(command: Callable[..., None]) -> Callable[..., None]:
    """Give a command that only shows something `--log` and `--json`."""
    named = click.option(
        "--log", "named", type=click.Path(path_type=Path), help="The log; default: the only one."
    )
    as_json = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
    return named(as_json(command))


@click.command("status")
@showing
def status_command(*, named: Path | None, as_json: bool) -> None:
    """Tell what is done, open, next, waited for and out of limit; may the job be left so."""
    opened = Opened(named, as_json=as_json)
    coming, now = next_steps(opened, _MOST), opened.now()
    findings = (*opened.findings, *model_changed(opened))
    opened.tell(findings)
    if not as_json:
        click.echo(f"{opened.path}: {as_text(opened.state, coming, now)}")
    opened.finish(OK, findings, log=str(opened.path), **as_values(opened.state, coming, now))


@click.command("next")
@click.option("--most", type=click.IntRange(1), default=_MOST, show_default=True)
@showing
def next_command(*, most: int, named: Path | None, as_json: bool) -> None:
    """Tell which steps come next, and what holds up others."""
    opened = Opened(named, as_json=as_json)
    coming = next_steps(opened, most)
    findings = (*opened.findings, *model_changed(opened), *coming.waiting)
    opened.tell(findings)
    if not as_json:
        for step in coming.steps:
            click.echo(labelled(opened.state, step))
        if not coming.steps:
            nothing = (
                ": every step is done or left out" if not opened.state.open else " as it stands"
            )
            click.echo(f"nothing can be done next{nothing}")
    opened.finish(OK, findings, log=str(opened.path), next=list(coming.steps))


@click.command("list")
@showing
def list_command(*, named: Path | None, as_json: bool) -> None:
    """List every entry with its number, those that do not count any more marked so."""
    opened = Opened(named, as_json=as_json)
    opened.tell(opened.findings)
    rows = [_listed(opened.state, entry) for entry in opened.log.entries]
    if not as_json:
        for row in rows:
            click.echo(row)
    opened.finish(OK, opened.findings, log=str(opened.path), entries=rows)


def _listed(state: State, entry: Entry) -> str:
    by = f"  ({entry.by})" if entry.by else ""
    corrected = state.corrections.get(entry.number, ())
    numbers = ", ".join(str(one.number) for one in corrected)
    mark = f"  [corrected by entry {numbers}]" if corrected else ""
    return f"{entry.number:>4}  {moment(entry.happened)}  {described(entry, state)}{by}{mark}"


@click.command("stop")
@printing
@click.option("--no-sheet", is_flag=True, help="Record it without printing the handover sheet.")
@recording
def stop_command(
    recorder: Recorder, *, no_sheet: bool, into: Path, paper: str, layouts: Path | None
) -> None:
    """Record that work stops for now, and print the handover sheet."""
    reasons = unrest(recorder.state).reasons
    findings = []
    if reasons:
        message = f"this is no rest point: {'; '.join(reasons)}"
        why = "left like this, something may shift, set or be forgotten"
        fix = "go on to the next rest point, or see to what the handover sheet says"
        findings.append(Problem("no-rest", "note", message, why=why, fix=fix))
    recorder.record([Stop()], findings)
    recorder.say("work stops")
    result = {"log": str(recorder.path), "entry": recorder.last, "rest_point": not reasons}
    target = None
    if not no_sheet:
        try:
            target = handover_pdf(recorder, next_steps(recorder, _MOST), into, paper, layouts)
        except NotPrinted as stop:
            recorder.tell((stop.finding,))
            recorder.finish(NOT_OK, (*recorder.told, stop.finding), **result, file=None)
        if not recorder.as_json:
            click.echo(str(target))
    recorder.finish(OK, recorder.told, **result, file=str(target) if target else None)


@click.command("print")
@printing
@showing
def print_command(
    *, into: Path, paper: str, layouts: Path | None, named: Path | None, as_json: bool
) -> None:
    """Print the as-built record: the packet's steps with what was recorded, deviations first."""
    opened = Opened(named, as_json=as_json)
    opened.tell(opened.findings)
    try:
        target = record_pdf(opened, into, paper, layouts)
    except NotPrinted as stop:
        opened.stop(NOT_OK, stop.finding, log=str(opened.path), file=None)
    if not as_json:
        click.echo(str(target))
    opened.finish(OK, opened.findings, log=str(opened.path), file=str(target))
