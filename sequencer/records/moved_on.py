"""What comes too late by the log: steps after their time, readings after what upsets them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.records.gates import named
from sequencer.records.moments import moment_in
from sequencer.records.reachable import shut_by
from sequencer.records.sets import check_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from datetime import datetime

    from sequencer.model.checking import Check
    from sequencer.records.entries import Entry
    from sequencer.records.running import Overdue
    from sequencer.records.state import State


def too_late(state: State, step: str, now: datetime) -> Iterator[Problem]:
    """Yield what a step comes too late for, done at this moment."""
    for one in state.running.too_late(step, now):
        yield _late(state, one)


def _late(state: State, one: Overdue) -> Problem:
    until, since = named(state, one.until), named(state, one.since)
    message = f"{until} begins {one.by} too late after {since}: do that afresh"
    why = f"it was to begin within {one.text}, and what {since} has done does not last"
    if one.compound:
        message = (
            f"{until} closed `{one.compound}` of {since} {one.by} too late: "
            "strip it and do it afresh"
        )
        why = f"it stays open for {one.text}; by then it has a skin"
    fix = (
        "recorded so, it is to be redone: `sequencer revise` finds the least that has to come out; "
        "if a time in the log is wrong, record it anew with --at"
    )
    return Problem("too-late", "warning", message, step=one.until, why=why, fix=fix)


def untold_times(state: State, entries: Sequence[Entry] = ()) -> Iterator[Problem]:
    """Yield what nobody can tell of times, because steps were recorded in one go.

    With entries of steps done, it is what these would add. What can hardly have been in time is a
    warning, a wait that nothing shows a note.
    """
    running = state.running.with_done(entries) if entries else state.running
    steps = [step for entry in entries for step in getattr(entry.what, "steps", ())]
    for one in running.untimed():
        if not entries or one.until in steps:
            yield Problem(
                "time-unknown",
                "warning" if one.least else "note",
                f"{named(state, one.since)} and {named(state, one.until)} {one.said}",
                step=one.until,
                why="a ticked sheet says that both were done, not when",
                fix="if you know when, record them one by one, each with --at",
            )


def check_gates(state: State, check: str, now: datetime | None = None) -> tuple[Problem, ...]:
    """Return why a reading of a check would not be valid now.

    No way to take it is open, or what upsets it was done since.
    """
    model = check_of(state.assembly, check)
    if model is None:
        return ()
    return (*_of_ways(state, model, now), *_of_upsets(state, model, now))


def _of_upsets(state: State, check: Check, now: datetime | None) -> Iterator[Problem]:
    """Yield that what upsets a check was done after the last step that takes it.

    A step still to be done that takes it later on takes it anew.
    """
    turn = {step: at for at, step in enumerate(state.done)}
    upsets = [link.to for link in check.upset_by if link.to in turn]
    upset = max(upsets, key=turn.__getitem__, default="")
    takers = [one.id for one in state.assembly.steps if any(to.to == check.id for to in one.check)]
    last = len(state.number)
    if not upset or any(turn.get(taker, -1) > turn[upset] for taker in takers):
        return
    if any(
        taker not in turn and state.number.get(taker, -1) > state.number.get(upset, last)
        for taker in takers
    ):
        return
    since = moment_in(state.done_by[upset].happened)
    if now is not None and since is not None and now < since:
        return
    yield Problem(
        "not-valid",
        "warning",
        f"check `{check.id}` is upset by {named(state, upset)}, which is done: "
        "a reading now is not valid",
        why="what is read now is not what the check asks for",
        fix="take that back before reading; if it was read before that, record it with --at",
    )


def _of_ways(state: State, model: Check, now: datetime | None) -> tuple[Problem, ...]:
    by = shut_by(state.assembly, model, state.done_by, now)
    if not by:
        return ()
    return (
        Problem(
            "not-valid",
            "warning",
            f"check `{model.id}` cannot be taken as the unit stands: {by}",
            why="what is read now is not what the check asks for, and does not count",
            fix="take off what shuts it before reading; if it was read before that, record it "
            "with --at",
        ),
    )
