"""What a build did otherwise than its packet says, for the head of the as-built record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.planning.moves import kept_in_place
from sequencer.records import entries as told
from sequencer.records.describe import described, moment
from sequencer.sheets.names import name_of, worded
from sequencer.sheets.words import listed, runs_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.records.entries import Entry
    from sequencer.records.state import State
    from sequencer.sheets.job import Job

_BY_NATURE = (
    told.PartDone,
    told.Undone,
    told.Skip,
    told.Accept,
    told.Spoiled,
    told.Short,
    told.Issue,
)


@dataclass(frozen=True, slots=True)
class Deviation:
    """One deviation: its entry's number (None: it follows from several), when, by whom, what."""

    entry: int | None
    when: str
    by: str
    what: str


def deviations(job: Job, state: State) -> tuple[Deviation, ...]:
    """Return every deviation, in the order of the entries, then those of the whole."""
    found: dict[int, list[str]] = {}
    for entry in state.entries:
        notes = [
            *_of_entry(entry, state),
            *(f"recorded although {worded(job, d)}" for d in entry.despite),
        ]
        if notes:
            found[entry.number] = notes
    for number, note in _of_measures(job, state):
        found.setdefault(number, []).append(note)
    by_number = {entry.number: entry for entry in state.entries}
    rows = [_row(by_number[number], "; ".join(found[number])) for number in sorted(found)]
    return (*rows, *(Deviation(None, "", "", text) for text in _of_the_whole(job, state)))


def _row(entry: Entry, what: str) -> Deviation:
    return Deviation(entry.number, moment(entry.happened), entry.by, what)


def _of_entry(entry: Entry, state: State) -> Iterator[str]:
    if isinstance(entry.what, (*_BY_NATURE, told.Correct)) or entry.despite:
        yield described(entry, state)


def _of_measures(job: Job, state: State) -> Iterator[tuple[int, str]]:
    for check, readings in state.readings.items():
        for taken in readings:
            if not taken.verdict.ok:
                found = f"{taken.value.strip()}: {taken.verdict.beside(taken.value)}"
                yield taken.entry.number, f"check {name_of(job, check)}: {found}"
    for entry, verdict in state.torques:
        if not verdict.ok and isinstance(entry.what, told.Torque):
            joint = name_of(job, entry.what.joint)
            yield entry.number, f"joint {joint}: {entry.what.value}: {verdict.said}"
    for step, signature in state.voided:
        number = state.number.get(step)
        yield signature.number, f"this signature for step {number or step} became void later"


def _of_the_whole(job: Job, state: State) -> Iterator[str]:
    ranks = [state.number[step] for step in state.done if step in state.number]
    kept = set(kept_in_place(ranks))
    moved = [rank for at, rank in enumerate(ranks) if at not in kept]
    if moved:
        yield f"Done in another order than printed: {_steps(moved)}."
    if state.open:
        left = [state.number[step] for step in state.open]
        yield f"Not done when this was printed: {_steps(left)}."
    failing = [check for check, _ in state.failing_checks()]
    if failing:
        checks = listed([f"check {name_of(job, name)}" for name in failing])
        yield f"Not passed when this was printed: {checks}."


def _steps(numbers: list[int]) -> str:
    return f"step{'s' if len(numbers) > 1 else ''} {runs_of(numbers)}"
