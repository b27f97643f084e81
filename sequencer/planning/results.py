"""What the planner hands back: frozen results, speaking of steps and parts by their ids."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.problem import Path, Problem


_NO_MATTER_OF_ORDER = ("not-together",)  # an error that leaves the order valid


@dataclass(frozen=True, slots=True)
class StepFacts:
    """What an order tells about one of its steps.

    Attributes
    ----------
    ways_in : tuple of str
        For each access need of the step, the first open way as written; empty without a need.
    last_chance_for : tuple of str
        Earlier steps whose last way in is shut here or by the rest of this step's group, in the
        order in which they are done.
    until : str or None
        The last step right after which this one could still be done, all else unchanged; None if
        it cannot move later.
    """

    ways_in: tuple[str, ...] = ()
    last_chance_for: tuple[str, ...] = ()
    until: str | None = None


@dataclass(frozen=True, slots=True)
class HandlingTotals:
    """What an order asks of the hands: turns, tools picked up, compounds, seconds in all.

    `bound` is what any order takes at least, in seconds; None where that was not asked.
    """

    turns: int
    tools: int
    seconds: float
    bound: float | None = None
    compounds: int = 0


@dataclass(frozen=True, slots=True)
class NotBefore:
    """A step may begin only so many minutes after the end of the step `since`.

    `text` is the time as typed; `compound` is what has to set, where it is that.
    """

    since: str
    minutes: float
    text: str
    compound: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Window:
    """From the end of the step `since` at most so many minutes may pass.

    Of a compound it is until the end of the step `until`, which closes the surface over it; else
    until that step begins. `passed` is what passes in this order; `text` the time as typed, and
    `path` where that is said.
    """

    since: str
    until: str
    minutes: float
    passed: float
    text: str
    compound: str = ""
    why: str = ""
    path: Path = ()


@dataclass(frozen=True, slots=True)
class Times:
    """The clock of an order: one person, times summed, waits served where they stand.

    Attributes
    ----------
    begins, ends : mapping of str to float
        For each step, minutes from the start.
    waits : mapping of str to tuple of NotBefore
        For each step that has to wait, since when and for how long.
    uncertain : mapping of str to tuple of (str, str)
        For each step that loads what nobody can say the cure time of, the step since which that
        sets, and the compound.
    windows : tuple of Window
        What has to be done in time.
    hot_over : mapping of (str, str) to str
        For a hot step and a compound that bears less, the step that put that on.
    """

    begins: Mapping[str, float] = field(default_factory=dict)
    ends: Mapping[str, float] = field(default_factory=dict)
    waits: Mapping[str, tuple[NotBefore, ...]] = field(default_factory=dict)
    uncertain: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    windows: tuple[Window, ...] = ()
    hot_over: Mapping[tuple[str, str], str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Plan:
    """An order of all steps, or None with findings that say why there is none.

    `moves` counts the steps that stand elsewhere than written (those outside the longest common
    subsequence); `fewest` is true where it is proved that no order needs fewer. After the steps of
    `rest_after` the job may be left overnight. `fallbacks` names, for a step that is one of
    several, those that may be done instead. `forget_minutes` says, of the steps that were asked
    about, what it costs to find at the end that one was forgotten; None: it cannot be put right.
    """

    order: tuple[str, ...] | None
    moves: int | None = None
    fewest: bool = False
    steps: Mapping[str, StepFacts] = field(default_factory=dict)
    handling: HandlingTotals | None = None
    rest_after: tuple[str, ...] = ()
    fallbacks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    findings: tuple[Problem, ...] = ()
    times: Times = field(default_factory=Times)
    forget_minutes: Mapping[str, float | None] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Awaited:
    """A plan while a part is awaited: steps to do `now`, and `then` the rest, in its order."""

    plan: Plan
    now: tuple[str, ...]
    then: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tested:
    """The verdict on an order of one's own, and a valid order near it where one exists.

    Times and compounds never make an order invalid.
    """

    findings: tuple[Problem, ...]
    mended: tuple[str, ...] | None
    moves: int | None

    @property
    def ok(self) -> bool:
        """Whether the order works as given."""
        return not any(
            finding.severity == "error" and finding.code not in _NO_MATTER_OF_ORDER
            for finding in self.findings
        )
