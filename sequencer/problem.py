"""What every stage hands back when something is wrong: a problem, its facts and their places.

The core speaks of a place in the model as a path, such as ``("steps", "fit", "after", 0)``.
Only the reader knows which line that is; `located` fills the places in.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

Path: TypeAlias = tuple[str | int, ...]
Severity: TypeAlias = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where something stands in a file; line and column count from 1, `width` in characters."""

    file: str
    line: int
    column: int
    width: int = 1


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing the model says: the sentence, the author's own reason, and where it is said."""

    text: str
    path: Path = ()
    why: str = ""
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class Mend:
    """An edit that does what a problem's `fix` says: put `text` in the place of what is there."""

    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong, or worth knowing, with the facts it rests on.

    `message` says what is, in one sentence without a final stop; `why` what it means for the
    person at the bench; `fix` one thing to do about it. `path` (or `place`) is where it shows.
    `mend` is the fix as an edit, where a program can make it.
    """

    code: str
    severity: Severity
    message: str
    step: str | None = None
    path: Path = ()
    facts: tuple[Fact, ...] = ()
    why: str = ""
    fix: str = ""
    place: Place | None = None
    mend: Mend | None = None


def located(problem: Problem, place_of: Callable[[Path], Place | None]) -> Problem:
    """Return the problem with the places of itself and of its facts filled in."""
    facts = tuple(
        replace(fact, place=place_of(fact.path)) if fact.place is None and fact.path else fact
        for fact in problem.facts
    )
    place = problem.place
    if place is None and problem.path:
        place = place_of(problem.path)
    if place is None:
        place = next((fact.place for fact in facts if fact.place is not None), None)
    return replace(problem, facts=facts, place=place)


def has_errors(problems: Iterable[Problem]) -> bool:
    """Tell whether any of the problems is an error."""
    return any(problem.severity == "error" for problem in problems)
