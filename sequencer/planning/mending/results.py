"""What a mend is: frozen results that speak of steps and parts by their ids."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.problem import Fact, Problem


class Wait(NamedTuple):
    """A wait to be served once more: so many minutes from the end of `after` to `step`.

    `minutes` is None where nobody can say how long, see `cure-unknown`. `compound` is what has to
    set meanwhile; empty where the wait is stated between the steps.
    """

    step: str
    after: str
    minutes: float | None
    compound: str = ""


class Fasteners(NamedTuple):
    """Fasteners that serve once, being turned by an angle: how many, and the step that does it.

    `joint` is empty where the step itself states its torque.
    """

    joint: str
    step: str
    how_many: int


class Made(NamedTuple):
    """What the minutes of a mend are made of.

    To take back what comes out, to do that once more, to do afresh what stays in its place, and
    the price of spoiled parts, weighed in minutes; `money` is that price itself.
    """

    back: float
    once_more: float
    in_place: float
    parts: float
    money: float

    @property
    def minutes(self) -> float:
        """The whole."""
        return self.back + self.once_more + self.in_place + self.parts


@dataclass(frozen=True, slots=True)
class Mend:
    """One way to mend a mistake.

    Attributes
    ----------
    undo : tuple of str
        The steps to take back, in the order in which they can be.
    do : tuple of str
        Every step still to be done, to the end, in an order that works.
    in_place : tuple of str
        Those of `do` that are done afresh while they stay done.
    made : Made
        The cost, and what it is made of.
    spoiled : tuple of str
        The parts that taking the steps back spoils.
    fasteners : tuple of Fasteners
        The fasteners that it spoils as well.
    renew : mapping of str to int
        How many of which parts to have ready new: those spoiled, and those that are new each time.
    prepare : tuple of str
        Steps taken back only because what they prepared has to be prepared again.
    waits : tuple of Wait
        The waits that have to be served once more, of two between the same steps the longer;
        they are not in the cost.
    void : tuple of str
        The signed steps whose signature no longer holds.
    why : mapping of str to Fact
        For each step to take back, why.
    """

    undo: tuple[str, ...]
    do: tuple[str, ...]
    made: Made
    in_place: tuple[str, ...] = ()
    spoiled: tuple[str, ...] = ()
    fasteners: tuple[Fasteners, ...] = ()
    renew: Mapping[str, int] = field(default_factory=dict)
    prepare: tuple[str, ...] = ()
    waits: tuple[Wait, ...] = ()
    void: tuple[str, ...] = ()
    why: Mapping[str, Fact] = field(default_factory=dict)

    @property
    def minutes(self) -> float:
        """What the mend costs."""
        return self.made.minutes

    @property
    def back_in(self) -> tuple[str, ...]:
        """The steps of `do` up to the last that was done before: from there on as printed.

        Where nothing was, it is the next step alone.
        """
        out = {*self.undo, *self.in_place}
        last = max((at for at, step in enumerate(self.do, 1) if step in out), default=1)
        return self.do[:last]


@dataclass(frozen=True, slots=True)
class Revised:
    """The least that must come out, or why nothing mends it.

    Attributes
    ----------
    mend : Mend or None
        The cheapest mend; None if there is none, or none was found.
    proved : bool
        Whether it is proved that there is no cheaper one (or none at all).
    gap : float or None
        By how many minutes the cheapest might be cheaper; 0 where proved, None without a mend.
    others : tuple of Mend
        The next best, none of which only adds to a better one.
    findings : tuple of Problem
        Why there is no mend.
    """

    mend: Mend | None
    proved: bool = True
    gap: float | None = None
    others: tuple[Mend, ...] = ()
    findings: tuple[Problem, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether a mend exists."""
        return self.mend is not None
