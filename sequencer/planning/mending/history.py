"""What was done, in which order, and what has to be done again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.assembly import Assembly


@dataclass(frozen=True, slots=True)
class History:
    """Steps by number, as they were done; `redo` are to come out, `again` are done in place."""

    done: tuple[int, ...]
    redo: frozenset[int]
    again: tuple[int, ...]
    turn: dict[int, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.turn.update((step, turn) for turn, step in enumerate(self.done))

    def among_done(self, steps: Iterable[int]) -> list[int]:
        """Return those of the steps that were done."""
        return [step for step in steps if step in self.turn]


def fitters_of(assembly: Assembly) -> dict[str, list[int]]:
    """Return for each part the steps that fit it, in trials too."""
    found: dict[str, list[int]] = {}
    for number, step in enumerate(assembly.steps):
        for fit in step.fits:
            found.setdefault(fit.part, []).append(number)
    return found
