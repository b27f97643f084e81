"""Rules about surfaces: a compound with times goes on one, and what is closed was coated."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

from sequencer.model.uses import BETWEEN
from sequencer.problem import Problem
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.reading.source import Sound


def compounds_go_on_surfaces(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield where a compound that sets goes on, and nothing says on which surface."""
    judged = {
        compound.id
        for compound in assembly.compounds
        if compound.open or compound.fixture or compound.cure or _sets(compound.wants)
    }
    for step in assembly.steps:
        for at, applied in enumerate(step.apply):
            path = ("steps", step.id, "apply", at)
            named = next((link.to for link in applied.compound if link.to in judged), None)
            if named is None or applied.to or not sound(path):
                continue
            yield Problem(
                "no-surface",
                "warning",
                f"`{step.id}` puts `{shortened(named)}` on, and does not say on which surface",
                step=step.id,
                path=path,
                why="whether that is clean, closed in time and loaded late enough is not judged",
                fix=f"write `apply: {{compound: {named}, to: …}}`, and the same name under "
                "`cleans`, `closes` and `loads`",
            )


def _sets(wants: tuple[str, ...]) -> bool:
    """Tell whether a compound is one that sets: those want it dry, and a lubricant does not."""
    return any(word.strip().lower() == "dry" for word in wants)


def what_is_closed_was_coated(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield the surfaces that are closed or loaded under a name which no other step has.

    Of one file, whatever is chosen: a step that coats one may be left out by a condition. What a
    used model coats is known there.
    """
    if not sound(("steps",)):
        return
    coated = [link.to for step in assembly.steps for applied in step.apply for link in applied.to]
    known = dict.fromkeys(coated)
    known |= dict.fromkeys(link.to for step in assembly.steps for link in step.cleans)
    known |= dict.fromkeys(surface.id for surface in assembly.surfaces)
    for step in assembly.steps:
        for field, links in (("closes", step.closes), ("loads", step.loads)):
            for at, link in enumerate(links):
                if link.to in known or BETWEEN in link.to:
                    continue
                near = difflib.get_close_matches(link.to, list(known), n=1)
                yield Problem(
                    "no-surface",
                    "warning",
                    f"`{step.id}` {field} `{shortened(link.to)}`, and no step puts anything on it",
                    step=step.id,
                    path=("steps", step.id, field, at),
                    why="what was put on under another name is taken not to be closed or loaded",
                    fix=f"did you mean `{near[0]}`?"
                    if near
                    else "call it as the step that puts the compound on does",
                )
