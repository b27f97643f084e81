"""The state that a build log tells, and what of it a mend starts from.

`state_of` (in `replay`) makes a `State` from entries and a model.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records.coats import cleaning_for, worn_cleaning
from sequencer.records.sets import is_measured, missing
from sequencer.records.tightening import tightening_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.records.coats import Cleaning
    from sequencer.records.entries import Entry, Model, PartDone
    from sequencer.records.running import Running
    from sequencer.records.standing import Standing
    from sequencer.records.verdicts import Verdict


@dataclass(frozen=True, slots=True)
class Taken:
    """A reading with its verdict; `void` says why it does not count any more, where it does not."""

    entry: Entry
    check: str
    value: str
    round: int
    place: str
    gauge: str
    verdict: Verdict
    void: str = ""


@dataclass(frozen=True, slots=True)
class State:
    """What a log tells of one build; steps, checks and parts by their ids.

    Attributes
    ----------
    assembly : Assembly
        The model that it was read against.
    model : Model
        The model in the log that counts now: its text, fingerprint and printed order.
    unit : str
        The serial number of what is built, where it was given.
    entries : tuple of Entry
        What counts, in order, as corrected.
    corrections : mapping of int to tuple of Entry
        For the number of each corrected entry, what corrected it.
    done : tuple of str
        Steps of the model that are done, in the order in which they were. One done again in
        place keeps its turn; one taken back and done again has its new turn.
    done_by : mapping of str to Entry
        For each of them the last entry that says so.
    skipped : mapping of str to Entry
        Steps left out for good.
    part_done : mapping of str to PartDone
        Steps left in a pass. An interrupted pass begins again at the first fastener.
    readings : mapping of str to tuple of Taken
        For each check every reading, also of what the model does not know.
    accepted : mapping of str to Entry
        Checks whose findings are used as they are.
    torques : tuple of (Entry, Verdict)
        What joints were tightened to.
    signed : mapping of str to Entry
        For each step with a hold point that is signed and not voided since, the signature.
    roles : mapping of str to Entry
        Roles that signed for nothing in particular.
    voided : tuple of (str, Entry)
        Signatures that a step lost because it was taken back or done again.
    short : mapping of str to Entry
        Parts that are awaited.
    spoiled : mapping of str to Entry
        Parts that were spoiled, and have not been fitted anew since.
    wet : mapping of str to str
        Steps whose compound has not set, and when it has: as it was given.
    running : Running
        What runs on from the steps done, by the clock.
    strange : tuple of (int, str, str)
        Entry, kind and name of what the model does not have.
    standing : Standing
        How the unit stands after the steps done.
    number : mapping of str to int
        The printed number of each step.
    holds : tuple of (str, str)
        Steps that are done and whose hold point is not signed, each with the role.
    last_taken : mapping of str to str
        For each check the step done last that takes it.
    gating : frozenset of str
        Checks that steps come after by name.
    """

    assembly: Assembly
    model: Model
    unit: str
    entries: tuple[Entry, ...]
    corrections: Mapping[int, tuple[Entry, ...]]
    done: tuple[str, ...]
    done_by: Mapping[str, Entry]
    skipped: Mapping[str, Entry]
    part_done: Mapping[str, PartDone]
    readings: Mapping[str, tuple[Taken, ...]]
    accepted: Mapping[str, Entry]
    torques: tuple[tuple[Entry, Verdict], ...]
    signed: Mapping[str, Entry]
    roles: Mapping[str, Entry]
    voided: tuple[tuple[str, Entry], ...]
    short: Mapping[str, Entry]
    spoiled: Mapping[str, Entry]
    wet: Mapping[str, str]
    running: Running
    strange: tuple[tuple[int, str, str], ...]
    standing: Standing
    number: Mapping[str, int]
    holds: tuple[tuple[str, str], ...]
    last_taken: Mapping[str, str]
    gating: frozenset[str]

    @property
    def open(self) -> tuple[str, ...]:
        """The printed steps that are neither done nor left out, in printed order."""
        settled = {*self.done, *self.skipped}
        settled |= {
            link.to
            for choice in self.assembly.one_of
            if any(link.to in settled for link in choice.steps)
            for link in choice.steps
        }
        return tuple(step for step in self.model.order if step not in settled)

    @property
    def is_rest_point(self) -> bool:
        """Whether the job may be left as it stands: nothing loose, begun, barring or half tight."""
        return self.standing.is_rest_point and not self.part_done

    def halted(self, part: PartDone) -> str:
        """Say where the tightening of a step was left, and where it begins again."""
        return tightening_of(self.assembly, part.step).halted(part)

    def current(self, check: str) -> tuple[Taken, ...]:
        """Return the readings of a check that count: at each place the last, of the last round."""
        counting = [taken for taken in self.readings.get(check, ()) if not taken.void]
        in_rounds = sorted(counting, key=lambda taken: taken.round)  # stable: else as entered
        return tuple({taken.place: taken for taken in in_rounds}.values())

    def missing(self, check: Check) -> tuple[str, ...]:
        """Return the places at which a check is still to be read; `("",)` for the only one."""
        return missing(check, self.current(check.id)) if self.is_to_be_read(check) else ()

    def is_to_be_read(self, check: Check) -> bool:
        """Tell whether a check wants an answer: measured, or named by what comes after it."""
        return is_measured(check) or check.id in self.gating

    def failing(self, check: str) -> Taken | None:
        """Return a reading of a check after which work may not go on; None if there is none.

        A failed reading goes on failing until the check is read anew or accepted.
        """
        if check in self.accepted:
            return None
        return next((taken for taken in self.current(check) if not taken.verdict.ok), None)

    def taken_in(self, check: str) -> str | None:
        """Return the step done last that takes a check; None if none is done."""
        return self.last_taken.get(check)

    def failing_checks(self) -> Iterator[tuple[str, Taken]]:
        """Yield each check after which work may not go on, with the reading that says so."""
        for check in self.readings:
            taken = self.failing(check)
            if taken is not None:
                yield check, taken


@dataclass(frozen=True, slots=True)
class Mending:
    """What a mend starts from.

    Attributes
    ----------
    done : tuple of str
        Steps done, in the order in which they were done; those left out are not among them.
    redo : mapping of str to str
        Steps among them that have to come out and in again, each with the reason: the step to
        start again from after a failed check, those that fit a part to be renewed or spoiled,
        those that put on a compound which was closed too late.
    again : mapping of str to str
        Steps among them to be done afresh in place: they take a check that failed, or clean again.
    unfinished : mapping of str to str
        Steps begun and not done, with how far they got.
    spoiled : tuple of str
        Parts to get anew: spoiled, or to be renewed because a check failed.
    skipped : tuple of str
        Steps left out for good, with leave.
    cleaning : tuple of Cleaning
        What `again` cleans, and for what.
    model : str
        The text of the model that the unit was built by so far.
    fingerprint : str
        Its fingerprint.
    order : tuple of str
        The printed order, which numbers the steps.
    """

    done: tuple[str, ...]
    redo: Mapping[str, str]
    again: Mapping[str, str]
    unfinished: Mapping[str, str]
    spoiled: tuple[str, ...]
    skipped: tuple[str, ...]
    cleaning: tuple[Cleaning, ...]
    model: str
    fingerprint: str
    order: tuple[str, ...]


def mending(state: State) -> Mending:
    """Return what the log tells to one who plans a mend.

    A failed check asks for redoing until its step to start again from was done since, and for
    taking it again until it was; a spoiled part until all that fits it was taken back or redone.
    """
    redo: dict[str, str] = {}
    again: dict[str, str] = {}
    renewed: list[str] = []
    checks = {check.id: check for check in state.assembly.checks}
    for check, taken in state.failing_checks():
        follows = checks[check].else_ if check in checks else None
        last = state.taken_in(check)
        if last is not None and taken.verdict.word == "not valid":
            again[last] = f"check `{check}` does not count: {taken.verdict.why}"
        if taken.verdict.word not in ("renew", "again") or follows is None:
            continue
        why = f"check `{check}` failed: {taken.value.strip()}, {taken.verdict.why}"
        steps = [link.to for link in follows.again_from]
        if taken.verdict.word == "renew":
            steps = []
            for link in follows.renew:
                fitting = _fitted_before(state, link.to, taken.entry)
                steps += fitting
                renewed += [link.to] if fitting else []
        redo |= {step: why for step in steps if _done_before(state, step, taken.entry)}
        if last is not None and last not in redo:
            again[last] = why
    redo = {**overdue_in(state), **spoiled_in(state), **redo}
    cleaning = (
        *cleaning_for(state.assembly, state.running.order, redo),
        *worn_cleaning(state.assembly, state.done_by, state.entries),
    )
    again |= {one.step: one.said for one in reversed(cleaning)}  # the first says why
    return Mending(
        done=state.done,
        redo={step: redo[step] for step in state.done if step in redo},
        again={step: again[step] for step in state.done if step in again and step not in redo},
        unfinished={step: state.halted(part) for step, part in state.part_done.items()},
        spoiled=tuple(dict.fromkeys((*state.spoiled, *renewed))),
        skipped=tuple(state.skipped),
        cleaning=cleaning,
        model=state.model.text,
        fingerprint=state.model.fingerprint,
        order=state.model.order,
    )


def spoiled_in(state: State) -> dict[str, str]:
    """Return the steps done that fit a part which is spoiled in its place, each with why."""
    return {
        step: f"`{part}` was spoiled (entry {entry.number})"
        for part, entry in state.spoiled.items()
        for step in _fitted_before(state, part, entry)
    }


def overdue_in(state: State) -> dict[str, str]:
    """Return the steps done to be done afresh because another came too late, each with why."""
    return {one.since: one.said for one in state.running.overdue()}


def _done_before(state: State, step: str, entry: Entry) -> bool:
    done = state.done_by.get(step)
    return done is not None and done.number < entry.number


def _fitted_before(state: State, part: str, entry: Entry) -> list[str]:
    """Return the steps done before an entry that fit a part, or the one that the entry names."""
    named = getattr(entry.what, "step", "")
    return [
        step.id
        for step in state.assembly.steps
        if any(fit.part == part for fit in step.fits)
        and _done_before(state, step.id, entry)
        and named in ("", step.id)
    ]
