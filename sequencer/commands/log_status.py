"""What `sequencer log status` says, as text and as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.commands.log_names import numbered
from sequencer.commands.log_next import labelled
from sequencer.records.gates import named
from sequencer.records.moved_on import untold_times
from sequencer.records.pieces import crossed_pairs, serials_missing
from sequencer.records.running import wet_at
from sequencer.records.state import mending
from sequencer.sheets.words import runs_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from datetime import datetime

    from sequencer.commands.log_next import Next
    from sequencer.problem import Problem
    from sequencer.records.state import State

_MOST = 8  # lines under one heading


@dataclass(frozen=True, slots=True)
class Unrest:
    """Why the job may not be left as it stands: each reason in words."""

    reasons: tuple[str, ...]


def unrest(state: State) -> Unrest:
    """Return why the job may not be left as it stands; without reasons it may."""
    stands = state.standing
    return Unrest(
        (
            *(f"{named(state, step)} is left loose" for step in stands.loose),
            *(f"`{name}` is loosened" for name in stands.loosened),
            *(f"begun and not finished: {numbered(left, state)}" for left in stands.begun),
            *(f"“{name}” lasts" for name in stands.barring),
            *(
                f"{named(state, step)} {state.halted(part)}"
                for step, part in state.part_done.items()
            ),
        )
    )


def waits(state: State, now: datetime | None = None) -> list[dict[str, str]]:
    """Return what the job waits for: signatures, parts, compounds that have not set."""
    return [
        *({"for": "hold", "step": step, "role": role} for step, role in state.holds),
        *(
            {"for": "part", "part": part, "until": getattr(entry.what, "until", "")}
            for part, entry in state.short.items()
        ),
        *(
            {"for": "cure", "step": step, "until": until}
            for step, until in wet_at(state, now).items()
        ),
    ]


def as_values(state: State, coming: Next, now: datetime | None = None) -> dict[str, object]:
    """Return the status as plain values."""
    mend, stands = mending(state), state.standing
    return {
        "assembly": state.model.assembly,
        "issue": state.model.issue,
        "fingerprint": state.model.fingerprint,
        "unit": state.unit,
        "done": list(state.done),
        "skipped": list(state.skipped),
        "open": list(state.open),
        "part_done": {
            step: {"pass": part.pass_, "count": part.count, "of": part.of}
            for step, part in state.part_done.items()
        },
        "next": list(coming.steps),
        "dead_end": coming.dead_end,
        "waiting": waits(state, now),
        "out": _out(state),
        "unread": unread(state),
        "half_read": half_read(state),
        "serials_missing": serials_missing(state),
        "crossed": list(crossed_pairs(state)),
        "redo": dict(mend.redo),
        "again": dict(mend.again),
        "spoiled": list(mend.spoiled),
        "time_unknown": [one.message for one in _untimed(state)],
        "rest_point": state.is_rest_point,
        "loose": [*stands.loose, *stands.loosened],
        "begun": [list(left) for left in stands.begun],
        "lasting": list(stands.lasting),
        "aids": list(stands.aids),
        "strange": [
            {"entry": number, "kind": kind, "name": name} for number, kind, name in state.strange
        ],
    }


def _out(state: State) -> list[dict[str, object]]:
    return [
        {
            "check": check,
            "step": state.taken_in(check),
            "value": taken.value,
            "place": taken.place,
            "verdict": taken.verdict.word,
            "why": taken.verdict.why,
            "follow": taken.verdict.follow,
        }
        for check, taken in state.failing_checks()
    ]


def unread(state: State) -> list[str]:
    """Return the checks of steps that are done of which no reading is recorded."""
    return [
        check.id
        for check in state.assembly.checks
        if state.is_to_be_read(check)
        and state.taken_in(check.id) is not None
        and not state.readings.get(check.id)
    ]


def half_read(state: State) -> dict[str, list[str]]:
    """Return the checks of which some readings are recorded and others are still to come."""
    return {
        check.id: list(state.missing(check))
        for check in state.assembly.checks
        if state.current(check.id) and state.missing(check)
    }


def _untimed(state: State) -> list[Problem]:
    """Return what can hardly have been in time, by the times of the model."""
    return [one for one in untold_times(state) if one.severity == "warning"]


def as_text(state: State, coming: Next, now: datetime | None = None) -> str:
    """Return the status for people."""
    return "\n".join(_lines(state, coming, now))


def _lines(state: State, coming: Next, now: datetime | None) -> Iterator[str]:
    model = state.model
    unit = f", unit {state.unit}" if state.unit else ""
    title = state.assembly.title
    yield f"{title}, issue {model.issue}, model {model.fingerprint}{unit}"
    yield f"done: {len(state.done)} of {len(model.order)}{_in_runs(state, state.done)}"
    if state.skipped:
        yield f"left out{_in_runs(state, tuple(state.skipped))}"
    for step, part in state.part_done.items():
        yield f"begun: {named(state, step)} {state.halted(part)}"
    yield f"open: {len(state.open)}{_in_runs(state, state.open)}"
    yield from _told("out of limit", _out_lines(state))
    yield from _told("no reading recorded", unread(state))
    half = half_read(state).items()
    yield from _told("readings missing", [f"{check}: {', '.join(left)}" for check, left in half])
    lacking = serials_missing(state).items()
    yield from _told("serial numbers missing", [f"{left} of {part}" for part, left in lacking])
    yield from _told("crossed", crossed_pairs(state))
    yield from _to_mend(state)
    yield from _told("time not known", [one.message for one in _untimed(state)])
    yield from _told("waiting for", map(_waited, waits(state, now)))
    yield from _told("not in the model", (f"{k} `{n}` (entry {at})" for at, k, n in state.strange))
    yield from _next_lines(state, coming)
    reasons = unrest(state).reasons
    yield "rest point: no" if reasons else "rest point: yes, the job may be left as it stands"
    yield from (f"  {reason}" for reason in reasons)
    yield from _told("aids still in the unit", state.standing.aids)


def _to_mend(state: State) -> Iterator[str]:
    mend = mending(state)
    yield from _told("to be redone", (f"{named(state, s)}: {why}" for s, why in mend.redo.items()))
    cleaning = {one.step for one in mend.cleaning}
    again = {step: f"{named(state, step)}: {why}" for step, why in mend.again.items()}
    yield from _told("check again", [told for step, told in again.items() if step not in cleaning])
    yield from _told("clean again", [told for step, told in again.items() if step in cleaning])
    yield from _told("to get anew", mend.spoiled)


def _in_runs(state: State, steps: Sequence[str]) -> str:
    """Return the numbers of steps in brackets, those in a row by their ends."""
    numbers = [state.number[step] for step in steps if step in state.number]
    others = [f"`{step}`" for step in steps if step not in state.number]
    told = ", ".join(filter(None, (runs_of(numbers), *others)))
    return f" (step{'' if len(steps) == 1 else 's'} {told})" if told else ""


def _out_lines(state: State) -> Iterator[str]:
    for check, taken in state.failing_checks():
        at = state.taken_in(check)
        where = f" of {named(state, at)}" if at else ""
        place = f" at {taken.place}" if taken.place else ""
        verdict = taken.verdict
        follow = f"; {verdict.follow}" if verdict.follow else ""
        said = f"{verdict.beside(taken.value)}{follow}"
        yield f"{check}{where}: {taken.value.strip()}{place}: {said}"


def _waited(wait: Mapping[str, str]) -> str:
    if wait["for"] == "hold":
        return f"the signature of {wait['role']} for `{wait['step']}`"
    until = f", until {wait['until']}" if wait["until"] else ""
    if wait["for"] == "part":
        return f"part {wait['part']}{until}"
    return f"what was applied in `{wait['step']}` to set{until}"


def _told(label: str, lines: Iterator[str] | Sequence[str] | map[str]) -> Iterator[str]:
    told = list(lines)
    if len(told) == 1:
        yield f"{label}: {told[0]}"
    elif told:
        yield f"{label}:"
        yield from (f"  {line}" for line in told[:_MOST])
        if len(told) > _MOST:
            yield f"  and {len(told) - _MOST} more (all with --json)"


def _next_lines(state: State, coming: Next) -> Iterator[str]:
    if coming.steps:
        yield "next:"
        yield from (labelled(state, step) for step in coming.steps)
    elif not state.open:
        yield "next: nothing, every step is done or left out"
    else:
        yield "next: nothing, as it stands"
    held_up = [f"{reason.message}; {reason.fix}" for reason in coming.waiting]
    yield from (f"  held up: {reason}" for reason in held_up[:_MOST])
    if len(held_up) > _MOST:
        yield f"  held up: and for {len(held_up) - _MOST} more reasons"
