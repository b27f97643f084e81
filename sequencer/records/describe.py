"""Entries in words, as a list or a sheet tells them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.records.lines import kind_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from sequencer.records import entries as told
    from sequencer.records.entries import Entry
    from sequencer.records.state import State


def described(entry: Entry, state: State) -> str:
    """Say in one line what an entry tells, steps by their printed numbers."""
    return _SAYINGS[kind_of(entry)](entry.what, state)


def moment(time: str) -> str:
    """Return a time as people read it, without its seconds and offset.

    Examples
    --------
    >>> moment("2031-05-02T14:05:09+02:00")
    '2031-05-02 14:05'
    """
    return time[:16].replace("T", " ")


def steps_in_words(steps: Sequence[str], state: State) -> str:
    """Name steps in their order by printed number, three and more in a row by the first and last.

    Those without a number are named by id.
    """
    number, runs = state.number, list[list[str]]()
    for step in steps:
        if runs and step in number and number[step] - 1 == number.get(runs[-1][-1]):
            runs[-1].append(step)
        else:
            runs.append([step])
    return ", ".join(_run_in_words([str(number.get(step, step)) for step in run]) for run in runs)


def _run_in_words(run: Sequence[str]) -> str:
    return f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run)  # noqa: PLR2004  # "2, 3"


def _start(what: told.Start, _: State) -> str:
    unit = f", unit {what.unit}" if what.unit else ""
    return f"begun by issue {what.issue}, model {what.fingerprint}{unit}"


def _issue(what: told.Issue, _: State) -> str:
    return f"goes on by issue {what.issue}, model {what.fingerprint}"


def _done(what: told.Done, state: State) -> str:
    wet = f", wet until {what.wet_until}" if what.wet_until else ""
    return f"{_step_or_steps(what.steps)} {steps_in_words(what.steps, state)} done{wet}"


def _undone(what: told.Undone, state: State) -> str:
    return f"{_step_or_steps(what.steps)} {steps_in_words(what.steps, state)} taken back"


def _part_done(what: told.PartDone, state: State) -> str:
    return f"step {steps_in_words((what.step,), state)} {state.halted(what)}"


def _skip(what: told.Skip, state: State) -> str:
    return f"step {steps_in_words((what.step,), state)} left out, allowed by {what.allowed_by}"


def _reading(what: told.Reading, _: State) -> str:
    round_ = f", round {what.round}" if what.round else ""
    place = f" at {what.place}" if what.place else ""
    gauge = f", with {what.gauge}" if what.gauge else ""
    return f"check {what.check}: {what.value}{place}{round_}{gauge}"


def _torque(what: told.Torque, _: State) -> str:
    place = f" at {what.place}" if what.place else ""
    wrench = f", wrench {what.wrench}" if what.wrench else ""
    return f"joint {what.joint}: {what.value}{place}{wrench}"


def _fitted(what: told.Fitted, _: State) -> str:
    return f"part {what.part}: {piece_in_words(what)}"


def piece_in_words(what: told.Fitted) -> str:
    """Say which piece of a part went in."""
    pieces = (
        ("no.", what.number),
        ("serial", what.serial),
        ("batch", what.batch),
        ("pack", what.pack),
        ("mark", what.mark),
        ("on mark", what.with_),
    )
    return ", ".join(f"{label} {value}" for label, value in pieces if value) or "fitted"


def _spoiled(what: told.Spoiled, state: State) -> str:
    at = f" in step {steps_in_words((what.step,), state)}" if what.step else ""
    return f"part {what.part} spoiled{at}"


def _short(what: told.Short, _: State) -> str:
    return f"part {what.part} awaited{f' until {what.until}' if what.until else ''}"


def _arrived(what: told.Arrived, _: State) -> str:
    return f"part {what.part} has come"


def _accept(what: told.Accept, _: State) -> str:
    return f"check {what.check} is used as it is"


def _sign(what: told.Sign, state: State) -> str:
    return f"{what.role} signs{f' step {steps_in_words((what.step,), state)}' if what.step else ''}"


def _correct(what: told.Correct, state: State) -> str:
    wrong = steps_in_words((what.step,), state) if what.step else ""
    how = f"counts as {what.value}" if what.value else f"counts without step {wrong}"
    why = f": {what.why}" if what.why else ""
    return f"entry {what.corrects} {how if what.value or wrong else 'does not count'}{why}"


def _note(what: told.Note, state: State) -> str:
    about = f"step {steps_in_words((what.step,), state)}: " if what.step else ""
    return f"{about}{what.text}"


def _stop(_: told.Stop, __: State) -> str:
    return "work stops"


def _step_or_steps(steps: Sequence[str]) -> str:
    return "step" if len(steps) == 1 else "steps"


_SAYINGS: dict[str, Callable[..., str]] = {
    "start": _start,
    "issue": _issue,
    "done": _done,
    "part-done": _part_done,
    "undone": _undone,
    "skip": _skip,
    "reading": _reading,
    "torque": _torque,
    "fitted": _fitted,
    "spoiled": _spoiled,
    "short": _short,
    "arrived": _arrived,
    "accept": _accept,
    "sign": _sign,
    "correct": _correct,
    "note": _note,
    "stop": _stop,
}
