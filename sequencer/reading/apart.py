"""A model and those that it uses, each for itself: used ones are parts that come ready made."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.model.leaving_out import leave_out, path_before
from sequencer.model.parts import Part
from sequencer.model.prefixing import finished
from sequencer.model.rewriting import things_in
from sequencer.model.uses import BETWEEN
from sequencer.problem import Problem, has_errors, located
from sequencer.reading.whole import Whole, with_symbols

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.rewriting import Thing
    from sequencer.model.uses import Use
    from sequencer.problem import Path, Place
    from sequencer.reading.files import OneFile
    from sequencer.reading.whole import Layer


@dataclass(frozen=True, slots=True)
class Apart:
    """One of the models for itself, and its prefix in the whole (empty: the top one)."""

    prefix: str
    file: OneFile
    whole: Whole


def apart(layer: Layer, prefix: str = "", name: str = "") -> Iterator[Apart]:
    """Yield a model for itself, and then those that it uses, each followed by its own.

    What a model says of things inside a used one is left out of its own, and told in a note.
    """
    yield Apart(prefix, layer.file, _alone(layer, name))
    for use in layer.settled.assembly.uses:
        inner = layer.used[use.id]
        inside = f"{prefix}{BETWEEN}{use.id}" if prefix else use.id
        yield from apart(inner, inside, use.name)


def _alone(layer: Layer, name: str) -> Whole:
    settled = layer.settled
    uses = settled.assembly.uses
    ready = tuple(Part(id=use.id, name=_called(use, layer.used[use.id])) for use in uses)
    plain = replace(
        settled.assembly,
        uses=(),
        parts=(*settled.assembly.parts, *ready),
        title=name or settled.assembly.title,
    )
    inside = dict.fromkeys(_inside(layer), "")
    left = leave_out(plain, MappingProxyType({**inside, **settled.gone}))

    def find(path: Path) -> tuple[OneFile, Path]:
        return layer.file, path_before(left.kept, path)

    def place(path: Path) -> Place | None:
        return layer.file.places.value(path)

    problems = tuple(located(found, place) for found in (*left.problems, *_across(layer)))
    made = None if has_errors(problems) else with_symbols(finished(left.assembly))
    return Whole(made, problems, find)


def _called(use: Use, layer: Layer) -> str:
    inner = layer.settled.assembly
    return use.name or inner.title or inner.assembly


def _inside(layer: Layer) -> Iterator[Thing]:
    """Yield everything in used models, by its name in the using one."""
    for use, inner in layer.used.items():
        for kind, name in things_in(inner.joined.settled.assembly):
            yield kind, f"{use}{BETWEEN}{name}"


def _across(layer: Layer) -> Iterator[Problem]:
    """Yield a note for each relation of a step with something inside a used model."""
    uses = {use.id: _called(use, layer.used[use.id]) for use in layer.settled.assembly.uses}
    for step in layer.settled.assembly.steps:
        for field, links in (("after", step.after), ("before", step.before)):
            for at, link in enumerate(links):
                use, between, name = link.to.partition(BETWEEN)
                if between and use in uses and ("step", step.id) not in layer.settled.gone:
                    path = ("steps", step.id, field, at)
                    yield _in_another(step.id, f"{field} `{name}`", uses[use], path)


def _in_another(step: str, what: str, packet: str, path: Path) -> Problem:
    return Problem(
        "other-packet",
        "note",
        f"`{step}` comes {what}, which is in the packet of {packet}",
        step=step,
        path=path,
        why="neither packet shows the steps of the other",
        fix="agree at the bench on who waits for whom, or print one packet for all",
    )
