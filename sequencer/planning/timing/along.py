"""One order of a model, with the clock and the surfaces followed along it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.timing.clock import Clock
from sequencer.planning.timing.coats import Coats
from sequencer.problem import Fact

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.steps import Step
    from sequencer.planning.timing.clock import Timed

_VERBS = {"cleans": "cleans it", "closes": "closes it", "loads": "loads it"}


class Along:
    """An order of step numbers, each at most once, and what it makes of times and surfaces."""

    def __init__(self, model: Timed, order: Sequence[int]) -> None:
        self.model = model
        self.order = order
        self.clock = Clock(model, order)
        self.coats = Coats(model.assembly, order)
        self._excluded = {
            link.to for compound in model.assembly.compounds for link in compound.not_with
        }

    def is_excluded(self, compound: str) -> bool:
        """Tell whether any compound must not meet this one."""
        return compound in self._excluded

    def step(self, number: int) -> Step:
        """Return a step by its number."""
        return self.model.assembly.steps[number]

    def step_at(self, turn: int) -> Step:
        """Return the step that is done at a turn."""
        return self.step(self.order[turn])

    def id(self, number: int) -> str:
        """Return the id of a step."""
        return self.step(number).id

    def name(self, number: int) -> str:
        """Return the id of a step in backticks."""
        return f"`{self.step(number).id}`"

    def fact_of(self, number: int, field: str, surface: str) -> Fact:
        """Return that a step cleans, closes or loads a surface."""
        step = self.step(number)
        links = {"cleans": step.cleans, "closes": step.closes, "loads": step.loads}[field]
        item = next(item for item, link in enumerate(links) if link.to == surface)
        path = ("steps", step.id, field, item)
        return Fact(f"`{step.id}` {_VERBS[field]}", path, links[item].why)
