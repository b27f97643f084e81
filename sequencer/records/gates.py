"""Why a step has to wait by what the log tells: checks, hold points, parts, signatures.

What the order of the steps itself forbids is the planner's to say (`planning.onward`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.records.moments import clock_text
from sequencer.records.state import mending, overdue_in, spoiled_in

if TYPE_CHECKING:
    from collections.abc import Container, Iterator, Mapping
    from datetime import datetime

    from sequencer.model.checking import Check
    from sequencer.records.running import Until
    from sequencer.records.state import State, Taken


class Gates:
    """Tells for any step what it has to wait for by the log; what stops others is found once.

    Notes
    -----
    A check that failed, or was not read, stops what is printed after the step that takes it and
    belongs to the same unit, and the step that fits that unit; the steps to be redone are free.
    A spoiled part does the same from the step that fits it. A hold point that is not signed stops
    everything. At a moment, a step also waits for its `wait`, and for what it loads to set.
    """

    def __init__(self, state: State, now: datetime | None = None) -> None:
        self.state = state
        self.now = now
        self.steps = {step.id: step for step in state.assembly.steps}
        self.checks = {check.id: check for check in state.assembly.checks}
        self.labels = {part.id: part.label for part in state.assembly.parts}
        self.number = state.number
        self.mend = mending(state)
        self.stops = [*_of_checks(state), *_of_redo(state)]

    def of(self, step: str, before: Container[str] = ()) -> tuple[Problem, ...]:
        """Return why a step is out of turn, each reason as a warning; empty if it is not.

        `before` are steps that are recorded with it and done before it.
        """
        return (
            *self._done_already(step),
            *_of_holds(self.state, step),
            *self._stopped(step),
            *self._awaited(step),
            *self._too_soon(step),
            *self._to_be_read(step),
            *self._to_be_cleaned(step, before),
        )

    def _done_already(self, step: str) -> Iterator[Problem]:
        state, mend = self.state, self.mend
        if step in state.done_by and step not in mend.redo and step not in mend.again:
            entry = state.done_by[step]
            yield Problem(
                "done-already",
                "warning",
                f"{named(state, step)} is done already (entry {entry.number})",
                step=step,
                why="done again in place it keeps its turn; what was taken back is not done",
                fix=f"if it was taken back first, record that: `sequencer log undone {step}`",
            )

    def _stopped(self, step: str) -> Iterator[Problem]:
        if step in self.mend.redo or step in self.mend.again:
            return
        for stop in self.stops:
            if self._is_behind(step, stop.at):
                after = named(self.state, step)
                yield replace(stop.problem, step=step, why=f"{after} {stop.problem.why}")

    def _is_behind(self, step: str, at: str) -> bool:
        last = len(self.number)
        if self.number.get(step, last) <= self.number.get(at, last):
            return False
        doing, unit = self.steps[step], self.steps[at].unit
        return doing.unit == unit or any(fit.part == unit for fit in doing.fits)

    def _awaited(self, step: str) -> Iterator[Problem]:
        for part in dict.fromkeys(fit.part for fit in self.steps[step].fits):
            if part in self.state.short:
                until = getattr(self.state.short[part].what, "until", "")
                yield Problem(
                    "part-awaited",
                    "warning",
                    f"{named(self.state, step)} fits {self.labels[part]}, which is awaited"
                    + (f" until {until}" if until else ""),
                    step=step,
                    why="the log says that it is not there",
                    fix=f"if it has come, record that: `sequencer log arrived {part}`",
                )

    def _to_be_read(self, step: str) -> Iterator[Problem]:
        """Yield what has to be read before a step takes off what it is read with."""
        doing, state = self.steps[step], self.state
        off = {link.to for link in doing.takes_off}
        for link in doing.check if off else ():
            check = self.checks[link.to]
            shut = {way.to for one in check.needs_open for way in one.shut_by}
            if state.missing(check) and not shut & off:
                labels = " and ".join(self.labels[part] for part in self.labels if part in off)
                yield Problem(
                    "not-read",
                    "warning",
                    _missing(state, check, f" of {named(state, step)}"),
                    step=step,
                    why=f"it takes off {labels}: what is not read by then may be lost",
                    fix=_take_it(state, check),
                )

    def _to_be_cleaned(self, step: str, before: Container[str]) -> Iterator[Problem]:
        """Yield what has to be cleaned again before a step puts its compound on once more."""
        for one in self.mend.cleaning:
            if one.coat == step and step not in self.mend.redo and one.step not in before:
                yield Problem(
                    "clean-first",
                    "warning",
                    f"{named(self.state, step)} puts `{one.compound}` on once more, and "
                    f"{named(self.state, one.step)} was done before the first time",
                    step=step,
                    why=f"what is left of it on `{one.surface}` keeps the new from holding",
                    fix=f"do {named(self.state, one.step)} again, and record it",
                )

    def _too_soon(self, step: str) -> Iterator[Problem]:
        for until in self.state.running.waits(step) if self.now is not None else ():
            if self.now is not None and self.now < until.moment:
                yield _not_before(self.state, until, self.now)


def _not_before(state: State, until: Until, now: datetime) -> Problem:
    since = named(state, until.since)
    reason = f"{until.text} after {since}"
    why = until.why or "the model has it wait for that long"
    if until.compound:
        reason = f"`{until.compound}` needs {until.text} {until.what} after {since}"
        why = "loaded too soon, it lets go or leaks, and has to be done afresh"
    return Problem(
        "too-soon",
        "warning",
        f"{named(state, until.step)} not before {clock_text(until.moment, now)}: {reason}",
        step=until.step,
        why=why,
        fix="wait until then; if a time in the log is wrong, record it anew with --at",
    )


@dataclass(frozen=True, slots=True)
class _Stop:
    """What stops the steps behind one; the `why` of its problem follows on the step stopped."""

    at: str
    problem: Problem


def _of_holds(state: State, step: str) -> Iterator[Problem]:
    for held, role in state.holds:
        if held != step:
            typed = repr(role) if " " in role else role
            yield Problem(
                "hold-open",
                "warning",
                f"the hold point of {named(state, held)} is not signed: {role}",
                step=step,
                why="nothing goes on until that role has signed",
                fix=f"get the signature, and record it: `sequencer log sign {typed}`",
            )


def _of_checks(state: State) -> Iterator[_Stop]:
    """Yield what failed checks and missing readings stop, in the order of the model."""
    printed: dict[str, str] = {}
    taking = {step.id: [link.to for link in step.check] for step in state.assembly.steps}
    for step in state.model.order:
        for check in taking.get(step, ()):
            printed.setdefault(check, step)
    turn = {step: at for at, step in enumerate(state.done)}
    for model in state.assembly.checks:
        at = state.last_taken.get(model.id, printed.get(model.id))
        failing = state.failing(model.id)
        if at is not None and failing is not None:
            yield _failed(state, model, at, failing)
        elif at is not None and at in turn and _is_unread(state, model, turn[at], turn):
            yield _unread(state, model, at)


def _is_unread(state: State, check: Check, taken: int, turn: Mapping[str, int]) -> bool:
    """Tell whether readings are still to come, and nothing done since would have upset them."""
    if not state.missing(check):
        return False
    return not any(turn.get(link.to, -1) > taken for link in check.upset_by)


def _failed(state: State, check: Check, at: str, failing: Taken) -> _Stop:
    verdict = failing.verdict
    place = f" at {failing.place}" if failing.place else ""
    problem = Problem(
        "check-out",
        "warning",
        f"check `{check.id}` of {named(state, at)} stands at {failing.value.strip()}{place}: "
        f"{verdict.beside(failing.value)}",
        why="comes after it",
        fix=verdict.follow or "take the check again",
    )
    return _Stop(at, problem)


def standing_out(state: State) -> Iterator[Problem]:
    """Yield each failed check of which the model does not say what to do again."""
    for check, taken in state.failing_checks():
        verdict, at = taken.verdict, state.taken_in(check)
        if verdict.word in ("renew", "again", "not valid"):
            continue
        where = f", taken in `{at}`," if at else ""
        yield Problem(
            "check-out",
            "warning",
            f"check `{check}`{where} stands at {taken.value.strip()}: "
            f"{verdict.beside(taken.value)}",
            step=at,
            why=verdict.follow or "the model does not say what follows",
            fix="see to that first: nothing after it may go on",
        )


def _unread(state: State, check: Check, at: str) -> _Stop:
    problem = Problem(
        "not-read",
        "warning",
        _missing(state, check, f" of {named(state, at)}"),
        why="comes after it, and may bury it or change it",
        fix=_take_it(state, check),
    )
    return _Stop(at, problem)


def _missing(state: State, check: Check, where: str = "") -> str:
    """Say which readings of a check are still to come."""
    if not state.current(check.id):
        return f"no reading of check `{check.id}`{where} is recorded"
    return f"readings of check `{check.id}`{where} are missing: {', '.join(state.missing(check))}"


def _take_it(state: State, check: Check) -> str:
    place = state.missing(check)[0]
    name = f"{check.id}.{place}" if place else check.id
    typed = f"'{name}=…'" if " " in name else f"{name}=…"
    return f"take it, and record it: `sequencer log reading {typed}`"


def _of_redo(state: State) -> Iterator[_Stop]:
    for step, why in {**overdue_in(state), **spoiled_in(state)}.items():
        problem = Problem(
            "redo-first",
            "warning",
            f"{named(state, step)} has to be redone: {why}",
            why="comes after it, and may have to come out with it",
            fix="`sequencer revise` finds the least that has to come out",
        )
        yield _Stop(step, problem)


def named(state: State, step: str) -> str:
    """Name a step with its printed number."""
    number = state.number.get(step)
    return f"step {number} (`{step}`)" if number else f"`{step}`"
