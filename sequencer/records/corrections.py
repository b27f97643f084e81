"""What counts of a log: entries as corrected by later ones."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.records.entries import Correct, Done, Reading, Torque, Undone

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.records.entries import Entry, What


@dataclass(frozen=True, slots=True)
class Counting:
    """Entries that count, put right, and for each corrected entry what corrected it."""

    entries: tuple[Entry, ...]
    corrections: Mapping[int, tuple[Entry, ...]]


def counting(entries: Sequence[Entry]) -> Counting:
    """Return what counts of a log.

    A correction stands in the place of what it corrects, as if it had been written there at
    once. Corrections can be corrected; the first entry and later ones cannot.

    Examples
    --------
    >>> from sequencer.records.entries import Entry, Note
    >>> first = Entry(number=2, time="", what=Note(text="Oil in."))
    >>> wrong = Entry(number=3, time="", what=Correct(corrects=2))
    >>> [entry.number for entry in counting([first, wrong]).entries]
    [3]
    """
    found: defaultdict[int, list[Entry]] = defaultdict(list)
    for entry in reversed(entries):
        what = entry.what
        if entry.number in found or not isinstance(what, Correct):
            continue
        if 1 < what.corrects < entry.number:
            found[what.corrects].insert(0, entry)
    kept = []
    for entry in entries:
        right = _put_right(entry, found.get(entry.number, ()))
        if right is not None:
            kept.append(right)
    return Counting(tuple(kept), {number: tuple(by) for number, by in found.items()})


def _put_right(entry: Entry, corrections: Sequence[Entry]) -> Entry | None:
    """Return an entry as corrected; None if it does not count any more."""
    what: What | None = entry.what
    for correction in corrections:
        if what is not None and isinstance(correction.what, Correct):
            what = _changed(what, correction.what)
    return None if what is None else replace(entry, what=what)


def _changed(what: What, correct: Correct) -> What | None:
    if correct.value and isinstance(what, Reading | Torque):
        return replace(what, value=correct.value)
    if correct.step and isinstance(what, Done | Undone):
        steps = tuple(step for step in what.steps if step != correct.step)
        return replace(what, steps=steps) if steps else None
    return None
