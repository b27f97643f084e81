"""Heated parts that cool down before the step that fits them is over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly


def about_heated_parts(assembly: Assembly) -> Iterator[Problem]:
    """Yield each step that fits what it heats, and by its stated time takes longer than it has."""
    for step in assembly.steps:
        heat, time = step.heat, step.time
        if heat is None or heat.fit_within is None or time is None:
            continue
        part = heat.part[0].to
        if time.si <= heat.fit_within.si or all(fit.part != part for fit in step.fits):
            continue
        within, takes = heat.fit_within.text.strip(), time.text.strip()
        here = ("steps", step.id, "heat", "fit_within")
        yield Problem(
            "cools-first",
            "warning",
            f"`{step.id}` takes {takes}, and `{part}`, hot, has to be in its place within {within}",
            step=step.id,
            path=here,
            facts=(
                Fact(f"`{part}` has to be in its place within {within}", here, heat.why),
                Fact(f"`{step.id}` takes {takes}", ("steps", step.id, "time")),
            ),
            why="it grips before it is home, and then neither goes on nor comes off",
            fix="lay all else ready in a step before, and let this one begin when the part is hot",
        )
