"""What was done, in which order, and what has to be done again."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from sequencer.model.assembly import Assembly


class History:
    """Steps by number, as they were done, of a model of so many.

    Attributes
    ----------
    done : tuple of int
        In the order in which they were.
    turn : dict of int to int
        For each of them its place in that order, from 0.
    turns, flags : list of int, bytearray
        For each step of the model its place too, or a number above all of them; and 1 if done.
    redo : frozenset of int
        Those that have to come out.
    again : tuple of int
        Those to do afresh in their place.
    """

    def __init__(
        self, steps: int, done: Sequence[int], redo: Iterable[int] = (), again: Sequence[int] = ()
    ) -> None:
        self.done = tuple(done)
        self.turn = {step: turn for turn, step in enumerate(self.done)}
        self.turns = [steps] * steps
        self.flags = bytearray(steps)
        for turn, step in enumerate(self.done):
            self.turns[step] = turn
            self.flags[step] = 1
        self.redo = frozenset(redo)
        self.again = tuple(again)

    def among_done(self, steps: Iterable[int]) -> list[int]:
        """Return those of the steps that were done."""
        return [step for step in steps if step in self.turn]


def fitters_of(assembly: Assembly, skipped: Collection[int] = ()) -> dict[str, list[int]]:
    """Return for each part the steps that fit it, in trials too, but for those left out."""
    found: dict[str, list[int]] = {}
    for number, step in enumerate(assembly.steps):
        for fit in step.fits if number not in skipped else ():
            found.setdefault(fit.part, []).append(number)
    return found
