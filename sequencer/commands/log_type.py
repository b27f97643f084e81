"""`sequencer log type`: a ticked sheet typed in quickly, line by line."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import OK
from sequencer.commands.log_measure import (
    read_out,
    reading_of,
    record_readings,
    record_torques,
    torque_of,
    torque_out,
    verdict_of,
)
from sequencer.commands.log_names import numbered, pair, steps_named
from sequencer.commands.log_next import labelled, next_steps
from sequencer.commands.log_run import NotRecorded, Recorder, recording
from sequencer.commands.log_steps import record_done
from sequencer.records.entries import Fitted, Sign
from sequencer.records.gates import named
from sequencer.records.pieces import piece_findings, serials_missing
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.steps import Step
    from sequencer.records.state import State

_ASK = "steps done, or check=value (?: help, Enter: end)"
_HELP = """\
  1-13, 15 lock       steps that are ticked: numbers, ranges, ids
  worm-float=0.04     a reading of a check
  cover-joint=22 N·m  what a joint was tightened to
  ?                   this, and what comes next
After steps, what their cards have blanks for is asked; Enter leaves a blank open."""


@click.command("type")
@recording
def type_command(recorder: Recorder) -> None:
    """Type in a ticked sheet: steps as ranges, then the readings that their cards ask for.

    Every line is recorded at once; an empty one ends.
    """
    if recorder.as_json:
        raise click.UsageError("--json has nothing to do here: `type` asks and answers")
    first = recorder.log.next_number
    if not recorder.said.by:
        name = _asked("who did it (Enter: not said)")
        recorder.said = replace(recorder.said, by=name)
    _ask_for_the_paper(recorder)
    while line := _asked(_ASK):
        try:
            _take(recorder, line)
        except NotRecorded:
            continue
    count = recorder.log.next_number - first
    click.echo(f"{counted(count, 'entry', 'entries')} recorded in {recorder.path}")
    recorder.finish(OK, ())


def _ask_for_the_paper(recorder: Recorder) -> None:
    """Have the paper named before anything is typed from it; a wrong one may be named again."""
    while True:
        try:
            recorder.have_confirmed(recorder.sheet_findings(ask=True))
        except NotRecorded:
            if not recorder.sheet:
                raise
            recorder.sheet = ""
        else:
            return


def _asked(question: str) -> str:
    """Return what was typed; nothing at the end of what there is to read."""
    try:
        answer: str = click.prompt(question, default="", show_default=False, err=True)
    except click.Abort:
        click.echo(err=True)
        return ""
    return answer.strip()


def _take(recorder: Recorder, line: str) -> None:
    state = recorder.state
    if line == "?":
        click.echo(_HELP)
        for name in next_steps(recorder, 3).steps:
            click.echo(labelled(state, name))
        return
    if "=" in line:
        _take_value(recorder, line)
        return
    try:
        steps = steps_named([line], state)
    except click.UsageError as error:
        click.echo(error.message, err=True)
        return
    record_done(recorder, steps)
    recorder.say(f"{numbered(steps, state)} done")
    for step in [step for step in state.assembly.steps if step.id in steps]:
        _ask_blanks(recorder, step)


def _take_value(recorder: Recorder, line: str) -> None:
    try:
        name, value = pair(line)
    except ValueError:
        click.echo(f"{line!r} lacks a name before the `=`, or a value behind it", err=True)
        return
    joints = {joint.id for joint in recorder.assembly.joints}
    checks = {check.id for check in recorder.assembly.checks}
    if name in joints and name not in checks:
        _record_torque(recorder, name, value)
    else:
        _record_reading(recorder, name, value)


def _record_reading(recorder: Recorder, check: str, value: str) -> None:
    what = reading_of(recorder.state, check, value)
    record_readings(recorder, [what])
    recorder.say(read_out(what, verdict_of(recorder.state, what, recorder.said_at)))


def _record_torque(recorder: Recorder, joint: str, value: str) -> None:
    what = torque_of(recorder.state, joint, value)
    record_torques(recorder, [what])
    recorder.say(torque_out(recorder.state, what))


def _record_serial(recorder: Recorder, part: str, serial: str) -> None:
    what = Fitted(part=part, serial=serial)
    recorder.record([what], piece_findings(recorder.state, what))
    recorder.say(f"{part}: serial {serial}")


def _ask_blanks(recorder: Recorder, step: Step) -> None:
    """Ask for what a card has blanks for; what is refused is asked once more."""
    for kind, name, question in _blanks(recorder.state, step):
        while answer := _asked(question):
            try:
                if answer == "?":
                    click.echo(_HELP)
                elif _names_another(recorder, answer, name):
                    _take_value(recorder, answer)
                else:
                    _fill_in(recorder, step, kind, name, _without(name, answer))
                    break
            except NotRecorded:
                continue


def _names_another(recorder: Recorder, answer: str, asked: str) -> bool:
    """Tell whether an answer says itself that it is a value of something else than was asked."""
    name, found, _ = answer.partition("=")
    checks = {one.id for one in recorder.assembly.checks}
    known = checks | {one.id for one in recorder.assembly.joints}
    return bool(found) and name.strip() != asked and name.partition(".")[0].strip() in known


def _without(name: str, answer: str) -> str:
    """Return an answer without the name of what was asked before it."""
    own, found, value = answer.partition("=")
    return value.strip() if found and own.strip() == name and value.strip() else answer


def _fill_in(recorder: Recorder, step: Step, kind: str, name: str, answer: str) -> None:
    """Record what was written in one blank of a card."""
    if kind == "reading":
        _record_reading(recorder, name, answer)
    elif kind == "torque":
        _record_torque(recorder, name, answer)
    elif kind == "fitted":
        _record_serial(recorder, name, answer)
    else:
        recorder.record([recorder.entry(Sign(role=name, step=step.id), by=answer)], ())
        recorder.say(f"{name} ({answer}) has signed for {named(recorder.state, step.id)}")


def _blanks(state: State, step: Step) -> Iterator[tuple[str, str, str]]:
    """Yield what to ask about a step: kind, name, and the question."""
    checks = {check.id: check for check in state.assembly.checks}
    joints = {joint.id: joint for joint in state.assembly.joints}
    at = f"  step {state.number[step.id]}" if step.id in state.number else f"  {step.id}"
    for link in step.check:
        check = checks[link.to]
        limit = check.limit.value.text.strip() if check.limit else ""
        asked = limit or (f"good: {check.good}" if check.good else "a reading")
        for place in state.missing(check) or ("",):
            name = f"{check.id}.{place}" if place else check.id
            yield "reading", name, f"{at}, {name} ({asked})"
    for link in step.tighten:
        torque = joints[link.to].torque
        if torque is not None and torque.value.amount is not None:
            yield "torque", link.to, f"{at}, {link.to} (asked: {torque.value.text.strip()})"
    missing = serials_missing(state)
    for fit in step.fits:
        for _ in range(missing.get(fit.part, 0)):
            yield "fitted", fit.part, f"{at}, {fit.part}: serial no."
    if step.hold:
        yield "sign", step.hold, f"{at}, hold point: name of who signed as {step.hold}"
