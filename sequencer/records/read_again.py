"""A failed check that is read anew although nothing shows that anything was done about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.records.entries import Done, Fitted, Note, Sign, Undone
from sequencer.records.gates import named
from sequencer.records.sets import is_one_set

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.checking import Check
    from sequencer.records.entries import Entry, Reading
    from sequencer.records.state import State, Taken
    from sequencer.records.verdicts import Verdict

_TO_READ_ANEW = frozenset(("cannot be told", "not valid"))


def nothing_done_since(
    state: State, check: Check, what: Reading, verdict: Verdict
) -> Iterator[Problem]:
    """Yield that a reading is right now, where nothing shows that the fault was put right.

    Parameters
    ----------
    state : State
        What the log tells before the reading.
    check : Check
        What was read.
    what, verdict : Reading, Verdict
        The reading, and what it says.

    Notes
    -----
    Where the model has steps done again or parts renewed, the steps to start from, or those that
    fit the parts, have to be done since; of a part that no step fits, that another was fitted.
    Else a note, a signature, a part fitted, a step taken back, or the step that takes the check
    shows it. What could not be told, or did not count, is only to be read anew.
    """
    failed = _failed_before(state, check, what)
    if failed is None or not verdict.ok or failed.verdict.word in _TO_READ_ANEW:
        return
    lacking, fix = _lacking(state, check, failed)
    if not lacking:
        return
    number = failed.entry.number
    place = f" at {failed.place}" if failed.place else ""
    yield Problem(
        "nothing-done",
        "warning",
        f"check `{check.id}` failed{place} with {failed.value.strip()} (entry {number}: "
        f"{failed.verdict.word}), and {lacking} since",
        why="a fault does not go by being measured once more: one of the readings may be wrong",
        fix=f"{fix}; if the failed reading was misread: `sequencer log correct {number}`",
    )


def _failed_before(state: State, check: Check, what: Reading) -> Taken | None:
    """Return the failed reading that another takes the place of."""
    if check.id in state.accepted:
        return None
    place = what.place.strip()
    taken = (one for one in state.current(check.id) if not one.verdict.ok)
    return next((o for o in taken if o.place == place or is_one_set(check, o.place, place)), None)


def _lacking(state: State, check: Check, failed: Taken) -> tuple[str, str]:
    """Say what is not recorded since a check failed, and what to do; nothing if all is."""
    since = [entry for entry in state.entries if entry.number > failed.entry.number]
    steps, parts = _asked_for(state, check, failed)
    left = [step for step in steps if not _is_done(since, step)]
    if left:
        names = " and ".join(named(state, step) for step in left)
        again = f"{'was' if len(left) == 1 else 'were'} not done again"
        return f"{names} {again}", f"record what was done: `sequencer log done {' '.join(left)}`"
    bare = [part for part in parts if not _is_fitted(since, part)]
    if bare:
        names = " and ".join(f"`{part}`" for part in bare)
        fix = f"record what was fitted: `sequencer log fitted {bare[0]}`"
        return f"{names} {'was' if len(bare) == 1 else 'were'} not fitted anew", fix
    if steps or parts or any(_tells(state, check, entry) for entry in since):
        return "", ""
    return (
        "nothing that was done about it is recorded",
        "note what was done: `sequencer log note …`",
    )


def _asked_for(state: State, check: Check, failed: Taken) -> tuple[list[str], list[str]]:
    """Return the steps that the model has done again, and the parts renewed that no step fits."""
    other, word = check.else_, failed.verdict.word
    if other is None or word not in ("again", "renew"):
        return [], []
    if word == "again":
        return [link.to for link in other.again_from], []
    renewed = [link.to for link in other.renew]
    fitting = {
        step.id: {fit.part for fit in step.fits} & {*renewed} for step in state.assembly.steps
    }
    steps = [step for step, parts in fitting.items() if parts and step in state.done_by]
    fitted = {part for step in steps for part in fitting[step]}
    return steps, [part for part in renewed if part not in fitted]


def _is_done(since: list[Entry], step: str) -> bool:
    return any(isinstance(one.what, Done) and step in one.what.steps for one in since)


def _is_fitted(since: list[Entry], part: str) -> bool:
    return any(isinstance(one.what, Fitted) and one.what.part == part for one in since)


def _tells(state: State, check: Check, entry: Entry) -> bool:
    """Tell whether an entry shows that something was done about a check."""
    if isinstance(entry.what, Done):
        taking = {s.id for s in state.assembly.steps if any(to.to == check.id for to in s.check)}
        return not taking.isdisjoint(entry.what.steps)
    return isinstance(entry.what, Note | Sign | Fitted | Undone)
