"""What runs on between the entries of a log: what has to set, and what has to be in time.

The rules are the planner's (`planning.timing`); here the clock shows when the steps were ticked.
An entry tells when its steps were done at the latest, so that two steps in one entry are not judged
against each other; what can be said of them is in `untimed`.
"""

from __future__ import annotations

from copy import copy
from datetime import datetime, timedelta
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.compiling import compile_network
from sequencer.planning.timing.along import Along
from sequencer.planning.timing.clock import lasting, seconds_in, timed, timed_links, typed
from sequencer.planning.timing.curing import loaded, setting_of
from sequencer.planning.timing.windows import in_time, opened
from sequencer.records.moments import clock_text, moment_in, to_the_minute
from sequencer.records.untimed import untimed

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.timing.clock import Timed
    from sequencer.planning.timing.coats import Coat
    from sequencer.records.entries import Entry
    from sequencer.records.state import State
    from sequencer.records.untimed import Untimed


class Until(NamedTuple):
    """A step that may not be done before a moment, and since which step that counts.

    `text` is the time as typed, `what` what it is for. Without a compound it is the model's own
    `wait`.
    """

    step: str
    since: str
    moment: datetime
    text: str
    what: str = ""
    compound: str = ""
    surface: str = ""
    why: str = ""


class Overdue(NamedTuple):
    """A step that came too late after another, by the log.

    With a compound `until` closed what `since` has put on, else it was to begin in time.
    """

    since: str
    until: str
    passed: Fraction
    allowed: Fraction
    text: str
    compound: str = ""

    @property
    def by(self) -> str:
        """How much too late it was, in words."""
        return lasting(self.passed - self.allowed)

    @property
    def said(self) -> str:
        """What was too late, as a reason to do it afresh."""
        if self.compound:
            return (
                f"`{self.compound}` stays open for {self.text} and was closed after "
                f"{lasting(self.passed)}, {self.by} too late: strip it and do it afresh"
            )
        return (
            f"`{self.until}` was to begin within {self.text} of it and was {self.by} too late: "
            "do it afresh"
        )


class Running:
    """The steps done, each when it was done last, and what runs on from them.

    Notes
    -----
    Whoever ticks a step has ended it, and began it at the latest then. So a step counts as too
    soon only where even its end is, and as begun too late only where that is sure by its own time.
    """

    def __init__(self, assembly: Assembly, done: Mapping[str, Entry]) -> None:
        self._assembly = assembly
        self._entries = dict(sorted(done.items(), key=lambda item: _turn(*item)))
        self.says_times = bool(assembly.compounds) or next(timed_links(assembly), None) is not None
        if self.says_times:
            self._model = timed(assembly, compile_network(assembly))
            self._index = self._model.network.index
            self._waiting = {
                after
                for stated in self._model.stated
                if stated.link.wait is not None
                for after in stated.afters
            }

    @property
    def order(self) -> tuple[str, ...]:
        """The steps done, in the order in which each was done last."""
        return tuple(self._entries)

    def waits(self, step: str) -> tuple[Until, ...]:
        """Return what a step still to be done waits for, if it were done next; past or not."""
        if not self.says_times:
            return ()
        number = self._index[step]
        if not self._assembly.steps[number].loads and number not in self._waiting:
            return ()
        along = self._along(step, None)
        return (*_waited(along, number), *_loading(along, number))

    def too_late(self, step: str, now: datetime) -> tuple[Overdue, ...]:
        """Return what a step would close or begin too late, done at this moment."""
        if not self.says_times:
            return ()
        return tuple(one for one in _overdue(self._along(step, now)) if one.until == step)

    def overdue(self) -> tuple[Overdue, ...]:
        """Return what was closed or begun too late, and has not been done afresh since."""
        return tuple(_overdue(self._along())) if self.says_times else ()

    def untimed(self) -> tuple[Untimed, ...]:
        """Return what nobody can tell of steps that were recorded in one go."""
        return tuple(untimed(self._along())) if self.says_times else ()

    def with_done(self, entries: Sequence[Entry]) -> Running:
        """Return the same with more entries of steps done."""
        more = copy(self)
        new = {step: entry for entry in entries for step in getattr(entry.what, "steps", ())}
        more._entries = {**self._entries, **new}  # noqa: SLF001  # of this class
        for step in new:
            more._entries[step] = more._entries.pop(step)  # noqa: SLF001  # likewise
        return more

    def setting(self, now: datetime | None) -> dict[str, datetime]:
        """Return the steps done whose compounds have not set, and when they will have.

        Without a moment to compare with, all that have to set are given.
        """
        found: dict[str, datetime] = {}
        if not self.says_times:
            return found
        along = self._along()
        settings = {one.id: setting_of(one, self._assembly) for one in self._assembly.compounds}
        for coat in along.coats.on:
            since = _set_since(along, coat)
            until = along.until(coat, since, settings[coat.compound.id].seconds)
            if until is None or coat.gone < len(along.order) or not _is_left(until, now):
                continue
            step = along.id(coat.step)
            if settings[coat.compound.id].seconds and not along.says_wet(coat.step):
                found[step] = max(until, found.get(step, until))
        return found

    def _along(self, step: str = "", now: datetime | None = None) -> Logged:
        """Return the steps done, and perhaps one more at a moment."""
        ended = {
            self._index[name]: moment_in(entry.happened)
            for name, entry in self._entries.items()
            if name != step
        }
        entries = {self._index[n]: entry for n, entry in self._entries.items() if n != step}
        if step:
            ended[self._index[step]] = now
        return Logged(self._model, ended, entries)


