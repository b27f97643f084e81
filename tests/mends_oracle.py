"""What a mend is, said once more as plainly as can be: every set of steps is tried.

It shares no code with the planner; the rules of a valid order are those of `tests.oracle`.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from tests.oracle import Oracle, but_for, variants

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.steps import Step
    from tests.oracle import Done


class Tried(NamedTuple):
    """A set of steps that may come out: smaller is better."""

    minutes: Fraction
    disturbed: int
    earliest_last: tuple[int, ...]  # 1 for each step that comes out, those done first in front
    choice: int
    undo: frozenset[str]


def every_mend(
    model: Assembly,
    done: Sequence[str],
    redo: Sequence[str] = (),
    again: Sequence[str] = (),
    skipped: Sequence[str] = (),
) -> list[Tried]:
    """Every set of done steps that may be taken back so that the job can go on, best first."""
    found = []
    for number, choice in enumerate(variants(model)):
        judge = Judge(model, choice, done, again, skipped)
        forced = {*redo, *(name for name in again if judge.serving_once(name))}
        for size in range(len(done) + 1):
            for undo in combinations(done, size):
                if forced <= set(undo) and judge.will_do(frozenset(undo)):
                    found += [judge.tried(number, frozenset(undo))]
    return sorted(found)


def works(
    model: Assembly, tried: Tried, mend: tuple[Sequence[str], Sequence[str]], *asked: Sequence[str]
) -> bool:
    """Whether a set comes out in one order, and the job goes on in another to its end.

    `asked` are the steps done, those done afresh in place, and those skipped.
    """
    undo, do = mend
    judge = Judge(model, list(variants(model))[tried.choice], *asked)
    return judge.comes_out(undo, tried.undo) and judge.goes_on(tried.undo, do)


class Judge:
    """The rules of one choice of `one_of`, after one history."""

    def __init__(
        self,
        model: Assembly,
        choice: Assembly,
        done: Sequence[str],
        again: Sequence[str],
        skipped: Sequence[str] = (),
    ) -> None:
        self.model = model
        self.steps = {step.id: step for step in model.steps}
        self.done = done
        self.skipped = frozenset(skipped)
        self.rules = Oracle(choice, skipped=self.skipped)
        self.there = set(self.rules.steps)
        every = {link.to for one in model.one_of for link in one.steps}
        left = but_for(model, every - self.there - set(done))
        self.undoing = Oracle(left, skipped=self.skipped)
        self.in_trial = {link.to for trial in model.trials for link in trial.steps}
        self.finished = {
            link.to
            for trial in model.trials
            for link in trial.steps
            if {one.to for one in trial.steps} & self.there <= set(done)
        } & self.there
        self.again = [name for name in again if not self.serving_once(name)]
        self.dead: set[Done] = set()

    def will_do(self, undo: frozenset[str]) -> bool:
        rest = [name for name in self.done if name not in undo]
        return (
            set(rest) <= self.there
            and not any(self.undone(name).never for name in undo)
            and self.pulls_nothing_more(undo)
            and self.was_in_order(rest)
            and self.groups_are_whole(rest)
            and self.again_is_reached(rest)
            and self.can_come_out(undo)
            and not self.rules.ends_badly()
            and self.can_be_finished(frozenset(rest))
        )

    def undone(self, name: str) -> _Undone:
        undo = self.steps[name].undo
        if undo is None or name in self.skipped:
            return _Undone(None, (), (), "")
        time = None if undo.time is None else Fraction(undo.time.si).limit_denominator(10**6) / 60
        spoils = tuple(link.to for link in undo.spoils)
        return _Undone(time, spoils, tuple(link.to for link in undo.again), undo.never)

    def spoiled(self, undo: frozenset[str]) -> set[str]:
        once = {part.id for part in self.model.parts if part.once or part.renew}
        fitted = {fit.part for name in undo - self.skipped for fit in self.steps[name].fits}
        return (once & fitted) | {part for name in undo for part in self.undone(name).spoils}

    def pulls_nothing_more(self, undo: frozenset[str]) -> bool:
        again = {other for name in undo for other in self.undone(name).again} & set(self.done)
        spoiled = self.spoiled(undo)
        fitters = {
            name for name in self.done if any(f.part in spoiled for f in self.steps[name].fits)
        } - self.skipped
        mates = {
            mate
            for name in undo
            for joint in self.serving_once(name)
            for mate in self.done
            if joint in self.serving_once(mate) and self.same_fasteners(joint, name, mate)
        }
        return again | fitters | mates <= undo

    def serving_once(self, name: str) -> set[str]:
        """The joints whose fasteners a step turns by an angle, but in a trial."""
        if name in self.in_trial or name in self.skipped:
            return set()
        by_angle = {
            joint.id
            for joint in self.model.joints
            if any(one.value.angle and not one.value.back for one in joint.passes)
        }
        return by_angle & {link.to for link in self.steps[name].tighten}

    def same_fasteners(self, joint: str, one: str, other: str) -> bool:
        """Whether no step between two as written, nor the later one itself, loosens a joint."""
        written = list(self.steps)
        first, last = sorted((written.index(one), written.index(other)))
        between = set(written[first + 1 : last + 1]) - self.in_trial - self.skipped
        return not any(link.to == joint for name in between for link in self.steps[name].loosens)

    def was_in_order(self, rest: Sequence[str]) -> bool:
        """Rules 1, 2 and 4 of what stays, in the order in which it was done."""
        for turn, name in enumerate(rest):
            before = frozenset(rest[:turn])
            if any(
                after == name and not befores <= before for befores, after in self.rules.precedences
            ):
                return False
            for _, members in self.rules.groups:
                inside = members & self.there
                if name not in inside and inside & before and not inside <= before:
                    return False
            if self.rules.barred(name, before):
                return False
        return True

    def groups_are_whole(self, rest: Sequence[str]) -> bool:
        for _, members in self.rules.groups:
            inside = members & self.there
            left = inside & set(rest)
            if left and left != inside:
                as_far = left == inside & set(self.done)
                if not as_far or set(rest[-len(left) :]) != left:
                    return False
        return True

    def again_is_reached(self, rest: Sequence[str]) -> bool:
        return all(
            self.rules.reached(name, frozenset(rest) - {name})
            for name in self.again
            if name in rest
        )

    def can_be_finished(self, here: Done) -> bool:
        if here == self.there:
            return True
        if here in self.dead:
            return False
        for name in self.rules.steps:
            may = name not in here and self.rules.may_be_done(name, here)
            if may and self.can_be_finished(here | {name}):
                return True
        self.dead.add(here)
        return False

    def can_come_out(self, undo: frozenset[str]) -> bool:
        seen: set[frozenset[str]] = set()
        waiting = [frozenset(self.done)]
        while waiting:
            here = waiting.pop()
            if here == frozenset(self.done) - undo:
                return True
            for name in here & undo:
                rest = here - {name}
                if rest not in seen and self.may_come_out(name, rest):
                    seen.add(rest)
                    waiting.append(rest)
        return False

    def may_come_out(self, name: str, rest: frozenset[str]) -> bool:
        held = any(name in befores and after in rest for befores, after in self.undoing.precedences)
        return not held and (name in self.finished or self.undoing.reached(name, rest))

    def comes_out(self, undo: Sequence[str], out: frozenset[str]) -> bool:
        """Whether these steps can be taken back in this order, with what was skipped besides."""
        if set(undo) != out - self.skipped:
            return False
        return self._comes_out(tuple(undo), frozenset(self.done), frozenset(self.done) - out)

    def _comes_out(self, undo: tuple[str, ...], here: Done, end: Done) -> bool:
        if here == end:
            return True
        return any(
            self.may_come_out(name, here - {name})
            and self._comes_out(undo[1:] if name in undo else undo, here - {name}, end)
            for name in (*undo[:1], *((here - end) & self.skipped))
        )

    def goes_on(self, undo: frozenset[str], do: Sequence[str]) -> bool:
        """Whether the job can be finished in this order; what is done in place stays done."""
        here = frozenset(self.done) - undo
        in_place = [name for name in do if name in here]
        if in_place != [name for name in self.again if name in here]:
            return False
        left = tuple(name for name in do if name not in here)
        return self.there.issuperset(left) and self._goes_on(left, here)

    def _goes_on(self, do: tuple[str, ...], here: Done) -> bool:
        if here == self.there:
            return True
        return any(
            self.rules.may_be_done(name, here)
            and self._goes_on(do[1:] if name in do else do, here | {name})
            for name in (*do[:1], *((self.skipped & self.there) - here))
        )

    def tried(self, number: int, undo: frozenset[str]) -> Tried:
        cost = sum((self.cost_of(name) for name in undo), Fraction())
        cost += sum((self.time(self.steps[n]) for n in self.again if n not in undo), Fraction())
        rate = self.model.handling.rate or 1
        for part in self.model.parts:
            if part.id in self.spoiled(undo) and part.price is not None:
                cost += Fraction(part.price) * self.on(part.id, part.quantity) / Fraction(rate)
        handled = {
            part
            for name in undo - self.in_trial - self.skipped
            for part in [
                *(fit.part for fit in self.steps[name].fits),
                *(link.to for link in self.steps[name].takes_off),
            ]
        }
        mask = tuple(int(name in undo) for name in self.done)
        return Tried(cost, len(handled), mask, number, undo)

    def on(self, part: str, quantity: int) -> int:
        fitted = [name for name in self.done if name not in self.skipped]
        counts = [f.count for n in fitted for f in self.steps[n].fits if f.part == part]
        if not counts or None in counts:
            return quantity
        return min(quantity, sum(count or 0 for count in counts))

    def cost_of(self, name: str) -> Fraction:
        step = self.steps[name]
        if name in self.skipped:
            return Fraction()
        own, back = self.time(step), self.undone(name).time
        if back is None:
            handles = step.fits or step.takes_off or step.tighten or step.torque
            back = own if handles and name not in self.in_trial else Fraction()
        return own + back

    def time(self, step: Step) -> Fraction:
        """Minutes: stated, or one a fastener, or five."""
        if step.time is not None:
            return Fraction(step.time.si).limit_denominator(10**6) / 60
        counts = {joint.id: joint.count for joint in self.model.joints}
        return Fraction(sum(counts.get(link.to, 0) for link in step.tighten) or 5)


class _Undone(NamedTuple):
    time: Fraction | None
    spoils: tuple[str, ...]
    again: tuple[str, ...]
    never: str
