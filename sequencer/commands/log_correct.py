"""`sequencer log correct`: an entry that was wrong, taken back or put right."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from sequencer.commands.log_measure import (
    read_out,
    reading_of,
    torque_of,
    torque_out,
    untold,
    verdict_of,
)
from sequencer.commands.log_names import steps_named
from sequencer.commands.log_run import Recorder, recording
from sequencer.records.entries import Correct, Reading, Torque
from sequencer.records.lines import kind_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.problem import Problem
    from sequencer.records.entries import Entry
    from sequencer.records.state import State


@click.command("correct")
@click.argument("number", type=click.IntRange(1), metavar="ENTRY")
@click.option("--value", default="", help="What a reading or torque should have said.")
@click.option("--step", default="", help="The one step of the entry that is wrong.")
@click.option("--why", default="", metavar="TEXT", help="What was wrong.")
@recording
def correct_command(recorder: Recorder, number: int, *, value: str, step: str, why: str) -> None:
    """Take back an entry that was wrong, by its number; it stays in the file.

    Without --value or --step the whole entry does not count any more.
    """
    if value and step:
        raise click.UsageError("--value and --step are for different entries: give one")
    wrong = steps_named([step], recorder.state)[0] if step else ""
    entry = next((one for one in recorder.state.entries if one.number == number), None)
    refusal = _void(recorder.state, number) or not_correctable(entry, number, value, wrong)
    if refusal:
        raise click.BadParameter(refusal, param_hint="ENTRY")
    value, judged, findings = _corrected(recorder.state, entry, value)
    recorder.record([Correct(corrects=number, why=why, value=value, step=wrong)], findings)
    how = f"counts: {judged}" if value else f"counts without `{wrong}`" if wrong else "is void"
    recorder.done(f"entry {number} {how}")


def _void(state: State, number: int) -> str:
    """Return that an entry does not count any more, and by which other; empty if it counts."""
    by = state.corrections.get(number, ())
    if not by or any(entry.number == number for entry in state.entries):
        return ""
    wholly = [
        one for one in by if isinstance(one.what, Correct) and not (one.what.value or one.what.step)
    ]
    last = (*wholly, by[-1])[0].number
    return f"entry {number} does not count any more (entry {last}): to have it back, take back that"


def _corrected(state: State, entry: Entry | None, value: str) -> tuple[str, str, Sequence[Problem]]:
    """Return a value put right, with its unit; what it says with its verdict; and objections."""
    if entry is not None and value and isinstance(entry.what, Reading):
        what = entry.what
        reading = replace(what, value=reading_of(state, what.check, value).value)
        verdict = verdict_of(state, reading)
        return reading.value, read_out(reading, verdict), untold(reading.check, reading, verdict)
    if entry is not None and value and isinstance(entry.what, Torque):
        torque = replace(entry.what, value=torque_of(state, entry.what.joint, value).value)
        return torque.value, torque_out(state, torque), ()
    return value, "", ()


def not_correctable(entry: Entry | None, number: int, value: str, step: str) -> str:
    """Return why an entry cannot be corrected so; empty if it can."""
    if entry is None:
        return f"the log has no entry {number}"
    if number == 1:
        return "the first entry is the model itself: begin another log instead"
    kind = kind_of(entry)
    if value and kind not in ("reading", "torque"):
        return f"entry {number} is a `{kind}`, which has no value"
    if step and step not in getattr(entry.what, "steps", ()):
        return f"entry {number} does not name the step `{step}`"
    return ""
