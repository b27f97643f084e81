"""Why a step has to wait by what the log tells: checks, hold points, parts, signatures.

What the order of the steps itself forbids is the planner's to say (`planning.onward`).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.records.state import mending, spoiled_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.records.entries import Entry
    from sequencer.records.state import State, Taken


def gates(state: State, step: str) -> tuple[Problem, ...]:
    """Return why a step is out of turn by the log, each reason as a warning; empty if it is not.

    Parameters
    ----------
    state : State
        What the log tells so far.
    step : str
        A step of the model.

    Notes
    -----
    A check that failed, or was not read, stops what is printed after the step that takes it and
    belongs to the same unit, and the step that fits that unit; the steps to be redone are free.
    A spoiled part does the same from the step that fits it. A hold point that is not signed stops
    everything.
    """
    steps = {known.id: known for known in state.assembly.steps}
    doing = steps[step]
    return (
        *_done_already(state, step),
        *_holds(state, step),
        *_checks(state, doing),
        *_spoiled(state, doing),
        *_awaited(state, doing),
    )


def _done_already(state: State, step: str) -> Iterator[Problem]:
    mend = mending(state)
    if step in state.done and step not in mend.redo and step not in mend.again:
        entry = state.done_by[step]
        yield Problem(
            "done-already",
            "warning",
            f"{named(state, step)} is done already (entry {entry.number})",
            step=step,
            why="done a second time in place it keeps its turn; what was taken back is not done",
            fix=f"if it was taken back first, record that: `sequencer log undone {step}`",
        )


def _holds(state: State, step: str) -> Iterator[Problem]:
    for held, role in state.holds:
        if held != step:
            yield Problem(
                "hold-open",
                "warning",
                f"the hold point of {named(state, held)} is not signed: {role}",
                step=step,
                why="nothing goes on until that role has signed",
                fix=f"get the signature, and record it: `sequencer log sign {role!r}`"
                if " " in role
                else f"get the signature, and record it: `sequencer log sign {role}`",
            )


def _checks(state: State, doing: Step) -> Iterator[Problem]:
    freed = {*mending(state).redo, *mending(state).again}
    if doing.id in freed:
        return
    for check in state.assembly.checks:
        at = _taken_at(state, check)
        if at is None or not _is_behind(state, doing, at):
            continue
        failing = state.failing(check.id)
        if failing is not None:
            yield _failed(state, doing, check, at, failing)
        elif at in state.done_by and _is_unread(state, check, at):
            yield _unread(state, doing, check, at)


def _taken_at(state: State, check: Check) -> str | None:
    """Return the step that took a check last, or else the first printed that takes it."""
    last = state.taken_in(check.id)
    if last is not None:
        return last
    taking = {s.id for s in state.assembly.steps if any(link.to == check.id for link in s.check)}
    return next((step for step in state.model.order if step in taking), None)


def _is_behind(state: State, doing: Step, at: str) -> bool:
    number = state.number
    last = len(number)
    if number.get(doing.id, last) <= number.get(at, last):
        return False
    taker = next(step for step in state.assembly.steps if step.id == at)
    return doing.unit == taker.unit or any(fit.part == taker.unit for fit in doing.fits)


def _is_unread(state: State, check: Check, at: str) -> bool:
    """Tell whether a measurement has no reading, and nothing done since would have upset it."""
    is_measured = bool(check.measure or check.limit)
    if not is_measured or state.current(check.id):
        return False
    turn = state.done.index(at)
    return not any(link.to in state.done[turn + 1 :] for link in check.upset_by)


def _failed(state: State, doing: Step, check: Check, at: str, failing: Taken) -> Problem:
    verdict = failing.verdict
    place = f" at {failing.place}" if failing.place else ""
    return Problem(
        "check-out",
        "warning",
        f"check `{check.id}` of {named(state, at)} stands at {failing.value.strip()}{place}: "
        f"{verdict.said}",
        step=doing.id,
        why=f"{named(state, doing.id)} comes after it",
        fix=verdict.follow or "take the check again",
    )


def _unread(state: State, doing: Step, check: Check, at: str) -> Problem:
    return Problem(
        "not-read",
        "warning",
        f"no reading of check `{check.id}` of {named(state, at)} is recorded",
        step=doing.id,
        why=f"{named(state, doing.id)} comes after it, and may bury it or change it",
        fix=f"take it, and record it: `sequencer log reading {check.id}=…`",
    )


def _spoiled(state: State, doing: Step) -> Iterator[Problem]:
    """Yield what has to be redone because of a spoiled part, where a step comes after that."""
    mend = mending(state)
    if doing.id in mend.redo or doing.id in mend.again:
        return
    for step, why in spoiled_in(state).items():
        if _is_behind(state, doing, step):
            yield Problem(
                "redo-first",
                "warning",
                f"{named(state, step)} has to be redone: {why}",
                step=doing.id,
                why=f"{named(state, doing.id)} comes after it, and may have to come out with it",
                fix="`sequencer revise` finds the least that has to come out",
            )


def _awaited(state: State, doing: Step) -> Iterator[Problem]:
    labels = {part.id: part.label for part in state.assembly.parts}
    for part in dict.fromkeys(fit.part for fit in doing.fits):
        if part in state.short:
            until = getattr(state.short[part].what, "until", "")
            yield Problem(
                "part-awaited",
                "warning",
                f"{named(state, doing.id)} fits {labels[part]}, which is awaited"
                + (f" until {until}" if until else ""),
                step=doing.id,
                why="the log says that it is not there",
                fix=f"if it has come, record that: `sequencer log arrived {part}`",
            )


def check_gates(state: State, check: str) -> tuple[Problem, ...]:
    """Return why a reading of a check would not be valid now: no way to take it is open."""
    model = next((known for known in state.assembly.checks if known.id == check), None)
    if model is None or not model.needs_open:
        return ()
    shut = [
        (way.name, next((link.to for link in way.shut_by if state.standing.on.get(link.to)), None))
        for way in model.needs_open
    ]
    if any(part is None for _, part in shut):
        return ()
    by = " and ".join(f"“{way}” is shut by `{part}`" for way, part in shut)
    return (
        Problem(
            "not-valid",
            "warning",
            f"check `{check}` cannot be taken as the unit stands: {by}",
            why="what is read now is not what the check asks for",
            fix="take off what shuts it before reading, or have it accepted by whoever may",
        ),
    )


def named(state: State, step: str) -> str:
    """Name a step with its printed number."""
    number = state.number.get(step)
    return f"step {number} (`{step}`)" if number else f"`{step}`"


def twice(state: State, part: str, serial: str) -> tuple[Problem, ...]:
    """Return an objection where a serial number is recorded for another part already."""
    earlier: Mapping[str, Entry] = {
        getattr(entry.what, "part", ""): entry
        for entry in state.entries
        if serial and getattr(entry.what, "serial", "") == serial
    }
    other = next(((name, entry) for name, entry in earlier.items() if name != part), None)
    if other is None:
        return ()
    name, entry = other
    return (
        Problem(
            "serial-twice",
            "warning",
            f"serial {serial} is recorded for `{name}` already (entry {entry.number})",
            why="one piece has one place: one of the two entries is wrong",
            fix="read the number again; correct the earlier entry if that is the wrong one",
        ),
    )
