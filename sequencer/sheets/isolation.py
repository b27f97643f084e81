"""The isolation sheet: where energy is shut off, and who locked, proved and restored it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records.isolating import STAGES

if TYPE_CHECKING:
    from sequencer.sheets.job import Job

# Common practice, no source: the site's own rules say more, and come first.
_RULES = (
    "Follow the site's own rules for isolation: they come before this sheet.",
    "Only authorised people isolate, prove dead and restore. Each hangs a lock and a tag of their "
    "own, and nobody takes off another's.",
    "Nothing is begun before every point is locked and proved dead.",
)


@dataclass(frozen=True, slots=True)
class Point:
    """A point where energy is shut off, numbered as listed."""

    number: int
    point: str
    tag: str
    how: str


@dataclass(frozen=True, slots=True)
class IsolationSheet:
    """The points, the rules that go before, and what is signed for at each point."""

    rules: tuple[str, ...]
    points: tuple[Point, ...]
    stages: tuple[str, ...]

    def __bool__(self) -> bool:
        """Tell whether there is anything to isolate."""
        return bool(self.points)


def isolation_view(job: Job) -> IsolationSheet:
    """Return the points of a model as the sheet lists them."""
    points = (
        Point(at, one.point, one.tag, one.how)
        for at, one in enumerate(job.assembly.isolation, start=1)
    )
    return IsolationSheet(_RULES, tuple(points), STAGES)
