"""What the steps of an order leave behind on the finished unit, and so what is undone with each.

Of a part that came off on the way only the last stay counts; of an aid every stay does, for an aid
that helped it in helps it out. Of a joint that was loosened again only what tightened it since
counts. Nothing of a trial stays.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.steps import Step


@dataclass(slots=True)
class LeftBehind:
    """What one step leaves: parts on, aids off, joints tight, steps secured, its own torque."""

    on: dict[str, int] = field(default_factory=dict)
    aids_off: dict[str, int] = field(default_factory=dict)
    tight: list[str] = field(default_factory=list)
    secured: list[str] = field(default_factory=list)
    torque: bool = False
    told: bool = False

    def __bool__(self) -> bool:
        """Tell whether there is anything to undo."""
        return bool(
            self.on or self.aids_off or self.tight or self.secured or self.torque or self.told
        )


def left_behind(assembly: Assembly, order: Sequence[str]) -> dict[str, LeftBehind]:
    """Return for each step, in the order given, what of it is on the finished unit."""
    walk = _Walk(assembly)
    steps = {step.id: step for step in assembly.steps}
    for name in order:
        if name not in walk.in_trials:
            walk.do(steps[name])
    return {name: walk.found.get(name, LeftBehind()) for name in order}


class _Walk:
    """Goes along an order, and takes back what later steps undo."""

    def __init__(self, assembly: Assembly) -> None:
        self.parts = {part.id: part for part in assembly.parts}
        self.in_trials = {link.to for trial in assembly.trials for link in trial.steps}
        self.found: dict[str, LeftBehind] = {}
        self.on = Counter({part.id: part.quantity for part in assembly.parts if part.at_start})
        self.fitted: Counter[str] = Counter()

    def do(self, step: Step) -> None:
        own = self.found[step.id] = LeftBehind()
        for link in step.takes_off:
            self._take_off(own, link.to)
        for link in step.loosens:
            self._loosen(link.kind, link.to)
        for fit in step.fits:
            left = max(self.parts[fit.part].quantity - self.on[fit.part], 1)
            count = left if fit.count is None else fit.count
            self.on[fit.part] += count
            self.fitted[fit.part] += count
            own.on[fit.part] = own.on.get(fit.part, 0) + count
        own.tight = [link.to for link in step.tighten]
        own.secured = [link.to for link in step.secures]
        own.torque = step.torque is not None and not step.tighten
        undo = step.undo
        own.told = undo is not None and bool(undo.do or undo.never or undo.spoils)

    def _take_off(self, own: LeftBehind, part: str) -> None:
        self.on[part] = 0
        fitted = self.fitted.pop(part, 0)
        if self.parts[part].aid:
            if fitted:
                own.aids_off[part] = fitted
            return
        for earlier in self.found.values():
            earlier.on.pop(part, None)

    def _loosen(self, kind: str, name: str) -> None:
        for earlier in self.found.values():
            if kind == "joint":
                earlier.tight = [joint for joint in earlier.tight if joint != name]
            else:
                earlier.secured = [step for step in earlier.secured if step != name]
        if kind == "step" and name in self.found:
            self.found[name].tight, self.found[name].torque = [], False
