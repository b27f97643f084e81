"""What an order makes of times and compounds, said once more as plainly as can be.

It reads the model's dataclasses, walks along the order, and shares no code with the planner.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from tests.oracle import Oracle, si

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.compounds import Compound
    from sequencer.model.steps import Step

Key = tuple[object, ...]


class Coat(NamedTuple):
    turn: int
    compound: Compound
    surface: str
    path: Key


class TimingOracle:
    """One model and one order of its steps."""

    def __init__(self, model: Assembly, order: Sequence[str]) -> None:
        self.oracle = Oracle(model)
        self.model = model
        self.order = list(order)
        self.steps = [self.oracle.steps[name] for name in order]
        self.compounds = {one.id: one for one in model.compounds}
        self.relations = list(self._relations())
        self.begins: list[Fraction] = []
        self.ends: list[Fraction] = []
        self._run()
        self.coats = list(self._coats())

    # The clock.

    def _relations(self) -> Iterator[tuple[set[str], set[str], Link, Key]]:
        for name, step in self.oracle.steps.items():
            for item, link in enumerate(step.after):
                others = self._but(name, link)
                yield others, {name}, link, ("steps", name, "after", item)
            for item, link in enumerate(step.before):
                others = self._but(name, link)
                yield {name}, others, link, ("steps", name, "before", item)
        for section in self.model.sections:
            inside = {
                name for name, step in self.oracle.steps.items() if step.section == section.id
            }
            for item, link in enumerate(section.after):
                others = self.oracle.meant(link, "") if link.kind == "section" else {link.to}
                if len(inside) == 1:
                    others -= inside
                yield others, inside, link, ("sections", section.id, "after", item)

    def _but(self, name: str, link: Link) -> set[str]:
        others = self.oracle.meant(link, name)
        return others if link.kind == "step" else others - {name}

    def minutes(self, step: Step) -> Fraction:
        stated = si(step.time) or si(self.model.defaults.time)
        if stated is not None:
            return stated / 60
        counts = {joint.id: joint.count for joint in self.model.joints}
        return Fraction(sum(counts.get(link.to, 0) for link in step.tighten) or 5)

    def _run(self) -> None:
        now = Fraction(0)
        for turn, name in enumerate(self.order):
            for befores, afters, link, _ in self.relations:
                done = [at for at in range(turn) if self.order[at] in befores]
                wait = si(link.wait)
                if wait is not None and name in afters and done:
                    now = max(now, self.ends[max(done)] + wait / 60)
            self.begins.append(now)
            now += self.minutes(self.steps[turn])
            self.ends.append(now)

    def windows(self) -> list[tuple[str, str, bool, Key]]:
        """From which step to which something has to be done in time; whether it is not; by what."""
        return [
            *((self.order[a], self.order[b], over, key) for a, b, over, key in self._withins()),
            *(
                (self.order[coat.turn], self.order[until], over, (coat.compound.id,))
                for coat, until, over in self.beads()
            ),
        ]

    def _withins(self) -> Iterator[tuple[int, int, bool, Key]]:
        for befores, afters, link, path in self.relations:
            within = si(link.within)
            follow = [turn for turn, name in enumerate(self.order) if name in afters]
            if within is None or not follow:
                continue
            first = [turn for turn in range(follow[0]) if self.order[turn] in befores]
            if first:
                passed = self.begins[follow[0]] - self.ends[first[-1]]
                yield first[-1], follow[0], passed * 60 > within, path

    # Surfaces.

    def does(self, turn: int, field: str, surface: str) -> bool:
        links: tuple[Link, ...] = getattr(self.steps[turn], field)
        return any(link.to == surface for link in links)

    def _coats(self) -> Iterator[Coat]:
        for turn, step in enumerate(self.steps):
            for item, applied in enumerate(step.apply):
                for place, link in enumerate(applied.to):
                    compound = self.compounds[applied.compound[0].to]
                    path = ("steps", step.id, "apply", item, "to", place)
                    washed = compound.kind == "cleaner" and self.does(turn, "cleans", link.to)
                    if not washed:
                        yield Coat(turn, compound, link.to, path)

    def lies(self, coat: Coat, turn: int) -> bool:
        """Whether a coat is still on when a step at a turn puts something on or loads."""
        cleaned = (self.does(at, "cleans", coat.surface) for at in range(coat.turn + 1, turn + 1))
        return coat.turn <= turn and not any(cleaned)

    def closings(self, coat: Coat) -> list[int]:
        found: list[int] = []
        for turn in range(coat.turn, len(self.order)):
            anew = turn > coat.turn and self.does(turn, "cleans", coat.surface)
            again = any(
                link.to == coat.surface for one in self.steps[turn].apply for link in one.to
            )
            if anew or (again and found and turn > found[0]):
                break
            if self.does(turn, "closes", coat.surface):
                found.append(turn)
        return found

    def beads(self) -> list[tuple[Coat, int, bool]]:
        """For each step and compound the bead that is closed last."""
        last: dict[tuple[int, str], tuple[Coat, int, bool]] = {}
        for coat in self.coats:
            allowed, closed = si(coat.compound.open), self.closings(coat)
            if allowed is None or not closed:
                continue
            until = closed[-1]
            over = (self.ends[until] - self.ends[coat.turn]) * 60 > allowed
            key = coat.turn, coat.compound.id
            if key not in last or until > last[key][1]:
                last[key] = coat, until, over
        return list(last.values())

    # What is wrong.

    def broken(self) -> set[Key]:
        return {
            *self._unprepared(),
            *self._not_together(),
            *self._open_too_long(),
            *self._too_late(),
            *self._loaded_too_soon(),
            *self._hot(),
        }

    def _open_too_long(self) -> Iterator[Key]:
        for coat, _, over in self.beads():
            if over:
                yield "open-too-long", self.order[coat.turn], coat.compound.id

    def _state(self, coat: Coat) -> tuple[set[str], int | None, bool]:
        """How a surface is before a coat; which turn cleaned it last; whether it is coated over."""
        clean = dry = dirtied = over = False
        cleaner: int | None = None
        for turn in range(coat.turn + 1):
            if self.does(turn, "cleans", coat.surface):
                leaves = self.steps[turn].leaves
                clean = "clean" in leaves or (clean and not dirtied)
                dry = "dry" in leaves
                dirtied, over, cleaner = False, False, turn
            for other in self.coats:
                here = other.turn == turn < coat.turn and other.surface == coat.surface
                if here and other.compound.kind not in ("cleaner", "primer"):
                    dirtied = True
                    over |= other.compound.id != coat.compound.id
        words = {word for word, holds in (("clean", clean), ("dry", dry)) if holds}
        return words, cleaner, over

    def _unprepared(self) -> Iterator[Key]:
        for coat in self.coats:
            wanted = {word for word in coat.compound.wants if word in ("clean", "dry")}
            words, cleaner, over = self._state(coat)
            is_so = cleaner is not None and wanted <= words and not over
            if wanted and (not is_so or self._too_old(cleaner, coat.turn)):
                yield "unprepared", coat.path

    def _too_old(self, cleaner: int | None, turn: int) -> bool:
        if cleaner is None:
            return False
        passed = (self.begins[turn] - self.ends[cleaner]) * 60
        return any(
            (within := si(link.within)) is not None and passed > within
            for befores, afters, link, _ in self.relations
            if self.order[cleaner] in befores and self.order[turn] in afters
        )

    def _too_late(self) -> Iterator[Key]:
        for since, until, over, path in self._withins():
            prepared = any(
                coat.turn == until
                and {"clean", "dry"} & set(coat.compound.wants)
                and self._state(coat)[1] == since
                for coat in self.coats
            )
            if over and not prepared:
                yield "too-late", path

    def _not_together(self) -> Iterator[Key]:
        for at, second in enumerate(self.coats):
            for first in self.coats[:at]:
                names = {link.to for link in first.compound.not_with}
                others = {link.to for link in second.compound.not_with}
                excluded = second.compound.id in names or first.compound.id in others
                on_one = first.surface == second.surface
                if on_one and excluded and self.lies(first, second.turn):
                    pair = frozenset((first.compound.id, second.compound.id))
                    yield "not-together", self.order[second.turn], second.surface, pair

    def needed(self, compound: Compound) -> Fraction | None:
        """How long a compound needs to set, in seconds; None where nobody knows the cure."""
        fixture = si(compound.fixture) or Fraction(0)
        cure = compound.cure
        if cure is None:
            return fixture
        shop, hottest = si(self.model.defaults.temperature), si(compound.hottest)
        if shop is not None and hottest is not None and shop > hottest:
            return fixture
        if cure.any_ is not None:
            return max(fixture, si(cure.any_) or Fraction(0))
        if shop is None:
            return None
        rows = [(si(at) or Fraction(0), si(time) or Fraction(0)) for at, time in cure.rows]
        colder = [row for row in rows if row[0] <= shop]
        if not colder or (shop > max(at for at, _ in rows) and hottest is None):
            return None
        return max(fixture, max(colder)[1])

    def _loaded_too_soon(self) -> Iterator[Key]:
        for turn, step in enumerate(self.steps):
            for compound in self.compounds.values():
                if compound.fixture is None and compound.cure is None:
                    continue
                passed = [
                    Fraction(0)
                    if coat.turn == turn
                    else self.begins[turn]
                    - self.ends[max([coat.turn, *(c for c in self.closings(coat) if c < turn)])]
                    for coat in self.coats
                    if coat.compound == compound
                    and self.does(turn, "loads", coat.surface)
                    and self.lies(coat, turn)
                ]
                if not passed:
                    continue
                needed = self.needed(compound)
                if needed is None:
                    yield "cure-unknown", step.id, compound.id
                least = needed if needed is not None else si(compound.fixture) or Fraction(0)
                if min(passed) * 60 < least:
                    yield "loaded-too-soon", step.id, compound.id

    def _hot(self) -> Iterator[Key]:
        for turn, step in enumerate(self.steps):
            for coat in self.coats:
                limit = si(coat.compound.hottest)
                if step.heat is None or limit is None or not self.lies(coat, turn):
                    continue
                applying = self.steps[coat.turn]
                common = self._handled(step) & self._handled(applying)
                touched = any(self.does(turn, field, coat.surface) for field in ("closes", "loads"))
                if (si(step.heat.to) or 0) > limit and (common or touched):
                    yield "too-hot", step.id, coat.compound.id

    def _handled(self, step: Step) -> set[str]:
        heated = {link.to for link in step.heat.part} if step.heat else set()
        named = {link.to for link in (*step.onto, *step.takes_off)}
        return {fit.part for fit in step.fits} | named | heated


def sooner(
    model: Assembly, order: Sequence[str], since: str, until: str
) -> tuple[list[str], Fraction]:
    """The steps between a bead and its closing that can all be done before it, one by one.

    With the seconds that then pass from the bead to its closing.
    """
    oracle = Oracle(model)
    groups = [members & set(order) for _, members in oracle.groups]
    wrong = TimingOracle(model, order).broken()
    now, moved = list(order), list[str]()
    tried: set[str] = set()
    for name in order[order.index(since) + 1 : order.index(until)]:
        own = next((members for members in groups if name in members and len(members) > 1), {name})
        bead_in = next((members for members in groups if since in members), {since})
        block = [name] if since in own else [one for one in order if one in own]
        if until in block or name in tried:
            continue
        tried |= set(block)
        rest = [one for one in now if one not in block]
        at = rest.index(since) if since in own else min(rest.index(one) for one in bead_in)
        then = [*rest[:at], *block, *rest[at:]]
        if oracle.is_valid(then) and TimingOracle(model, then).broken() <= wrong:
            now, moved = then, [*moved, *block]
    timing = TimingOracle(model, now)
    passed = timing.ends[now.index(until)] - timing.ends[now.index(since)]
    return moved, passed * 60
