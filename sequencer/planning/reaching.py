"""What must be reached or must not be barred: ways in, lines, tools, positions and states."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.quantities import to_si
from sequencer.planning.network import Need, Obstacle, Way
from sequencer.planning.relating import fasteners_again

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from fractions import Fraction

    from sequencer.model.common import Link, WayIn
    from sequencer.model.lines import Line, LineEnd, LinePlace
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.planning.lookups import Lookups
    from sequencer.planning.network import Steps
    from sequencer.problem import Path


def needs(lookups: Lookups) -> list[Need]:
    """Return every need of a model: ways in and checks step by step, then lines, then bars."""
    found: list[Need] = []
    checks = {check.id: check for check in lookups.assembly.checks if check.needs_open}
    for number, step in enumerate(lookups.steps):
        if step.ways_in:
            ways = _ways(lookups, number, step.ways_in, ("steps", step.id, "ways_in"), len(found))
            found.append(Need(number, ways))
        for link in step.check if checks else ():
            if link.to in checks:
                path = ("checks", link.to, "needs_open")
                ways = _ways(lookups, number, checks[link.to].needs_open, path, len(found))
                found.append(Need(number, ways))
    for line in lookups.assembly.lines:
        found.extend(_LineNeeds(lookups, line).needs(len(found)))
    found.extend(_bars(lookups, len(found)))
    return found


def handled(step: Step) -> set[str]:
    """Return the parts that a step fits or takes off."""
    return {fit.part for fit in step.fits}.union(link.to for link in step.takes_off)


def _shutting(
    lookups: Lookups, where: tuple[int, int], number: int, link: Link, path: Path, why: str
) -> Iterator[Obstacle]:
    """Yield the obstacles of one part that shuts a way in of a step."""
    need, way = where
    for raised_by, clearers in lookups.standings(link.to, number):
        blockers = raised_by
        if number in raised_by:  # it is not done yet at its own turn
            blockers = tuple(step for step in raised_by if step != number)
        if blockers or not raised_by:
            yield Obstacle(need, way, link.to, blockers, path, link.why or why, clearers)


def _ways(
    lookups: Lookups, number: int, written: tuple[WayIn, ...], path: Path, need: int
) -> tuple[Way, ...]:
    step = lookups.steps[number]
    own = handled(step)
    ways: list[Way] = []
    for at, way in enumerate(written):
        here = (*path, way.name)
        obstacles = [
            Obstacle(need, at, what, (), (*here, field), way.why)
            for field, what in _too_small(lookups, step, own, way)
        ]
        for item, link in enumerate(way.shut_by):
            if link.to not in own:
                place = (*here, "shut_by", item)
                obstacles.extend(_shutting(lookups, (need, at), number, link, place, way.why))
        ways.append(Way(way.name, tuple(obstacles)))
    return tuple(ways)


def _too_small(
    lookups: Lookups, step: Step, own: set[str], way: WayIn
) -> Iterator[tuple[str, str]]:
    """Yield the fields of a way that are too small, with the tool that has no room if any."""
    if way.opening is not None and _is_too_big(lookups, step, own, way.opening.value):
        yield "opening", ""
    if way.room is not None:
        room = _exact(way.room.value)
        tools = {tool.id: tool for tool in lookups.assembly.tools}
        for entry in step.tools:
            needed = [tools[link.to].needs for link in entry if link.to in tools]
            if needed and all(size is not None and _exact(size.value) > room for size in needed):
                yield "room", " or ".join(link.to for link in entry)


def _is_too_big(lookups: Lookups, step: Step, own: Iterable[str], opening: Amount) -> bool:
    if step.largest is not None:
        return _exact(step.largest.value) > _exact(opening)
    sizes = (lookups.parts[part].largest for part in own if part in lookups.parts)
    return any(_exact(size.value) > _exact(opening) for size in sizes if size is not None)


def _exact(amount: Amount) -> Fraction:
    return to_si(amount.value, amount.unit)


class _LineNeeds:
    """The access needs that one line gives to the steps that fit its parts."""

    def __init__(self, lookups: Lookups, line: Line) -> None:
        self.lookups = lookups
        self.line = line
        self.on_shaft = bool(line.shaft)
        self.path = ("lines", line.id)

    def needs(self, first: int) -> Iterator[Need]:
        """Yield one need for each place and each step that fits its part."""
        number = first
        for at, place in enumerate(self.line.order):
            for step in self.lookups.fitting(link.to for link in place.part):
                yield Need(step, tuple(self._ways(number, step, at, place)))
                number += 1

    def _ways(self, need: int, step: int, at: int, place: LinePlace) -> Iterator[Way]:
        ends: list[tuple[LineEnd | None, str, range]] = []
        passed = (range(at - 1, -1, -1), range(at + 1, len(self.line.order)))
        for number, places in enumerate(passed):
            end = self.line.ends[number] if number < len(self.line.ends) else None
            name = end.name if end is not None else ("first end", "second end")[number]
            ends.append((end, name, places))
        chosen = [one for one in ends if not place.from_ or one[1] == place.from_]
        for way, (end, name, places) in enumerate(chosen):
            obstacles = [*self._end(need, way, step, place, end)]
            for other in places:
                obstacles.extend(self._passing(need, way, step, place, other))
            yield Way(name, tuple(obstacles))

    def _fits_past(self, place: LinePlace, size: Amount | None) -> bool:
        """Tell whether the part of a place gets past something of a size."""
        own = place.bore if self.on_shaft else place.od
        if own is None or size is None:
            return False
        return _exact(own) >= _exact(size) if self.on_shaft else _exact(own) <= _exact(size)

    def _end(
        self, need: int, way: int, step: int, place: LinePlace, end: LineEnd | None
    ) -> Iterator[Obstacle]:
        if end is None:
            return
        path = (*self.path, "ends", end.name)
        size = end.is_.size
        if end.is_.text == "shut" or (size is not None and not self._fits_past(place, size)):
            yield Obstacle(need, way, "", (), path, end.why or self.line.why)
        own = handled(self.lookups.steps[step])
        for item, link in enumerate(end.shut_by):
            if link.to not in own:
                at = (*path, "shut_by", item)
                yield from _shutting(self.lookups, (need, way), step, link, at, end.why)

    def _passing(
        self, need: int, way: int, step: int, place: LinePlace, number: int
    ) -> Iterator[Obstacle]:
        """Yield what stops a part at one place that it has to pass."""
        other = self.line.order[number]
        path = (*self.path, "order", number)
        why = other.why or self.line.why
        seat = other.shoulder or other.seat
        if seat is not None and not self._fits_past(place, seat):
            yield Obstacle(need, way, "", (), path, why)
        outside = other.od if self.on_shaft else other.bore
        own = handled(self.lookups.steps[step])
        if self._fits_past(place, outside):
            return
        for link in other.part:
            if link.to not in own:
                yield from _shutting(self.lookups, (need, way), step, link, path, why)


class _Bar(NamedTuple):
    """A stretch in which steps are barred: from a step done to the steps that end it."""

    begins: Steps
    ends: Steps
    about: str
    why: str


def _bars(lookups: Lookups, first: int) -> Iterator[Need]:
    """Yield what bars steps for a while: states, and a position in which something is loose."""
    number = first
    for step, bar, path in (*_not_while(lookups), *_turned_over(lookups)):
        obstacle = Obstacle(number, 0, bar.about, bar.begins, path, bar.why, bar.ends)
        yield Need(step, (Way("", (obstacle,)),), barred=True)
        number += 1


def _not_while(lookups: Lookups) -> Iterator[tuple[int, _Bar, Path]]:
    states = {state.id: state for state in lookups.assembly.states}
    for number, step in enumerate(lookups.steps):
        for item, link in enumerate(step.not_while):
            if link.to in states:
                state = states[link.to]
                begins, ends = _both(lookups, state.begins), _both(lookups, state.ends)
                if begins and ends and number not in begins + ends:
                    bar = _Bar(begins, ends, state.id, link.why or state.why)
                    yield number, bar, ("steps", step.id, "not_while", item)


def _both(lookups: Lookups, links: Iterable[Link]) -> Steps:
    return tuple(step for link in links for step in lookups.named(link))


def _turned_over(lookups: Lookups) -> Iterator[tuple[int, _Bar, Path]]:
    for begins, bar in _held_positions(lookups):
        held = lookups.steps[begins]
        for number in lookups.of_unit[held.unit]:
            step = lookups.steps[number]
            if step.position and step.position != held.position and number != begins:
                yield number, bar, ("steps", step.id, "position")


def _held_positions(lookups: Lookups) -> Iterator[tuple[int, _Bar]]:
    """Yield the steps from which on the position stated there must be kept, and until when."""
    for number, step in enumerate(lookups.steps):
        if not step.position:
            continue
        alone = lookups.alone[number]
        if "loose" in step.leaves and step.id in lookups.secured_by:
            yield number, _Bar(alone, lookups.secured_by[step.id], step.id, "")
        for link in step.loosens:
            ends = fasteners_again(lookups, number, link)
            if ends:
                yield number, _Bar(alone, ends, step.id, link.why)
    for state in lookups.assembly.states:
        begins, ends = _both(lookups, state.begins), _both(lookups, state.ends)
        if state.keep and begins and ends and lookups.steps[begins[0]].position:
            yield begins[0], _Bar(begins, ends, state.id, state.why)
