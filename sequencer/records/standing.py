"""How a unit stands after some of its steps: what is on, loose, begun, and may it be left so."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import State, Step


@dataclass(frozen=True, slots=True)
class Standing:
    """What holds after the steps done so far, each thing by its id.

    Attributes
    ----------
    on : mapping of str to int
        How many of each part are on; those of a trial only while that is under way.
    aids : tuple of str
        Parts fitted for a time that are still on.
    loose : tuple of str
        Steps that left something loose which not all steps that make it fast were done since.
    loosened : tuple of str
        Joints that are loosened, and steps whose parts are.
    begun : tuple of tuple of str
        Groups and trials begun and not finished: the steps of each that are still to be done.
    lasting : tuple of str
        States begun and not ended.
    barring : tuple of str
        Those of them that keep a position or bar a step.
    """

    on: Mapping[str, int]
    aids: tuple[str, ...]
    loose: tuple[str, ...]
    loosened: tuple[str, ...]
    begun: tuple[tuple[str, ...], ...]
    lasting: tuple[str, ...]
    barring: tuple[str, ...]

    @property
    def is_rest_point(self) -> bool:
        """Whether the job may be left as it stands, as far as the model knows."""
        return not (self.loose or self.loosened or self.begun or self.barring)


def standing(assembly: Assembly, done: Sequence[str]) -> Standing:
    """Return how a unit stands once these steps were done in this order."""
    by_id = {step.id: step for step in assembly.steps}
    steps = [by_id[step] for step in done if step in by_id]
    on = _on(assembly, steps)
    lasting = tuple(state for state in assembly.states if _lasts(state, set(done)))
    barred = {link.to for step in assembly.steps for link in step.not_while}
    return Standing(
        on=on,
        aids=tuple(part.id for part in assembly.parts if part.aid and on.get(part.id)),
        loose=tuple(_loose(assembly, steps)),
        loosened=tuple(_loosened(assembly, steps)),
        begun=tuple(_begun(assembly, set(done))),
        lasting=tuple(state.id for state in lasting),
        barring=tuple(state.id for state in lasting if state.keep or state.id in barred),
    )


def _on(assembly: Assembly, steps: Sequence[Step]) -> Mapping[str, int]:
    quantity = {part.id: part.quantity for part in assembly.parts}
    trial_of = {link.to: trial.id for trial in assembly.trials for link in trial.steps}
    names = {step.id for step in steps}
    under_way = {
        trial.id for trial in assembly.trials if any(link.to not in names for link in trial.steps)
    }
    on = Counter({part.id: part.quantity for part in assembly.parts if part.at_start})
    for step in steps:
        if trial_of.get(step.id, "") in under_way or step.id not in trial_of:
            for link in step.takes_off:
                on[link.to] = 0
            for fit in step.fits:
                left = max(quantity.get(fit.part, 1) - on[fit.part], 1)
                on[fit.part] += left if fit.count is None else fit.count
    return {part: count for part, count in on.items() if count}


def _loose(assembly: Assembly, steps: Sequence[Step]) -> Iterator[str]:
    for at, step in enumerate(steps):
        if "loose" in step.leaves:
            fast = [one for one in assembly.steps if _secures(one, step.id)]
            if not _is_fast(fast, steps[at + 1 :]):
                yield step.id


def _loosened(assembly: Assembly, steps: Sequence[Step]) -> Iterator[str]:
    written = {step.id: at for at, step in enumerate(assembly.steps)}
    for at, step in enumerate(steps):
        for link in step.loosens:
            fast = [one for one in assembly.steps[written[step.id] + 1 :] if _makes_fast(one, link)]
            if not _is_fast(fast, steps[at + 1 :]):
                yield link.to


def _is_fast(fast: Sequence[Step], later: Sequence[Step]) -> bool:
    """Tell whether all that makes something fast was done since; what nothing does, stays loose."""
    return bool(fast) and {step.id for step in fast} <= {step.id for step in later}


def _secures(step: Step, name: str) -> bool:
    return any(link.to == name for link in step.secures)


def _makes_fast(step: Step, link: Link) -> bool:
    if link.kind == "joint":
        return any(other.to == link.to for other in step.tighten)
    return _secures(step, link.to)


def _begun(assembly: Assembly, done: set[str]) -> Iterator[tuple[str, ...]]:
    every = {step.id for step in assembly.steps}
    movements = [group.steps for group in assembly.together]
    for links in (*movements, *(trial.steps for trial in assembly.trials)):
        names = [link.to for link in links if link.to in every]
        left = tuple(name for name in names if name not in done)
        if left and len(left) < len(names):
            yield left


def _lasts(state: State, done: set[str]) -> bool:
    begun = any(link.to in done for link in state.begins)
    return begun and not all(link.to in done for link in state.ends)
