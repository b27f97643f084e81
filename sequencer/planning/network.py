"""The model as plain lists: what must precede what, what goes together, what shuts which way in.

Steps are numbers in written order. Every entry that can narrow the choice of orders is one fact:
a `Relation`, a `Group` or an `Obstacle`; each knows the path of the words that state it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from fractions import Fraction

    from sequencer.model.assembly import Assembly, Link, Size, Step
    from sequencer.problem import Path

Steps: TypeAlias = tuple[int, ...]


class Relation(NamedTuple):
    """Each of `befores` must be done before each other one of `afters`.

    `kind` is the field that says so; `about` is what it speaks of, of the sort `sort`: a step, a
    part, a section or a check.
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


def compile_network(assembly: Assembly) -> Network:
    """Return the model's rules as plain lists, in time linear in the size of the model.

    Names that the model lacks are passed over: the reader has refused them.
    """
    builder = _Builder(assembly)
    groups = tuple(builder.groups())
    group_of = [-1] * len(assembly.steps)
    for number, group in enumerate(groups):
        for step in group.steps:
            group_of[step] = number
    return Network(
        tuple(builder.index),
        builder.index,
        tuple(builder.relations()),
        groups,
        tuple(builder.needs()),
        tuple(group_of),
    )


class _Builder:
    """Look-ups from names to steps, made once and used by each kind of rule."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.index = {step.id: number for number, step in enumerate(assembly.steps)}
        self.alone: list[Steps] = [(number,) for number in range(len(assembly.steps))]
        fitters: defaultdict[str, list[int]] = defaultdict(list)
        of_section: defaultdict[str, list[int]] = defaultdict(list)
        of_check: defaultdict[str, list[int]] = defaultdict(list)
        for number, step in enumerate(assembly.steps):
            of_section[step.section].append(number)
            for fit in step.fits:
                fitters[fit.part].append(number)
            for link in step.check:
                of_check[link.to].append(number)
        self.steps_of = {
            "part": {part: self._together(steps) for part, steps in fitters.items()},
            "section": {section: tuple(steps) for section, steps in of_section.items()},
            "check": {check: tuple(steps) for check, steps in of_check.items()},
            "step": {step: self.alone[number] for step, number in self.index.items()},
        }
        self.largest = {part.id: part.largest for part in assembly.parts if part.largest}

    def _together(self, steps: list[int]) -> Steps:
        return self.alone[steps[0]] if len(steps) == 1 else tuple(dict.fromkeys(steps))

    def relations(self) -> list[Relation]:
        found: list[Relation] = []
        for alone, step in zip(self.alone, self.assembly.steps, strict=True):
            for kind, links in (
                ("after", step.after),
                ("before", step.before),
                ("onto", step.onto),
                ("secures", step.secures),
            ):
                if links:
                    self._relate(found, kind, links, alone, ("steps", step.id))
        for section in self.assembly.sections:
            steps = self.steps_of["section"].get(section.id, ())
            if section.after and steps:
                self._relate(found, "after", section.after, steps, ("sections", section.id))
        return found

    def _relate(
        self,
        found: list[Relation],
        kind: str,
        links: tuple[Link, ...],
        owners: Steps,
        owner_path: tuple[str, str],
    ) -> None:
        for item, link in enumerate(links):
            sort = link.kind
            others = self.steps_of[sort].get(link.to, ())
            if sort != "step" and len(owners) == 1 and owners[0] in others:
                others = tuple(other for other in others if other != owners[0])
            if others:
                befores, afters = (owners, others) if kind == "before" else (others, owners)
                path = (*owner_path, kind, item)
                found.append(Relation(befores, afters, kind, sort, link.to, path, link.why))

    def groups(self) -> Iterable[Group]:
        for number, group in enumerate(self.assembly.together):
            steps = (self.index[link.to] for link in group.steps if link.to in self.index)
            yield Group(tuple(dict.fromkeys(steps)), ("together", number), group.why)

    def needs(self) -> list[Need]:
        found: list[Need] = []
        for number, step in enumerate(self.assembly.steps):
            if step.ways_in:
                found.append(Need(number, self._ways(step, len(found))))
        return found

    def _ways(self, step: Step, need: int) -> tuple[Way, ...]:
        handled = {fit.part for fit in step.fits}
        fitters = self.steps_of["part"]
        ways: list[Way] = []
        for number, way in enumerate(step.ways_in):
            path = ("steps", step.id, "ways_in", way.name)
            obstacles: list[Obstacle] = []
            if way.opening is not None and self._is_too_big(step, way.opening):
                obstacles.append(Obstacle(need, number, "", (), (*path, "opening"), way.why))
            for item, link in enumerate(way.shut_by):
                blockers = fitters.get(link.to)
                if blockers and link.to not in handled:
                    why = link.why or way.why
                    place = (*path, "shut_by", item)
                    obstacles.append(Obstacle(need, number, link.to, blockers, place, why))
            ways.append(Way(way.name, tuple(obstacles)))
        return tuple(ways)

    def _is_too_big(self, step: Step, opening: Size) -> bool:
        if step.largest is not None:
            return _exact(step.largest) > _exact(opening)
        sizes = (self.largest.get(fit.part) for fit in step.fits)
        return any(_exact(size) > _exact(opening) for size in sizes if size is not None)


def _exact(size: Size) -> Fraction:
    return to_si(size.value.value, size.value.unit)
