"""The clock along an order: when each step begins and ends, and what a step has to wait for.

One person does one step after the other: times are summed, and a wait is served where it stands.
A step that nobody has to stand by counts in full like any other; what could be done meanwhile is
a matter for a schedule. All times are exact, in seconds.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.complete import step_seconds
from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.quantities import Amount
    from sequencer.planning.network import Network, Steps
    from sequencer.problem import Path


class Stated(NamedTuple):
    """A relation that states a time: `link.wait` at least, `link.within` at most."""

    befores: Steps
    afters: Steps
    link: Link
    path: Path


@dataclass(frozen=True, slots=True)
class Timed:
    """A model with the time of each of its steps and the times that its relations state.

    `within_of` holds, for each step, the relations by which it has to begin in time.
    """

    assembly: Assembly
    network: Network
    seconds: tuple[Fraction, ...]
    stated: tuple[Stated, ...]
    within_of: Mapping[int, list[Stated]]


def timed(assembly: Assembly, network: Network) -> Timed:
    """Return a model with its times; linear in its size."""
    seconds = tuple(step_seconds(step, assembly)[0] for step in assembly.steps)
    every = tuple(_stated(assembly, network))
    within_of: dict[int, list[Stated]] = {}
    for stated in every:
        for step in stated.afters if stated.link.within is not None else ():
            within_of.setdefault(step, []).append(stated)
    return Timed(assembly, network, seconds, every, within_of)


def _stated(assembly: Assembly, network: Network) -> Iterator[Stated]:
    links = dict(timed_links(assembly))
    if links:
        for rule in network.relations:
            if rule.path in links and rule.kind in ("after", "before"):
                yield Stated(rule.befores, rule.afters, links[rule.path], rule.path)


def timed_links(assembly: Assembly) -> Iterator[tuple[Path, Link]]:
    """Yield each relation that states a time, with its path."""
    owners = (
        *(("steps", step.id, "after", step.after) for step in assembly.steps if step.after),
        *(("steps", step.id, "before", step.before) for step in assembly.steps if step.before),
        *(("sections", section.id, "after", section.after) for section in assembly.sections),
    )
    for sort, owner, field, links in owners:
        for item, link in enumerate(links):
            if link.wait is not None or link.within is not None:
                yield (sort, owner, field, item), link


def seconds_in(amount: Amount) -> Fraction:
    """Return a length of time in seconds, exactly."""
    return to_si(amount.value, amount.unit)


def typed(amount: Amount | None) -> str:
    """Return a figure as it was typed; nothing where there is none."""
    return amount.text.strip() if amount is not None else ""


class Waited(NamedTuple):
    """A step that waits until so long after the end of another; both by number."""

    step: int
    since: int
    seconds: Fraction
    stated: Stated


class Clock:
    """When the steps of one order begin and end, in seconds from its start.

    Attributes
    ----------
    turns : dict of int to int
        The turn of each step of the order, from 0.
    begins, ends : dict of int to Fraction
        Of each step of the order.
    waits : list of Waited
        What steps wait for, in turn; a relation whose earlier steps have no turn yet is passed
        over. `wait` counts from the end of the last earlier step.
    """

    def __init__(self, model: Timed, order: Sequence[int]) -> None:
        self.turns = {step: turn for turn, step in enumerate(order)}
        self.begins: dict[int, Fraction] = {}
        self.ends: dict[int, Fraction] = {}
        self.waits: list[Waited] = []
        waiting: dict[int, list[Stated]] = {}
        for stated in model.stated:
            if stated.link.wait is not None:
                for step in stated.afters:
                    waiting.setdefault(step, []).append(stated)
        now = Fraction(0)
        for step in order:
            for stated in waiting.get(step, ()):
                now = max(now, self._served(stated, step))
            self.begins[step] = now
            now = self.ends[step] = now + model.seconds[step]

    def _served(self, stated: Stated, step: int) -> Fraction:
        """Return when a step may begin for one relation, and note the wait."""
        since = self.last_of(stated.befores, self.turns[step])
        if since is None or stated.link.wait is None:
            return Fraction(0)
        seconds = seconds_in(stated.link.wait)
        self.waits.append(Waited(step, since, seconds, stated))
        return self.ends[since] + seconds

    def last_of(self, steps: Steps, before: int) -> int | None:
        """Return the last of the steps that have their turn before the one given."""
        turns = self.turns
        done = [step for step in steps if turns.get(step, before) < before]
        return max(done, key=turns.__getitem__) if done else None

    def first_of(self, steps: Steps) -> int | None:
        """Return the first of the steps that the order has."""
        there = [step for step in steps if step in self.turns]
        return min(there, key=self.turns.__getitem__) if there else None


def lasting(seconds: Fraction) -> str:
    """Return a length of time as people say it, in two units at the most.

    Examples
    --------
    >>> lasting(Fraction(86400)), lasting(Fraction(7500)), lasting(Fraction(90))
    ('24 h', '2 h 5 min', '1 min 30 s')
    """
    whole = round(seconds)
    hours, minutes = divmod(round(Fraction(whole, 60)), 60)
    if hours:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    minutes, rest = divmod(whole, 60)
    if minutes:
        return f"{minutes} min {rest} s" if rest else f"{minutes} min"
    return f"{rest} s"
