"""What taking a step back costs: minutes, and money weighed in minutes.

Costs are whole numbers of a billionth of a minute, so that sums are exact and equal costs are
equal.
"""

from __future__ import annotations

from functools import cache, cached_property
from typing import TYPE_CHECKING

from sequencer.model.complete import step_minutes
from sequencer.planning.mending.fastened import Fastened

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from sequencer.model.assembly import Assembly

MINUTE = 1_000_000_000
NO_RETURN = 10**9 * MINUTE
"""What a step marked `never` counts where it is only asked which of them stand in the way."""


class Costs:
    """The costs of one model, each worked out when it is first asked for.

    Attributes
    ----------
    again, back, back_and_again : callable
        For a step, by number: to do it again; to take it back; both together.
    handled : callable
        For a step, by number: the parts that it fits or takes off, but in a trial.
    fastened : Fastened
        Which fasteners taking steps back spoils.
    skipped : frozenset of int
        The steps left out with leave: there is nothing of them, so they cost nothing.
    """

    def __init__(self, assembly: Assembly, skipped: Iterable[int] = (), no_return: int = 0) -> None:
        self.no_return = no_return
        self.skipped = frozenset(skipped)
        self.assembly = assembly
        self.steps = assembly.steps
        self.parts = {part.id: part for part in assembly.parts}
        self.in_trial = frozenset(link.to for trial in assembly.trials for link in trial.steps)
        self.rate = float(assembly.handling.rate or 1)
        trials = {number for number, step in enumerate(self.steps) if step.id in self.in_trial}
        self.fastened = Fastened(assembly, self.skipped | trials)
        self.once = frozenset(part.id for part in assembly.parts if part.once or part.renew)
        self.again: Callable[[int], int] = cache(self._again)
        self.back: Callable[[int], int] = cache(self._back)
        self.back_and_again: Callable[[int], int] = cache(self._back_and_again)
        self.handled: Callable[[int], tuple[str, ...]] = cache(self._handled)

    def _again(self, step: int) -> int:
        if step in self.skipped:
            return 0
        return round(step_minutes(self.steps[step], self.assembly)[0] * MINUTE)

    def _back(self, number: int) -> int:
        """Return the time stated, else the step's own if something has to come off or loose."""
        if number in self.skipped:
            return 0
        step = self.steps[number]
        more = self.no_return if step.undo is not None and step.undo.never else 0
        if step.undo is not None and step.undo.time is not None:
            return more + round(step.undo.time.si / 60 * MINUTE)
        handles = step.fits or step.takes_off or step.tighten or step.torque
        return more + (self.again(number) if handles and step.id not in self.in_trial else 0)

    @cached_property
    def plain(self) -> bytes:
        """For each step 1 if taking it back neither spoils a part nor asks for more."""
        return bytes(map(self._is_plain, range(len(self.steps))))

    def _back_and_again(self, step: int) -> int:
        return self.back(step) + self.again(step)

    def _is_plain(self, number: int) -> bool:
        step = self.steps[number]
        if number in self.skipped:
            return True
        if step.undo is not None or number in self.fastened.together:
            return False
        return not self.once or all(fit.part not in self.once for fit in step.fits)

    def spoiled_by(self, number: int) -> list[str]:
        """Return the parts that taking a step back spoils."""
        if self.plain[number]:
            return []
        step = self.steps[number]
        named = [link.to for link in step.undo.spoils] if step.undo is not None else []
        once = [fit.part for fit in step.fits if fit.part in self.once]
        return list(dict.fromkeys((*named, *once)))

    def _handled(self, number: int) -> tuple[str, ...]:
        step = self.steps[number]
        if step.id in self.in_trial or number in self.skipped:
            return ()
        return (*(fit.part for fit in step.fits), *(link.to for link in step.takes_off))

    @cached_property
    def renewed(self) -> dict[int, list[str]]:
        """For each step that fits parts that are new each time they go in: these parts."""
        always = {part.id for part in self.assembly.parts if part.renew}
        fitted = {
            number: [fit.part for fit in step.fits if fit.part in always]
            for number, step in enumerate(self.steps)
            if number not in self.skipped
        }
        return {number: parts for number, parts in fitted.items() if parts}

    def count_on(self, part: str, fitters: Iterable[int]) -> int:
        """Return how many of a part the steps that fit it have put on; all of it where unsaid."""
        whole = self.parts[part].quantity if part in self.parts else 1
        counts = [f.count for step in fitters for f in self.steps[step].fits if f.part == part]
        stated = [count for count in counts if count is not None]
        return min(whole, sum(stated)) if stated and len(stated) == len(counts) else whole

    def price(self, part: str, count: int) -> int:
        """Return what so many of a part cost, in time."""
        known = self.parts.get(part)
        if known is None or known.price is None:
            return 0
        return round(float(known.price) * count / self.rate * MINUTE)
