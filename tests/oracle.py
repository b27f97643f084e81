"""The rules of a valid order, said once more as plainly as can be, for small models.

Nothing here shares code with the planner: it reads the model's dataclasses and tries every order.
A fact is named by a key (kind, path, and whom it binds), so that facts can be left out by name.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.quantities import Amount, to_si

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence
    from fractions import Fraction

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link, Size, WayIn
    from sequencer.model.lines import Line, LinePlace
    from sequencer.model.steps import Step

Key = tuple[object, ...]
Dropped = frozenset[Key]
Done = frozenset[str]


def si(value: Amount | None) -> Fraction | None:
    return None if value is None else to_si(value.value, value.unit)


def size(value: Size | None) -> Fraction | None:
    return None if value is None else si(value.value)


class Stay(NamedTuple):
    fits: tuple[str, ...]
    off: str | None
    start: int


class Oracle:
    """One model with some facts left out."""

    def __init__(
        self, assembly: Assembly, dropped: Dropped = frozenset(), skipped: Done = frozenset()
    ) -> None:
        self.assembly = assembly
        self.dropped = dropped
        self.skipped = skipped
        self._fitters: dict[tuple[str, str | None], tuple[str, ...]] = {}
        self._stays: dict[str, list[Stay]] = {}
        self._may: dict[tuple[str, Done], bool] = {}
        self.steps = {step.id: step for step in assembly.steps}
        self.written = list(self.steps)
        self.trial_of = {link.to: trial.id for trial in assembly.trials for link in trial.steps}
        self.groups: list[tuple[Key, set[str]]] = [
            (("group", ("together", n)), {link.to for link in group.steps})
            for n, group in enumerate(assembly.together)
        ] + [
            (("group", ("trials", trial.id)), {link.to for link in trial.steps})
            for trial in assembly.trials
        ]
        self.units = {unit.id for unit in assembly.units}
        self.precedences = [
            (befores, after) for key, befores, after in self._precedences() if key not in dropped
        ]

    # Parts and when they are on.

    def fitters(self, part: str, trial: str | None = None) -> tuple[str, ...]:
        if (part, trial) not in self._fitters:
            self._fitters[part, trial] = self._find_fitters(part, trial)
        return self._fitters[part, trial]

    def stays(self, part: str) -> list[Stay]:
        if part not in self._stays:
            self._stays[part] = self._find_stays(part)
        return self._stays[part]

    def _find_fitters(self, part: str, trial: str | None = None) -> tuple[str, ...]:
        return tuple(
            name
            for name, step in self.steps.items()
            if self.trial_of.get(name) == trial and any(fit.part == part for fit in step.fits)
        )

    def _find_stays(self, part: str) -> list[Stay]:
        at_start = any(p.id == part and p.at_start for p in self.assembly.parts)
        stays: list[Stay] = []
        fits: list[str] = []
        start = -1 if at_start else None
        for number, (name, step) in enumerate(self.steps.items()):
            if name in self.trial_of:
                continue
            if any(link.to == part for link in step.takes_off) and start is not None:
                stays.append(Stay(tuple(fits), name, start))
                fits, start = [], None
            if any(fit.part == part for fit in step.fits):
                start = number if start is None else start
                fits.append(name)
        if start is not None:
            stays.append(Stay(tuple(fits), None, start))
        return stays

    def stay_meant(self, part: str, name: str) -> Stay | None:
        stays = self.stays(part)
        if not any(stay.off for stay in stays) and not any(stay.start < 0 for stay in stays):
            fits = self.fitters(part)
            return Stay(fits, None, 0) if fits else None
        earlier = [stay for stay in stays if stay.start <= self.written.index(name)]
        return earlier[-1] if earlier else stays[0] if stays else None

    def is_on(self, part: str, viewer: str, done: Done) -> bool:
        homes = {self.steps[name].unit for name in self.fitters(part)[:1]}
        home = homes.pop() if homes else ""
        if home and home in self.units and self.steps[viewer].unit != home:
            return self.is_on(home, viewer, done)
        for stay in self.stays(part):
            begun = stay.start < 0 or any(name in done for name in stay.fits)
            if begun and not (stay.off is not None and stay.off in done):
                return True
        trial = self.trial_of.get(viewer)
        if trial is None:
            return False
        on = any(name in done for name in self.fitters(part, trial))
        off = [
            name
            for name, step in self.steps.items()
            if self.trial_of.get(name) == trial and any(o.to == part for o in step.takes_off)
        ]
        return on and not (off and all(name in done for name in off))

    # Rule 1.

    def _precedences(self) -> Iterator[tuple[Key, set[str], str]]:
        for name, step in self.steps.items():
            yield from self._written_in(name, step)
        for section in self.assembly.sections:
            inside = [name for name, step in self.steps.items() if step.section == section.id]
            for item, link in enumerate(section.after):
                for name in inside:
                    key = ("after", ("sections", section.id, "after", item))
                    yield key, self._but(name, link), name
            if section.in_order:
                for one, two in pairwise(inside):
                    yield ("in_order", ("sections", section.id, "in_order"), one, two), {one}, two
        for unit in self.assembly.units:
            inside = [name for name, step in self.steps.items() if step.unit == unit.id]
            for name in self.fitters(unit.id):
                if name not in inside:
                    yield ("unit", ("units", unit.id)), set(inside), name
        for state in self.assembly.states:
            begins, ends = {b.to for b in state.begins}, {e.to for e in state.ends}
            for name in ends & set(self.steps):
                yield ("state", ("states", state.id, "ends")), begins & set(self.steps), name
        yield from self._of_choices_and_checks()

    def _of_choices_and_checks(self) -> Iterator[tuple[Key, set[str], str]]:
        for number, choice in enumerate(self.assembly.one_of):
            for link, before in product(choice.steps, choice.before):
                if link.to in self.steps and before.to in self.steps:
                    key: Key = ("one_of", ("one_of", number, "before"), link.to)
                    yield key, {link.to}, before.to
        for check in self.assembly.checks:
            takers = [n for n, s in self.steps.items() if any(c.to == check.id for c in s.check)]
            for item, link in enumerate(check.upset_by):
                if takers and link.to in self.steps and link.to != takers[-1]:
                    key = ("upset_by", ("checks", check.id, "upset_by", item))
                    yield key, {link.to}, takers[-1]
        for line in self.assembly.lines:
            for field, links in (("shaft", line.shaft), ("bore", line.bore)):
                parts = {link.to for place in line.order for link in place.part}
                for item, link in enumerate(links):
                    place = ("lines", line.id, field, item)
                    for name, step in self.steps.items():
                        if any(fit.part in parts for fit in step.fits):
                            yield from self._built_on(name, link.to, "line", place)

    def meant(self, link: Link, viewer: str) -> set[str]:
        if link.kind == "step":
            return {link.to} & set(self.steps)
        if link.kind == "all":
            return {
                name
                for name, step in self.steps.items()
                if step.unit == self.steps[viewer].unit and (step.fits or step.tighten)
            }
        if link.kind == "section":
            return {name for name, step in self.steps.items() if step.section == link.to}
        return {n for n, s in self.steps.items() if any(check.to == link.to for check in s.check)}

    def _but(self, name: str, link: Link) -> set[str]:
        """A step waits for itself only where that is said of the step by name."""
        others = self.meant(link, name)
        return others if link.kind == "step" else others - {name}

    def _written_in(self, name: str, step: Step) -> Iterator[tuple[Key, set[str], str]]:
        for item, link in enumerate(step.after):
            yield ("after", ("steps", name, "after", item)), self._but(name, link), name
        for item, link in enumerate(step.before):
            for other in self._but(name, link):
                yield ("before", ("steps", name, "before", item)), {name}, other
        for item, link in enumerate(step.secures):
            yield ("secures", ("steps", name, "secures", item)), self.meant(link, name), name
        for item, link in enumerate(step.onto):
            yield from self._built_on(name, link.to, "onto", ("steps", name, "onto", item))
        for item, link in enumerate(step.takes_off):
            yield from self._taken_off(name, link.to, ("steps", name, "takes_off", item))
        yield from self._for_a_time(name, step)

    def _for_a_time(self, name: str, step: Step) -> Iterator[tuple[Key, set[str], str]]:
        for item, link in enumerate(step.loosens):
            for other in self.fast_again(name, link):
                yield ("loosens", ("steps", name, "loosens", item), other), {name}, other
        for item, link in enumerate(step.needs):
            state = next(state for state in self.assembly.states if state.id == link.to)
            path = ("steps", name, "needs", item)
            yield ("needs", path, "begins"), {b.to for b in state.begins} & set(self.steps), name
            for end in state.ends:
                yield ("needs", path, "ends"), {name}, end.to

    def fast_again(self, name: str, link: Link) -> list[str]:
        fast = [
            other
            for other, step in self.steps.items()
            if other != name
            and any(
                x.to == link.to for x in (step.tighten if link.kind == "joint" else step.secures)
            )
        ]
        return [o for o in fast if self.written.index(o) > self.written.index(name)]

    def _built_on(
        self, name: str, part: str, kind: str, path: Key
    ) -> Iterator[tuple[Key, set[str], str]]:
        trial = self.trial_of.get(name)
        own = self.fitters(part, trial) if trial else ()
        stay = self.stay_meant(part, name)
        if own:
            yield (kind, path, name), set(own) - {name}, name
            return
        if stay is None:
            return
        yield (kind, path, name), set(stay.fits) - {name}, name
        if trial or stay.off in (None, name):
            return
        assert stay.off is not None
        yield ("under", path, name), {name}, stay.off
        if any(p.id == part and p.aid for p in self.assembly.parts):
            return
        for fit in self.steps[name].fits:
            above = next((s.off for s in self.stays(fit.part) if name in s.fits), None)
            if fit.part != part and above != stay.off:
                blocked = above if above is not None else stay.off
                yield ("above", path, fit.part, blocked), {blocked}, stay.off

    def _taken_off(self, name: str, part: str, path: Key) -> Iterator[tuple[Key, set[str], str]]:
        trial = self.trial_of.get(name)
        if trial:
            yield ("takes_off", path), set(self.fitters(part, trial)), name
            return
        stays = self.stays(part)
        for number, stay in enumerate(stays):
            if stay.off == name:
                yield ("takes_off", path), set(stay.fits), name
                for again in stays[number + 1 : number + 2]:
                    for other in again.fits:
                        yield ("again", path), {name}, other

    # Rules 3 and 4.

    def handled(self, step: Step) -> set[str]:
        return {fit.part for fit in step.fits} | {link.to for link in step.takes_off}

    def way_is_open(self, name: str, which: int, way: WayIn, path: Key, done: Done) -> bool:
        step = self.steps[name]
        handled = self.handled(step)
        through = size(step.largest)
        if through is None:
            sizes = [size(part.largest) for part in self.assembly.parts if part.id in handled]
            through = max((one for one in sizes if one is not None), default=None)
        opening = size(way.opening)
        small = opening is not None and through is not None and through > opening
        if (
            small
            and ("way", name, which, way.name, "", (*path, way.name, "opening")) not in self.dropped
        ):
            return False
        tools = {tool.id: size(tool.needs) for tool in self.assembly.tools}
        room = size(way.room)
        for entry in step.tools:
            needed = [tools.get(link.to) for link in entry]
            names = " or ".join(link.to for link in entry)
            tight = room is not None and all(n is not None and n > room for n in needed)
            if (
                tight
                and ("way", name, which, way.name, names, (*path, way.name, "room"))
                not in self.dropped
            ):
                return False
        for item, link in enumerate(way.shut_by):
            key = ("way", name, which, way.name, link.to, (*path, way.name, "shut_by", item))
            if (
                link.to not in handled
                and self.is_on(link.to, name, done)
                and key not in self.dropped
            ):
                return False
        return True

    def open_ways(self, name: str, done: Done) -> list[list[str]]:
        """For each access need of a step the names of its open ways."""
        step = self.steps[name]
        needs: list[list[str]] = []
        written: list[tuple[tuple[WayIn, ...], Key]] = [(step.ways_in, ("steps", name, "ways_in"))]
        for link in step.check:
            check = next(check for check in self.assembly.checks if check.id == link.to)
            written.append((check.needs_open, ("checks", check.id, "needs_open")))
        for ways, path in written:
            if ways:
                which = len(needs)
                opened = [w for w in ways if self.way_is_open(name, which, w, path, done)]
                needs.append([w.name for w in opened])
        for line in self.assembly.lines:
            for at, place in enumerate(line.order):
                if {link.to for link in place.part} & {fit.part for fit in step.fits}:
                    needs.append(self._open_ends((name, len(needs)), line, at, done))
        return needs

    def _open_ends(self, need: tuple[str, int], line: Line, at: int, done: Done) -> list[str]:
        name, which = need
        place = line.order[at]
        passed = {line.ends[0].name: line.order[:at], line.ends[1].name: line.order[at + 1 :]}
        found = []
        for end in line.ends:
            if place.from_ and end.name != place.from_:
                continue
            root = ("lines", line.id, "ends", end.name)
            stops: list[Key] = [
                ("way", name, which, end.name, link.to, (*root, "shut_by", item))
                for item, link in enumerate(end.shut_by)
                if link.to not in self.handled(self.steps[name]) and self.is_on(link.to, name, done)
            ]
            if end.is_.text == "shut" or self._stopped(line, place, end.is_.size):
                stops.append(("way", name, which, end.name, "", root))
            for other in passed[end.name]:
                path = ("lines", line.id, "order", line.order.index(other))
                if self._stopped(line, place, other.shoulder or other.seat):
                    stops.append(("way", name, which, end.name, "", path))
                stops.extend(
                    ("way", name, which, end.name, link.to, path)
                    for link in other.part
                    if link.to not in self.handled(self.steps[name])
                    and self.is_on(link.to, name, done)
                    and not self._passes(line, place, other.od if line.shaft else other.bore)
                )
            if not set(stops) - self.dropped:
                found.append(end.name)
        return found

    def _passes(self, line: Line, place: LinePlace, other: Amount | None) -> bool:
        own = si(place.bore if line.shaft else place.od)
        limit = si(other)
        if own is None or limit is None:
            return False
        return own >= limit if line.shaft else own <= limit

    def _stopped(self, line: Line, place: LinePlace, seat: Amount | None) -> bool:
        return seat is not None and not self._passes(line, place, seat)

    def barred(self, name: str, done: Done) -> bool:
        step = self.steps[name]
        for item, link in enumerate(step.not_while):
            state = next(state for state in self.assembly.states if state.id == link.to)
            begins, ends = {b.to for b in state.begins}, {e.to for e in state.ends}
            ends &= set(self.steps)
            key = ("way", name, -1, "", state.id, ("steps", name, "not_while", item))
            bound = name not in begins | ends and key not in self.dropped
            if bound and begins & done and not ends <= done:
                return True
        if not step.position:
            return False
        return any(
            self._is_moved(name, began, about) and began in done and not set(end) <= done
            for began, end, about in self._held()
        )

    def _is_moved(self, name: str, began: str, about: str) -> bool:
        step, held = self.steps[name], self.steps[began]
        key = ("way", name, -1, "", about, ("steps", name, "position"))
        moved = bool(held.position) and held.position != step.position
        return moved and held.unit == step.unit and began != name and key not in self.dropped

    def _held(self) -> Iterator[tuple[str, list[str], str]]:
        for name, step in self.steps.items():
            ends = [o for o, s in self.steps.items() if any(x.to == name for x in s.secures)]
            if "loose" in step.leaves and ends:
                yield name, ends, name
            for link in step.loosens:
                if again := self.fast_again(name, link):
                    yield name, again, name
        for state in self.assembly.states:
            if state.keep and state.begins[0].to in self.steps:
                ends = [link.to for link in state.ends if link.to in self.steps]
                yield state.begins[0].to, ends, state.id

    # All of it.

    def reached(self, name: str, done: Done) -> bool:
        """Of what is skipped nothing is on, and nothing has to be reached."""
        return name in self.skipped or all(self.open_ways(name, done - self.skipped))

    def may_be_done(self, name: str, done: Done) -> bool:
        if (name, done) not in self._may:
            self._may[name, done] = self._find_may(name, done)
        return self._may[name, done]

    def _find_may(self, name: str, done: Done) -> bool:
        if any(after == name and not befores <= done for befores, after in self.precedences):
            return False
        for key, members in self.groups:
            begun = members & done
            foreign = name not in members and key not in self.dropped
            if foreign and begun and not members & set(self.steps) <= done:
                return False
        return self.reached(name, done) and not self.barred(name, done)

    def is_valid(self, order: Sequence[str]) -> bool:
        return sorted(order) == sorted(self.steps) and all(
            self.may_be_done(name, frozenset(order[:turn])) for turn, name in enumerate(order)
        )

    def orders(self) -> Iterator[tuple[str, ...]]:
        """Every valid order, by growing prefixes; sets that lead nowhere are not tried twice."""
        dead: set[Done] = set()

        def grow(done: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
            if len(done) == len(self.steps):
                yield done
                return
            here = frozenset(done)
            if here in dead:
                return
            found = False
            for name in self.steps:
                if name not in here and self.may_be_done(name, here):
                    for order in grow((*done, name)):
                        found = True
                        yield order
            if not found:
                dead.add(here)

        if not self.ends_badly():
            yield from grow(())

    def ends_badly(self) -> bool:
        """Whether something stays loose, or an aid on, whatever the order."""
        for name, step in self.steps.items():
            if "loose" in step.leaves and not any(
                link.to == name for other in self.steps.values() for link in other.secures
            ):
                return True
            if any(not self.fast_again(name, link) for link in step.loosens):
                return True
        return any(
            part.aid and any(stay.off is None for stay in self.stays(part.id))
            for part in self.assembly.parts
        )

    def has_order(self) -> bool:
        return next(self.orders(), None) is not None

    # What an order tells.

    def last_chances(self, order: Sequence[str]) -> dict[str, list[str]]:
        """For each step that is a last chance, the earlier steps that it is one for."""
        found: dict[str, list[str]] = {}
        for at, name in enumerate(order):
            if not self.open_ways(name, frozenset()):
                continue
            rest = [other for other in order if other != name]
            met = [self.reached(name, frozenset(rest[:done])) for done in range(len(rest) + 1)]
            for turn, other in enumerate(rest):
                if turn >= at and met[turn] and not any(met[turn + 1 :]):
                    stands_at = other
                    for _, members in self.groups:
                        if other in members and name not in members:
                            stands_at = next(one for one in order if one in members)
                    found.setdefault(stands_at, []).append(name)
        return found

    def may_rest(self, done: Done) -> bool:
        """Whether the job may be left with these steps done: nothing loose, nothing running."""
        for name in done:
            step = self.steps[name]
            fast = [o for o, s in self.steps.items() if any(x.to == name for x in s.secures)]
            if "loose" in step.leaves and not set(fast) <= done:
                return False
            if any(not set(self.fast_again(name, link)) <= done for link in step.loosens):
                return False
        for _, members in self.groups:
            here = members & set(self.steps)
            if here & done and not here <= done:
                return False
        barring = {link.to for step in self.steps.values() for link in step.not_while}
        for state in self.assembly.states:
            begun = {link.to for link in state.begins} & done
            ends = {link.to for link in state.ends} & set(self.steps)
            if begun and ends and not ends <= done and (state.keep or state.id in barring):
                return False
        return True

    def until(self, order: Sequence[str], name: str) -> str | None:
        """The last step right after which `name` could be done, all else unchanged."""
        at = order.index(name)
        rest = [other for other in order if other != name]
        for turn in range(len(rest), at, -1):
            if self.is_valid([*rest[:turn], name, *rest[turn:]]):
                return rest[turn - 1]
        return None


def variants(assembly: Assembly) -> Iterator[Assembly]:
    """The model with one step of each `one_of`, for every choice."""
    chosen = product(*([link.to for link in choice.steps] for choice in assembly.one_of))
    every = {link.to for choice in assembly.one_of for link in choice.steps}
    for kept in chosen:
        yield but_for(assembly, every - set(kept))


def but_for(assembly: Assembly, gone: Collection[str]) -> Assembly:
    """The model without some steps: relations and groups that name them fall away."""
    return replace(
        assembly,
        steps=tuple(_without(step, gone) for step in assembly.steps if step.id not in gone),
        together=tuple(
            replace(group, steps=tuple(link for link in group.steps if link.to not in gone))
            for group in assembly.together
        ),
        trials=tuple(
            replace(trial, steps=tuple(link for link in trial.steps if link.to not in gone))
            for trial in assembly.trials
        ),
    )


def _without(step: Step, gone: Collection[str]) -> Step:
    return replace(
        step,
        after=tuple(link for link in step.after if link.kind != "step" or link.to not in gone),
        before=tuple(link for link in step.before if link.kind != "step" or link.to not in gone),
        secures=tuple(link for link in step.secures if link.to not in gone),
        loosens=tuple(link for link in step.loosens if link.to not in gone),
    )


def moves(order: Sequence[str], written: Sequence[str]) -> int:
    """Steps outside the longest common subsequence, by trying every pair."""
    rank = {name: number for number, name in enumerate(written)}
    best: dict[int, int] = {}
    ranks = [rank[name] for name in order if name in rank]
    for at, here in enumerate(ranks):
        best[at] = 1 + max((best[b] for b in range(at) if ranks[b] < here), default=0)
    return len(order) - max(best.values(), default=0)
