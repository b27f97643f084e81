"""Whether a check could be taken as the unit stood when it was read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.records.moments import moment_in
from sequencer.records.standing import standing
from sequencer.records.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.records.entries import Entry


def shut_by(
    assembly: Assembly, check: Check, done: Mapping[str, Entry], moment: datetime | None = None
) -> str:
    """Say what shut every way to take a check; nothing where one was open.

    Parameters
    ----------
    assembly : Assembly
        The model.
    check : Check
        What was read.
    done : mapping of str to Entry
        The steps done in order, each with the last entry that says so. What stands in one entry
        with the step that takes the check, and after it there, was done after the reading: a
        ticked sheet is typed in first, and its readings then.
    moment : datetime, optional
        When it was read: steps done later do not count.
    """
    if not check.needs_open:
        return ""
    before = [step for step in _before_reading(assembly, check, done) if _by(done[step], moment)]
    on = standing(assembly, before).on
    shut = [
        (way.name, next((link.to for link in way.shut_by if on.get(link.to)), ""))
        for way in check.needs_open
    ]
    if not all(part for _, part in shut):
        return ""
    return " and ".join(f"“{way}” is shut by `{part}`" for way, part in shut)


def as_it_stood(
    assembly: Assembly,
    check: Check,
    done: Mapping[str, Entry],
    moment: datetime | None,
    verdict: Verdict,
) -> Verdict:
    """Return the verdict on a reading; one that could not be taken does not count."""
    by = shut_by(assembly, check, done, moment)
    if not by:
        return verdict
    return Verdict("not valid", f"read while {by}", "take that off, and read it again")


def _before_reading(assembly: Assembly, check: Check, done: Mapping[str, Entry]) -> list[str]:
    taking = {step.id for step in assembly.steps if any(link.to == check.id for link in step.check)}
    steps = list(done)
    last = max((at for at, step in enumerate(steps) if step in taking), default=-1)
    if last < 0:
        return steps
    sheet = done[steps[last]]
    return [step for at, step in enumerate(steps) if at <= last or done[step] is not sheet]


def _by(entry: Entry, moment: datetime | None) -> bool:
    happened = moment_in(entry.happened, moment)
    return moment is None or happened is None or happened <= moment
