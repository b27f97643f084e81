"""The model as plain lists: what must precede what, what goes together, what shuts which way in.

Steps are numbers in written order. Every entry that can narrow the choice of orders is one fact:
a `Relation`, a `Group` or an `Obstacle`; each knows the path of the words that state it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.problem import Path

Steps: TypeAlias = tuple[int, ...]


class Relation(NamedTuple):
    """Each of `befores` must be done before each other one of `afters`.

    `kind` is the field that says so, or another name for what follows from it (see `relating`);
    `about` is what it speaks of, of the sort `sort`: a step, a part, a section and so on.
    """

    befores: Steps
    afters: Steps
    kind: str
    sort: str
    about: str
    path: Path
    why: str


class Group(NamedTuple):
    """Steps done as one operation, nothing foreign in between; of a trial nothing stays."""

    steps: Steps
    path: Path
    why: str
    trial: bool = False


class Obstacle(NamedTuple):
    """What shuts one way in of a step, for a while or for good.

    It stands once any of `blockers` is done (from the start where there are none) until all of
    `clearers` are (for good where there are none): a part that is on, a size, a barred interval.
    """

    need: int
    way: int
    part: str
    blockers: Steps
    path: Path
    why: str
    clearers: Steps = ()


class Way(NamedTuple):
    """One way in: open while none of its obstacles stands."""

    name: str
    obstacles: tuple[Obstacle, ...]


class Need(NamedTuple):
    """A step that has to be reached, and its ways in as written; one open way will do.

    A barred need is no route: its one way without a name is open while the step is not barred.
    """

    step: int
    ways: tuple[Way, ...]
    barred: bool = False


Rule: TypeAlias = Relation | Group | Obstacle


@dataclass(frozen=True, slots=True)
class Network:
    """All that decides whether an order is valid.

    Attributes
    ----------
    ids : tuple of str
        The steps as written.
    index : mapping of str to int
        The number of each step.
    relations, groups, needs : tuple
        The rules; `group_of` gives each step's group, or -1.
    """

    ids: tuple[str, ...]
    index: Mapping[str, int]
    relations: tuple[Relation, ...]
    groups: tuple[Group, ...]
    needs: tuple[Need, ...]
    group_of: tuple[int, ...]

    def obstacles(self) -> Iterable[Obstacle]:
        """Yield every obstacle, as written."""
        for need in self.needs:
            for way in need.ways:
                yield from way.obstacles

    def rules(self) -> Iterable[Rule]:
        """Yield every fact that narrows: relations, groups, then obstacles, each as written."""
        yield from self.relations
        yield from self.groups
        yield from self.obstacles()
