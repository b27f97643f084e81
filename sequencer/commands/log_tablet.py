"""`sequencer log tablet`: what was ticked and read on the tablet page, from its export."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sequencer.commands import log_times
from sequencer.commands.common import OK, UNREADABLE
from sequencer.commands.log_correct import not_correctable
from sequencer.commands.log_measure import (
    against_readings,
    against_torques,
    read_out,
    torque_out,
    verdict_of,
)
from sequencer.commands.log_names import strange_steps
from sequencer.commands.log_paper import TABLET
from sequencer.commands.log_parts import (
    against_arrived,
    against_fitted,
    against_spoiled,
    strange_part,
)
from sequencer.commands.log_run import Recorder, recording
from sequencer.commands.log_sign import against_accept, against_sign
from sequencer.commands.log_steps import (
    against,
    against_part_done,
    against_skip,
    against_undone,
)
from sequencer.problem import Place, Problem
from sequencer.records.entries import (
    Accept,
    Arrived,
    Correct,
    Done,
    Entry,
    Fitted,
    Note,
    PartDone,
    Reading,
    Short,
    Sign,
    Skip,
    Spoiled,
    Torque,
    Undone,
)
from sequencer.records.exports import Export, ExportError, export_of
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from sequencer.records.exports import Exported
    from sequencer.records.state import State


@click.command("tablet")
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE")
@recording
def tablet_command(recorder: Recorder, file: Path) -> None:
    """Record what was ticked and read on the tablet page, from the file that it exports.

    Every entry is checked as if it were typed, one after the other, and keeps the time at which it
    was ticked. What the log has already is passed over, so that the same export, or a later one of
    the same page, can be read again.
    """
    export = _read(recorder, file)
    numbers = _numbers(recorder)
    fresh = [one for one in export.entries if one.entry.id not in numbers]
    passed = len(export.entries) - len(fresh)
    if not fresh:
        told = counted(passed, "entry is", "entries are")
        if not recorder.as_json:
            click.echo(f"nothing new in {file}: {told} recorded already")
        recorder.finish(OK, (), log=str(recorder.path), recorded=0)
    recorder.sheet, recorder.worked_from = export.fingerprint, TABLET
    checked, findings = _checked(recorder, file, fresh, numbers)
    recorder.have_confirmed(
        (*recorder.sheet_findings(ask=False), *_of_all(recorder.state, export, fresh), *findings)
    )
    _record(recorder, checked)
    for line in _judged(recorder, fresh):
        click.echo(line)
    also = f", {passed} recorded before" if passed else ""
    told = f"{counted(len(fresh), 'entry', 'entries')} of {file}{also}"
    recorder.done(told, recorded=len(fresh))


def _read(recorder: Recorder, file: Path) -> Export:
    try:
        return export_of(file.read_bytes(), log_times.stamp(log_times.now()))
    except OSError as fault:
        raise click.BadParameter(f"cannot read {file}: {fault.strerror}") from fault
    except ExportError as error:
        recorder.stop(UNREADABLE, _fault(file, error), log=str(recorder.path), entry=None)


def _fault(file: Path, error: ExportError) -> Problem:
    return Problem(
        "no-export",
        "error",
        f"line {error.line} of {file} {error}",
        why="nothing of it was recorded",
        fix="make the export anew on the page, and save or copy it whole",
        place=Place(str(file), error.line, 1),
    )


def _numbers(recorder: Recorder) -> dict[str, int]:
    """Return the numbers that entries of the page have in the log, by their ids."""
    return {entry.id: entry.number for entry in recorder.log.entries if entry.id}


def _of_all(state: State, export: Export, fresh: Sequence[Exported]) -> Iterator[Problem]:
    """Yield what there is against the export as a whole."""
    if export.unit != state.unit:
        theirs, ours = (f"unit {one}" if one else "no unit" for one in (export.unit, state.unit))
        message = f"the export says {theirs}, and this log {ours}"
        why = "what was done on one unit would count for another"
        fix = "name the right log with --log; on the page, `Change` says which unit it is"
        yield Problem("other-unit", "warning", message, why=why, fix=fix)
    last = max(datetime.fromisoformat(one.entry.at) for one in fresh)
    if last > log_times.now():
        message = f"{last.isoformat()[:16].replace('T', ' ')} on the tablet is still to come here"
        why = "its clock is ahead of this one, and waits and open times go by it"
        yield Problem("to-come", "warning", message, why=why, fix="set both clocks right")


def _checked(
    recorder: Recorder, file: Path, fresh: Sequence[Exported], numbers: Mapping[str, int]
) -> tuple[list[Exported], list[Problem]]:
    """Return the entries with what there is against each, and all that once.

    Each is checked by the state that those before it make of the log.
    """
    known = dict(numbers)
    told: dict[tuple[str, str], Problem] = {}
    checked: list[Exported] = []
    taken: list[Entry] = []
    for one in fresh:
        entry = _numbered(one, known, recorder.log.next_number + len(taken))
        if entry is None:
            text = f"entry {one.entry.id} corrects one that is neither in it nor in the log"
            recorder.stop(UNREADABLE, _lost(file, text), log=str(recorder.path), entry=None)
        recorder.at = entry.at
        found = list(_against(recorder, entry, taken))
        told |= {(problem.code, problem.message): problem for problem in found}
        despite = [problem.message for problem in found if problem.severity != "note"]
        objected = replace(one.entry, despite=tuple(dict.fromkeys((*entry.despite, *despite))))
        checked.append(replace(one, entry=objected))
        taken.append(entry)
        known[entry.id] = entry.number
        recorder.as_if(taken)
    recorder.at = ""
    recorder.as_if(())
    return checked, list(told.values())


def _lost(file: Path, text: str) -> Problem:
    why = "nothing of it was recorded"
    fix = "read the first export of that page into this log first"
    return Problem("no-export", "error", f"{file}: {text}", why=why, fix=fix)


def _numbered(one: Exported, known: Mapping[str, int], number: int) -> Entry | None:
    """Return an entry with a number, and that of what it corrects; None if nobody knows that."""
    entry = replace(one.entry, number=number)
    if not isinstance(entry.what, Correct):
        return entry
    corrects = known.get(one.corrects)
    return None if corrects is None else replace(entry, what=_correcting(entry.what, corrects))


def _correcting(what: Correct, number: int) -> Correct:
    return replace(what, corrects=number)


def _against(recorder: Recorder, entry: Entry, taken: Sequence[Entry]) -> Iterable[Problem]:
    """Return what there is against one entry, by the state before it."""
    if isinstance(entry.what, Correct):
        return _against_correction(recorder, entry.what, taken)
    return _OBJECTIONS[type(entry.what)](recorder, entry.what)


_OBJECTIONS: Mapping[type, Callable[[Recorder, Any], Iterable[Problem]]] = {
    Done: lambda recorder, what: against(recorder, what.steps),
    PartDone: against_part_done,
    Undone: lambda recorder, what: against_undone(recorder, what.steps),
    Skip: lambda recorder, what: against_skip(recorder.state, what),
    Reading: lambda recorder, what: against_readings(recorder, [what]),
    Torque: lambda recorder, what: against_torques(recorder, [what]),
    Accept: lambda recorder, what: against_accept(recorder.state, what),
    Fitted: against_fitted,
    Spoiled: against_spoiled,
    Short: lambda recorder, what: strange_part(recorder, what.part),
    Arrived: against_arrived,
    Sign: lambda recorder, what: against_sign(recorder.state, what),
    Note: lambda recorder, what: strange_steps([what.step] if what.step else [], recorder.state),
}


def _against_correction(
    recorder: Recorder, what: Correct, taken: Sequence[Entry]
) -> Iterator[Problem]:
    corrected = next(
        (one for one in (*recorder.log.entries, *taken) if one.number == what.corrects), None
    )
    refusal = not_correctable(corrected, what.corrects, what.value, what.step)
    if refusal:
        why = "a correction counts for what it names"
        yield Problem("odd-correction", "warning", refusal, why=why, fix="look at the page again")


def _record(recorder: Recorder, fresh: Sequence[Exported]) -> None:
    """Record the entries, in stretches: a correction needs the number of what it corrects."""
    stretch: list[Entry] = []
    numbers = _numbers(recorder)
    for one in fresh:
        if isinstance(one.entry.what, Correct) and one.corrects not in numbers:
            recorder.record(stretch, ())
            stretch, numbers = [], _numbers(recorder)
        if isinstance(one.entry.what, Correct):
            what = _correcting(one.entry.what, numbers[one.corrects])
            stretch.append(replace(one.entry, what=what, sheet=recorder.sheet))
        else:
            stretch.append(replace(one.entry, sheet=recorder.sheet))
    recorder.record(stretch, ())


def _judged(recorder: Recorder, fresh: Sequence[Exported]) -> Iterator[str]:
    """Yield each value with its verdict, for people."""
    for one in fresh if not recorder.as_json else ():
        what = one.entry.what
        if isinstance(what, Reading):
            yield read_out(what, verdict_of(recorder.state, what))
        elif isinstance(what, Torque):
            yield torque_out(recorder.state, what)