def wet_at(state: State, now: datetime | None) -> dict[str, str]:
    """Return the steps whose compounds have not set at a moment, and when they will have.

    What an entry says itself comes first; it never passes by itself, for it may be any words.
    """
    setting = state.running.setting(now)
    return {**{step: clock_text(at, now) for step, at in setting.items()}, **state.wet}


class Logged(Along):
    """The order of the log with its own clock, in seconds."""

    def __init__(
        self,
        model: Timed,
        ended: Mapping[int, datetime | None],
        entries: Mapping[int, Entry],
    ) -> None:
        super().__init__(model, tuple(ended))
        self.ended = ended
        self.entries = entries
        for step, moment in ended.items():
            seconds = Fraction(0) if moment is None else Fraction(moment.timestamp())
            self.clock.begins[step] = self.clock.ends[step] = seconds

    def is_one_entry(self, since: int, until: int) -> bool:
        """Tell whether two steps were recorded by one entry."""
        return since in self.entries and self.entries.get(until) is self.entries[since]

    def says_when(self, *steps: int) -> bool:
        """Tell whether it was said of any of the steps when it was done."""
        return any(step in self.entries and self.entries[step].at for step in steps)

    def between(self, since: int, until: int) -> Fraction | None:
        """Return the time from the end of a step to that of another; None if nobody knows."""
        first, last = self.ended[since], self.ended[until]
        if first is None or last is None or self.is_one_entry(since, until):
            return None
        return Fraction(last.timestamp()) - Fraction(first.timestamp())

    def until(self, coat: Coat, since: int, seconds: Fraction) -> datetime | None:
        """Return when a coat has set: as the log says, or so long after the step; None: unknown."""
        return self._said(coat.step) or self._said(since) or self.after(since, seconds)

    def after(self, since: int, seconds: Fraction) -> datetime | None:
        """Return the moment so long after a step, in whole minutes upwards; None if unknown."""
        moment = self.ended[since]
        return None if moment is None else to_the_minute(moment + timedelta(seconds=ceil(seconds)))

    def says_wet(self, step: int) -> bool:
        """Tell whether the entry of a step says itself how long it stays wet."""
        return step in self.entries and bool(getattr(self.entries[step].what, "wet_until", ""))

    def _said(self, step: int) -> datetime | None:
        """Return the moment that the entry of a step says, where it can be read."""
        moment = self.ended[step]
        text = getattr(self.entries[step].what, "wet_until", "") if step in self.entries else ""
        if not text or moment is None:
            return None
        if len(text) <= len("18:30"):
            said = moment_in(f"{moment.date().isoformat()}T{text:0>5}", moment)
            return said + timedelta(days=1) if said is not None and said < moment else said
        return moment_in(text, moment)


def _turn(step: str, entry: Entry) -> tuple[int, int]:
    steps: Sequence[str] = getattr(entry.what, "steps", ())
    return entry.number, steps.index(step) if step in steps else 0


def _is_left(until: datetime, now: datetime | None) -> bool:
    return now is None or until > now


def _set_since(along: Along, coat: Coat) -> int:
    """Return the step from whose end a coat sets: the last that closed it, or its own."""
    return along.order[coat.closed[-1]] if coat.closed else coat.step


def _waited(along: Logged, step: int) -> Iterator[Until]:
    for one in along.clock.waits:
        moment = along.after(one.since, one.seconds) if one.step == step else None
        if moment is not None:
            link = one.stated.link
            text = typed(link.wait)
            yield Until(along.id(step), along.id(one.since), moment, text, why=link.why)


def _loading(along: Logged, step: int) -> Iterator[Until]:
    for one in loaded(along):
        if one.step != step or one.passed is None or not one.setting.seconds:
            continue
        moment = along.until(one.coat, one.since, one.setting.seconds)
        if moment is not None:
            yield Until(
                along.id(step),
                along.id(one.since),
                moment,
                one.setting.text,
                one.setting.what,
                one.coat.compound.id,
                one.coat.surface,
            )


def _overdue(along: Logged) -> Iterator[Overdue]:
    for bead in opened(along):
        passed = along.between(bead.since, bead.until)
        if passed is None or passed <= bead.allowed or bead.coat.gone < len(along.order):
            continue
        since, until = along.id(bead.since), along.id(bead.until)
        text = typed(bead.coat.compound.open)
        yield Overdue(since, until, passed, bead.allowed, text, bead.coat.compound.id)
    for late in in_time(along):
        passed = along.between(late.since, late.until)
        within = late.stated.link.within
        if passed is None or within is None:
            continue
        passed -= along.model.seconds[late.until]
        if passed > seconds_in(within):
            since, until = along.id(late.since), along.id(late.until)
            yield Overdue(since, until, passed, late.allowed, typed(within))
