"""Steps recorded in one go: what nobody can tell of the times between them, and what can be said.

A ticked sheet says that its steps were done, not when. So a bead and what closes it are not held
against the clock; but where the times written in the model add up to more than the bead stays
open, the sheet itself says that it can hardly have been in time. A wait is never shown by it.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.timing.clock import lasting, seconds_in, typed
from sequencer.planning.timing.curing import loaded
from sequencer.planning.timing.windows import in_time, opened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.records.running import Logged


class Untimed(NamedTuple):
    """Two steps of which nobody knows how long lay between them, though it matters.

    `text` is the time as typed. `least` is what the model's own times add up to, in words, where
    that is too much; a wait, which they can never show, has none.
    """

    since: str
    until: str
    text: str
    least: str = ""
    compound: str = ""
    what: str = ""

    @property
    def said(self) -> str:
        """What nobody can tell, in words that go on after the names of both steps."""
        if self.compound and self.least:
            asked = f"`{self.compound}` was closed within its {self.text}"
        elif self.compound:
            asked = f"`{self.compound}` had its {self.text} {self.what} in between"
        elif self.least:
            asked = f"the second began within {self.text}"
        else:
            asked = f"{self.text} lay between them"
        by_times = f"; by the model's times it takes {self.least}" if self.least else ""
        return f"were recorded in one go, so nobody can tell whether {asked}{by_times}"


def untimed(along: Logged) -> Iterator[Untimed]:
    """Yield what the times between steps recorded in one go would have to show."""
    yield from _too_much_between(along)
    for wait in along.clock.waits:
        if along.is_one_entry(wait.since, wait.step):
            text = typed(wait.stated.link.wait)
            yield Untimed(along.id(wait.since), along.id(wait.step), text)
    for one in loaded(along):
        if not one.setting.seconds or one.since == one.step:
            continue
        if along.is_one_entry(one.since, one.step):
            names, setting = (along.id(one.since), along.id(one.step)), one.setting
            yield Untimed(*names, setting.text, "", one.coat.compound.id, setting.what)


def _too_much_between(along: Logged) -> Iterator[Untimed]:
    """Yield what can hardly have been in time, by the times written in the model."""
    for bead in opened(along):
        names, coat = (along.id(bead.since), along.id(bead.until)), bead.coat
        least = _written(along, bead.since, bead.until, with_last=True)
        if coat.gone < len(along.order) or least <= bead.allowed:
            continue
        if _is_one_go(along, bead.since, bead.until, least):
            text = typed(coat.compound.open)
            yield Untimed(*names, text, lasting(least), coat.compound.id)
    for late in in_time(along):
        names = along.id(late.since), along.id(late.until)
        least = _written(along, late.since, late.until, with_last=False)
        if least > late.allowed and _is_one_go(along, late.since, late.until, least):
            yield Untimed(*names, typed(late.stated.link.within), lasting(least))


def _written(along: Logged, since: int, until: int, *, with_last: bool) -> Fraction:
    """Return the times that the model states for the steps between two, in seconds."""
    turns = along.clock.turns
    between = along.order[turns[since] + 1 : turns[until] + with_last]
    times = (along.step(step).time for step in between)
    return sum((seconds_in(time) for time in times if time is not None), start=Fraction(0))


def _is_one_go(along: Logged, since: int, until: int, least: Fraction) -> bool:
    """Tell whether two steps stand in one entry, or in two typed in quicker than they are done."""
    if along.is_one_entry(since, until):
        return True
    passed = along.between(since, until)
    return passed is not None and passed < least and not along.says_when(since, until)
