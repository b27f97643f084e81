"""`sequencer log csv`: a table filled in from paper, and the blank table to fill in."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import OK
from sequencer.commands.log_measure import read_out, reading_of, torque_of, torque_out, verdict_of
from sequencer.commands.log_names import steps_named, strange
from sequencer.commands.log_run import Recorder, recording
from sequencer.commands.log_steps import against
from sequencer.problem import Place, Problem
from sequencer.records.entries import Done, Fitted, Reading, Sign, Torque
from sequencer.records.moments import moment_in
from sequencer.records.moved_on import check_gates
from sequencer.records.pieces import piece_findings
from sequencer.records.read_again import nothing_done_since
from sequencer.records.sets import check_of
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.records.entries import Entry, What
    from sequencer.records.state import State

COLUMNS = ("kind", "name", "step", "text", "asked", "value", "by", "at", "place", "round", "tool")
_KINDS = ("done", "reading", "torque", "sign", "fitted")
_TICKS = frozenset(("x", "yes", "y", "done", "ok", "1", "✓", "✔"))


@dataclass(frozen=True, slots=True)
class _Row:
    """A row that is filled in: the line it stands on, and its columns by name."""

    line: int
    cells: dict[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")


@click.command("csv")
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE")
@click.option("--blank", is_flag=True, help="Write the table to fill in, instead of reading one.")
@recording
def csv_command(recorder: Recorder, file: Path, *, blank: bool) -> None:
    """Record a table filled in from paper: an x for a step done, or what was read.

    Only rows with a `value` count. Rows that are in the log already are passed over, so that the
    same table can be read again after more was filled in. Either all new rows are recorded, or
    none.
    """
    if blank:
        _write_blank(recorder, file)
    rows = list(_rows(file))
    faults: list[Problem] = []
    entries = [entry for row in rows if (entry := _entry(recorder, file, row, faults))]
    if faults:
        recorder.stop(2, *faults, log=str(recorder.path), entry=None)
    known = {_sense(entry.what) for entry in recorder.state.entries}
    done = set(recorder.state.done)
    fresh = [one for one in entries if not _is_known(one.what, known, done)]
    if not fresh:
        text = f"nothing new in {file}: {counted(len(rows), 'row is', 'rows are')} recorded already"
        if not recorder.as_json:
            click.echo(text)
        recorder.finish(OK, (), log=str(recorder.path), recorded=0)
    recorder.record(fresh, list(_objections(recorder, fresh)), paper=True)
    if not recorder.as_json:
        for one in fresh:
            if line := _judged(recorder.state, one):
                click.echo(line)
    passed = len(rows) - len(fresh)
    also = f", {passed} recorded before" if passed else ""
    recorder.done(f"{counted(len(fresh), 'row')} of {file}{also}", recorded=len(fresh))


def _rows(file: Path) -> Iterator[_Row]:
    """Yield the rows of a table that are filled in."""
    try:
        text = file.read_bytes().decode("utf-8-sig")
    except OSError as fault:
        raise click.BadParameter(f"cannot read {file}: {fault.strerror}") from fault
    except UnicodeDecodeError as fault:
        raise click.BadParameter(f"{file} is no UTF-8 text: save it as CSV in UTF-8") from fault
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    table = csv.reader(io.StringIO(text, newline=""), delimiter=mark)
    names = [name.strip().casefold() for name in next(table, [])]
    lacking = [name for name in ("kind", "name", "value") if name not in names]
    if lacking:
        raise click.BadParameter(
            f"the first row of {file} lacks {', '.join(lacking)}: write the columns "
            f"{', '.join(COLUMNS)} there (--blank makes such a table)"
        )
    for cells in table:
        row = dict(zip(names, (cell.strip() for cell in cells), strict=False))
        if row.get("value"):
            yield _Row(table.line_num, row)


def _entry(recorder: Recorder, file: Path, row: _Row, faults: list[Problem]) -> Entry | None:
    """Return what a row tells; what is wrong with it is added to the faults."""
    state, value = recorder.state, row["value"]
    number = row["round"]
    fault = ""
    what: What | None = None
    if row["kind"] not in _KINDS:
        fault = f"`{row['kind']}` is no kind of row: write one of {', '.join(_KINDS)}"
    elif number and not (number.isascii() and number.isdigit() and int(number)):
        fault = f"`{number}` is no round: write 1, 2 and so on"
    elif row["kind"] == "done" and value.casefold() not in _TICKS:
        fault = f"`{value}` is no tick: write x where the step is done"
    else:
        what = _what(state, row)
    try:
        at = recorder.moment(row["at"])
    except click.BadParameter as error:
        at, fault = "", fault or error.message
    if fault:
        place = Place(str(file), row.line, 1)
        why = "nothing of the table was recorded"
        faults.append(Problem("bad-row", "error", fault, why=why, place=place))
        return None
    return None if what is None else recorder.entry(what, by=row["by"], at=at)


def _what(state: State, row: _Row) -> What:
    name, value, place = row["name"], row["value"], row["place"]
    if row["kind"] == "done":
        return Done(steps=steps_named([name], state))
    if row["kind"] == "reading":
        number = int(row["round"]) if row["round"] else None
        return reading_of(state, name, value, number, place, row["tool"])
    if row["kind"] == "torque":
        return torque_of(state, name, value, row["tool"], place)
    if row["kind"] == "sign":
        step = steps_named([row["step"]], state)[0] if row["step"] else ""
        return Sign(role=name, step=step)
    return Fitted(part=name, serial=value)


def _objections(recorder: Recorder, entries: Sequence[Entry]) -> Iterator[Problem]:
    """Yield what there is against these entries, all steps judged as one run."""
    assembly, whats = recorder.assembly, [entry.what for entry in entries]
    done = [(one.at, one.what.steps) for one in entries if isinstance(one.what, Done)]
    at = {step: when for when, steps in done if when for step in steps}
    yield from against(recorder, [step for _, steps in done for step in steps], at)
    kinds = (
        (Reading, "check", assembly.checks),
        (Torque, "joint", assembly.joints),
        (Fitted, "part", assembly.parts),
    )
    for cls, kind, known in kinds:
        names = [getattr(what, kind) for what in whats if isinstance(what, cls)]
        yield from strange(dict.fromkeys(names), [one.id for one in known], kind)
    for entry in entries:
        what = entry.what
        if isinstance(what, Fitted):
            yield from piece_findings(recorder.state, what)
        if isinstance(what, Reading):
            yield from check_gates(recorder.state, what.check, moment_in(entry.happened))
            yield from _of_failed(recorder.state, what)


def _of_failed(state: State, what: Reading) -> Iterator[Problem]:
    """Yield that nothing was done about a check that failed, and now reads right."""
    check = check_of(state.assembly, what.check)
    if check is not None:
        yield from nothing_done_since(state, check, what, verdict_of(state, what))


def _sense(what: What) -> tuple[object, ...]:
    """Return what an entry says, so that the same row read again is recognised."""
    if isinstance(what, Reading):
        return "reading", what.check, what.value, what.round, what.place
    if isinstance(what, Torque):
        return "torque", what.joint, what.value, what.place
    if isinstance(what, Sign):
        return "sign", what.role, what.step
    if isinstance(what, Fitted):
        return "fitted", what.part, what.serial
    return ()


def _is_known(what: What, known: set[tuple[object, ...]], done: set[str]) -> bool:
    if isinstance(what, Done):
        return done.issuperset(what.steps)
    return _sense(what) in known


def _judged(state: State, entry: Entry) -> str:
    what = entry.what
    if isinstance(what, Reading):
        return read_out(what, verdict_of(state, what, moment_in(entry.happened)))
    return torque_out(state, what) if isinstance(what, Torque) else ""


def _write_blank(recorder: Recorder, file: Path) -> None:
    """Write the table of what is still to be recorded, and end."""
    table = io.StringIO(newline="")
    writer = csv.writer(table)
    writer.writerow(COLUMNS)
    rows = [(*row, *[""] * (len(COLUMNS) - len(row))) for row in _blank_rows(recorder.state)]
    writer.writerows(rows)
    try:
        with file.open("x", encoding="utf-8-sig", newline="") as made:
            made.write(table.getvalue())
    except OSError as fault:
        raise click.BadParameter(f"cannot write {file}: {fault.strerror}") from fault
    if not recorder.as_json:
        click.echo(
            f"{file}: {counted(len(rows), 'row')} to fill in; then `sequencer log csv {file}`"
        )
    recorder.finish(OK, (), file=str(file), rows=len(rows))


def _blank_rows(state: State) -> Iterator[tuple[object, ...]]:
    """Yield what is missing of steps done, then each open step and each blank on its card."""
    yield from (row for row in _card_rows(state, state.done) if _is_missing(state, row))
    yield from _card_rows(state, state.open)


def _is_missing(state: State, row: Sequence[object]) -> bool:
    """Tell whether a blank on the card of a step that is done is still to be filled in."""
    kind, name, at = row[:3]
    if kind == "sign":
        return any(state.number.get(step) == at for step, _ in state.holds)
    check = check_of(state.assembly, str(name))
    return kind == "reading" and check is not None and bool(state.missing(check))


def _card_rows(state: State, names: Sequence[str]) -> Iterator[tuple[object, ...]]:
    """Yield a row for each of these steps and for each blank on its card."""
    steps = {step.id: step for step in state.assembly.steps}
    checks = {check.id: check for check in state.assembly.checks}
    joints = {joint.id: joint for joint in state.assembly.joints}
    parts = {part.id: part for part in state.assembly.parts}
    for at, name in enumerate(state.model.order, start=1):
        if name not in names:
            continue
        step = steps[name]
        yield "done", name, at, " ".join(step.do.split()), "x"
        for link in step.check:
            check = checks[link.to]
            asked = check.limit.value.text.strip() if check.limit else check.good
            for place in state.missing(check) or ("",):
                yield "reading", check.id, at, check.label, asked, "", "", "", place
        for link in step.tighten:
            torque = joints[link.to].torque
            yield "torque", link.to, at, joints[link.to].name, torque.value.text if torque else ""
        for fit in step.fits:
            if parts[fit.part].serial:
                yield "fitted", fit.part, at, parts[fit.part].label, "serial no."
        if step.hold:
            yield "sign", step.hold, at, "hold point", "name in `by`, x in `value`"
