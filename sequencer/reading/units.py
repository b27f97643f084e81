"""Rules about units, which are built on the bench and then fitted as one part."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.model.complete import complete
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.steps import Step
    from sequencer.reading.source import Sound

_MOST_LISTED = 6


def units_are_whole_before_they_are_fitted(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield units that go into themselves, straight or in a circle, and those that none builds."""
    if not assembly.units or not sound(("units",)) or not sound(("steps",)):
        return
    steps = complete(assembly).steps
    goes_in: dict[str, dict[str, Fact]] = {unit.id: {} for unit in assembly.units}
    for unit in assembly.units:
        for index, link in enumerate(unit.base):
            if link.to in goes_in:
                path = ("units", unit.id, "base", index)
                fact = Fact(f"unit `{unit.id}` is built on `{link.to}`", path, link.why)
                goes_in[unit.id].setdefault(link.to, fact)
    for step in steps:
        for index, fit in enumerate(step.fits):
            if step.unit in goes_in and fit.part in goes_in:
                path = ("steps", step.id, "fits", index)
                fact = Fact(f"step `{step.id}` of unit `{step.unit}` fits `{fit.part}`", path)
                goes_in[step.unit].setdefault(fit.part, fact)
    yield from _circles(goes_in)
    yield from _unbuilt(assembly, steps)


def _circles(goes_in: dict[str, dict[str, Fact]]) -> Iterator[Problem]:
    """Yield each unit that goes into itself, and the first circle of several."""
    for unit, others in goes_in.items():
        fact = others.pop(unit, None)
        if fact is not None:
            yield Problem(
                "unit-circle",
                "error",
                f"unit `{unit}` goes into itself",
                path=fact.path,
                facts=(fact,),
                why="a unit has to be whole before it can be fitted",
                fix="name the part that is meant, or take the step out of the unit",
            )
    try:
        TopologicalSorter(goes_in).prepare()
    except CycleError as error:
        circle: list[str] = error.args[1]
        facts = tuple(goes_in[into][unit] for unit, into in pairwise(circle))
        names = [f"`{unit}`" for unit in circle[:-1]]
        if len(names) > _MOST_LISTED:
            names[_MOST_LISTED - 1 :] = [f"{len(names) - _MOST_LISTED + 1} others"]
        yield Problem(
            "unit-circle",
            "error",
            f"units {' and '.join(names)} go into each other in a circle",
            path=facts[0].path,
            facts=facts,
            why="a unit has to be whole before it can be fitted, so none could be the first",
            fix="one of these facts is wrong: name the part that is meant there",
        )


def _unbuilt(assembly: Assembly, steps: tuple[Step, ...]) -> Iterator[Problem]:
    built = {step.unit for step in steps}
    for unit in assembly.units:
        if unit.id not in built:
            yield Problem(
                "unused",
                "warning",
                f"unit `{unit.id}` is built by no step",
                path=("units", unit.id),
                why="nothing would have to be done before it is fitted",
                fix=f"write `unit: {unit.id}` in the steps that build it, or in their section;"
                " if it comes ready made, list it under `parts`",
            )


def units_have_one_base(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield units that name several parts to be built on."""
    for unit in assembly.units:
        path = ("units", unit.id, "base")
        if sound(path) and len({link.to for link in unit.base}) > 1:
            yield Problem(
                "unit-base",
                "error",
                f"unit `{unit.id}` is built on several parts",
                path=(*path, 1),
                why="the base is the one part that the others are fitted to",
                fix="keep the one that is there first",
            )
