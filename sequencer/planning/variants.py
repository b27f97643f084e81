"""The choices that `one_of` leaves: for each, the model in which the other steps are not there."""

from __future__ import annotations

from dataclasses import replace
from itertools import islice, product
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import Step

MOST = 256


def variants(assembly: Assembly, most: int = MOST) -> Iterator[Assembly]:
    """Yield the model with exactly one step of each `one_of`, those written first before others.

    Relations and groups that name a step which is not there fall away. At most `most` variants
    are given.
    """
    if not assembly.one_of:
        yield assembly
        return
    choices = [[link.to for link in choice.steps] for choice in assembly.one_of]
    every = {step for choice in choices for step in choice}
    for chosen in islice(product(*choices), most):
        yield left_out(assembly, frozenset(every.difference(chosen)))


def fallbacks(assembly: Assembly, step: str) -> tuple[str, ...]:
    """Return the steps that may be done instead of a step, as written; none for most steps."""
    for choice in assembly.one_of:
        names = [link.to for link in choice.steps]
        if step in names:
            return tuple(name for name in names if name != step)
    return ()


def left_out(assembly: Assembly, gone: frozenset[str]) -> Assembly:
    """Return the model without some steps; relations and groups that name them fall away."""

    def kept(links: tuple[Link, ...]) -> tuple[Link, ...]:
        return tuple(link for link in links if link.kind != "step" or link.to not in gone)

    def cleaned(step: Step) -> Step:
        return replace(
            step,
            after=kept(step.after),
            before=kept(step.before),
            secures=kept(step.secures),
            loosens=kept(step.loosens),
        )

    return replace(
        assembly,
        steps=tuple(cleaned(step) for step in assembly.steps if step.id not in gone),
        together=tuple(replace(group, steps=kept(group.steps)) for group in assembly.together),
        trials=tuple(replace(trial, steps=kept(trial.steps)) for trial in assembly.trials),
    )
