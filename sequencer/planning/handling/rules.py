"""The rules of a model for work from the end: what may be taken off, and what surely precedes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.masks import steps_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.planning.masks import Masks

_TRIES = 1_000_000


class Rules:
    """The masks of a network, with what follows from them about pairs of steps.

    Attributes
    ----------
    size, every : int
        How many steps there are, and the set of all.
    before, after : list of int
        For each step the steps that precede it, or follow it, in every valid order: those that
        the model says, and those that follow from a group or from what shuts a way for good.
    single : int
        Steps that may not be taken off just because it is free: those of a group, which open it,
        and those that clear a way, which may be wanted there longer.
    careful : int
        Steps with ways in or other conditions, to be asked about at their turn.
    """

    def __init__(self, masks: Masks) -> None:
        self.masks = masks
        self.size = masks.size
        self.every = masks.every
        self.before = list(masks.before)
        self.careful = 0
        self.clearing = 0
        self.grouped = 0
        for group in masks.groups:
            self.grouped |= group
        for step, needs in enumerate(masks.needs):
            for ways in needs:
                self.careful |= 1 << step
                self._hold_to(step, ways)
        self._lift()
        self.after = [0] * self.size
        for step, befores in enumerate(self.before):
            for before in steps_in(befores):
                self.after[before] |= 1 << step
        self.single = self.grouped | self.clearing
        self._scopes = {0: self.every}
        self._ranked = self._sorted()
        self._forwards: dict[int, list[tuple[int, int]]] = {}
        self._backwards: dict[int, list[tuple[int, int]]] = {}

    def _hold_to(self, step: int, ways: Sequence[Sequence[tuple[int, int]]]) -> None:
        """Note what every way in demands: what shuts it for good is later, what opens it earlier.

        A way that nothing opens is left out of account, as others must serve.
        """
        later = earlier = self.every & ~(1 << step)
        for way in ways:
            for _, cleared in way:
                self.clearing |= cleared
            if any(not raised and not cleared for raised, cleared in way):
                continue
            shutting = opening = 0
            for raised, cleared in way:
                if not cleared:
                    shutting |= raised
                if not raised:
                    opening |= cleared
            later &= shutting
            earlier &= opening
        self.before[step] |= earlier
        for other in steps_in(later):
            self.before[other] |= 1 << step

    def _lift(self) -> None:
        """Hold whole groups to what holds one of their steps: nothing foreign goes in between."""
        for step in range(self.size):
            held = self.before[step] & self.grouped
            while held:
                group = self.masks.group[(held & -held).bit_length() - 1]
                held &= ~group
                if not group >> step & 1:
                    self.before[step] |= group
        for group in self.masks.groups:
            befores = 0
            for step in steps_in(group):
                befores |= self.before[step]
            for step in steps_in(group):
                self.before[step] |= befores & ~group

    def _sorted(self) -> list[int]:
        """Return the steps so that each stands behind all that precede it."""
        lacking = [befores.bit_count() for befores in self.before]
        ranked = [step for step in range(self.size) if not lacking[step]]
        for step in ranked:
            for after in steps_in(self.after[step]):
                lacking[after] -= 1
                if not lacking[after]:
                    ranked.append(after)
        if len(ranked) < self.size:
            raise ValueError("the steps have no valid order")
        return ranked

    def open_steps(self, left: int) -> int:
        """Return the steps of a set that no other of it follows."""
        found = 0
        for step in steps_in(left):
            if not self.after[step] & left:
                found |= 1 << step
        return found

    def any_order(self) -> tuple[int, ...]:
        """Return a valid order, taking steps off the end and going back where that ends.

        Raises
        ------
        ValueError
            If there is none, or none is found in a million tries.
        """
        taken: list[int] = []
        left = self.every
        ready = [self.open_steps(left)]
        choices = [self.last_steps(left, ready[-1])]
        dead: set[int] = set()
        while left and len(dead) <= _TRIES:
            step = next(choices[-1], None)
            if step is None:
                dead.add(left)
                choices.pop()
                ready.pop()
                if not taken:
                    break
                left |= 1 << taken.pop()
            elif left & ~(1 << step) not in dead:
                taken.append(step)
                left &= ~(1 << step)
                ready.append(self.opened(ready[-1], 1 << step, left))
                choices.append(self.last_steps(left, ready[-1]))
        if left:
            raise ValueError("no valid order of the steps was found")
        return tuple(reversed(taken))

    def last_steps(self, left: int, ready: int) -> Iterator[int]:
        """Yield each of the open steps of a set that may be done last of it."""
        for step in steps_in(ready & self.scope(left)):
            if self.may_be_last(step, left):
                yield step

    def is_valid(self, order: Sequence[int]) -> bool:
        """Tell whether an order of all steps keeps every rule."""
        if sorted(order) != list(range(self.size)):
            return False
        done, within = 0, self.every
        for step in order:
            if not within >> step & 1 or not self.masks.may_do(step, done):
                return False
            done |= 1 << step
            within = self.masks.group[step] & ~done or self.every
        return True

    def opened(self, ready: int, taken: int, left: int) -> int:
        """Return the open steps of what is left once some open ones of more are taken off."""
        ready &= left
        for step in steps_in(taken):
            for before in steps_in(self.before[step] & left):
                if not self.after[before] & left:
                    ready |= 1 << before
        return ready

    def scope(self, left: int) -> int:
        """Return the steps among which the last one of a set must be: the group that is open."""
        part = left & self.grouped
        scope = self._scopes.get(part)
        if scope is None:
            scope = self._scopes[part] = self.masks.open_group(part) or self.every
        return scope

    def may_be_last(self, step: int, left: int) -> bool:
        """Tell whether an open step of a set may be done last of it, the open group left aside.

        The first step of a group to go takes the others with it: where they could not follow, it
        may not.
        """
        if self.careful >> step & 1 and not self.masks.may_do(step, left & ~(1 << step)):
            return False
        group = self.masks.group[step]
        return not group or group & ~left != 0 or self._may_go(group, left)

    def _may_go(self, group: int, left: int) -> bool:
        """Tell whether a whole group may be done last of a set.

        Where rules only shut ways, taking a step off never hinders another; where something
        clears a way it might, and nothing is ruled out.
        """
        if self.clearing or not group & self.careful:
            return True
        again = True
        while group and again:
            again = False
            for step in steps_in(group):
                if not self.after[step] & left and self.masks.may_do(step, left & ~(1 << step)):
                    left &= ~(1 << step)
                    group &= ~(1 << step)
                    again = True
        return not group

    def grown(self, done: int, steps: int) -> int:
        """Return a set grown by whatever of some steps can follow, one after the other."""
        pairs = self._forwards.get(steps)
        if pairs is None:
            pairs = self._forwards[steps] = [
                (1 << step, self.before[step]) for step in self._ranked if steps >> step & 1
            ]
        for step, befores in pairs:
            if befores & done == befores:
                done |= step
        return done

    def shrunk(self, left: int, steps: int) -> int:
        """Return a set less whatever of some steps nothing in it follows, one after the other."""
        pairs = self._backwards.get(steps)
        if pairs is None:
            pairs = self._backwards[steps] = [
                (1 << step, self.after[step])
                for step in reversed(self._ranked)
                if steps >> step & 1
            ]
        for step, afters in pairs:
            if left & step and not afters & left:
                left ^= step
        return left

    def taken_off(self, left: int, steps: int) -> int:
        """Return a set less whatever of some steps may be last of it, one after the other.

        Groups are left aside, and so is what shuts a way only for a while; what cannot be taken
        off like this cannot be taken off at all.
        """
        if not self.careful & steps:
            return self.shrunk(left, steps)
        again = True
        while again:
            rest = self.shrunk(left, steps & ~self.careful)
            for step in steps_in(rest & steps & self.careful):
                if not self.after[step] & rest and self._might_be_reached(step, rest):
                    rest ^= 1 << step
            again = rest != left
            left = rest
        return left

    def _might_be_reached(self, step: int, left: int) -> bool:
        done = left & ~(1 << step)
        return all(
            any(
                all(cleared or (raised and not raised & done) for raised, cleared in way)
                for way in ways
            )
            for ways in self.masks.needs[step]
        )

    def settled(self, left: int, free: int) -> int:
        """Take off a set whatever of the free steps may be last, again and again.

        Doing it as late as that costs nothing and stands in nobody's way: a step alone may go,
        and within the group that is open each of its steps, but none that clears a way.
        """
        if not self.careful and not self.grouped:
            return self.shrunk(left, free)
        for step in self.settling(left, free):
            left ^= 1 << step
        return left

    def settling(self, left: int, free: int) -> Iterator[int]:
        """Yield what `settled` takes off, the last step first."""
        free &= ~self.clearing
        again = True
        while again:
            again = False
            scope = self.scope(left)
            if scope == self.every:
                scope = ~self.grouped
            for step in steps_in(free & left & scope):
                if not self.after[step] & left and self.may_be_last(step, left):
                    left ^= 1 << step
                    again = True
                    yield step
                    if self.grouped >> step & 1:
                        break  # the group may be done with now
