"""Compounds that set, by what was done: what opens them again, and the cleaning they need anew.

Once such a compound was on, it has to be taken off before it is put on again: so what closes it
cannot be opened without doing it afresh, nor can it be done afresh without its cleaning.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.common import Link
from sequencer.model.steps import Undo
from sequencer.planning.timing.coats import Coats
from sequencer.records.entries import Done

if TYPE_CHECKING:
    from collections.abc import Container, Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Compound
    from sequencer.model.steps import Step
    from sequencer.records.entries import Entry


class Cleaning(NamedTuple):
    """A step that cleans a surface for a compound, and the step that puts that on; all by id."""

    step: str
    coat: str
    compound: str
    surface: str

    @property
    def said(self) -> str:
        """Why the cleaning is to be done afresh."""
        return f"`{self.coat}` is to put `{self.compound}` on anew: what is left of it comes off"


def opened_again(assembly: Assembly, order: Sequence[str]) -> Assembly:
    """Return a model in which to take back what closes a compound means to do that afresh.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        The steps done, in the order in which each was done last.
    """
    afresh: dict[str, list[str]] = {}
    for coat in _coats(assembly, order).on:
        for turn in coat.closed if _sets(coat.compound) else ():
            if turn != coat.turn:
                afresh.setdefault(order[turn], []).append(order[coat.turn])
    steps = (
        replace(step, undo=_asking(step.undo, afresh[step.id])) if step.id in afresh else step
        for step in assembly.steps
    )
    return replace(assembly, steps=tuple(steps)) if afresh else assembly


def _asking(undo: Undo | None, steps: Sequence[str]) -> Undo:
    stated = undo if undo is not None else Undo()
    there = {link.to for link in stated.again}
    more = (Link(step) for step in dict.fromkeys(steps) if step not in there)
    return replace(stated, again=(*stated.again, *more))


def cleaning_for(
    assembly: Assembly, order: Sequence[str], steps: Container[str]
) -> tuple[Cleaning, ...]:
    """Return the cleaning that some of the steps done need anew once they are done afresh.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        The steps done, in the order in which each was done last.
    steps : container of str
        Those to be done afresh.
    """
    coats = _coats(assembly, order)
    found: dict[Cleaning, None] = {}
    for coat in coats.on:
        cleaned = coats.last_cleaned(coat.surface, coat.turn)
        if order[coat.turn] in steps and _sets(coat.compound) and cleaned is not None:
            one = Cleaning(order[cleaned], order[coat.turn], coat.compound.id, coat.surface)
            if one.step != one.coat:
                found[one] = None
    return tuple(found)


def worn_cleaning(
    assembly: Assembly, done: Mapping[str, Entry], entries: Sequence[Entry]
) -> tuple[Cleaning, ...]:
    """Return the cleaning that was used up: since then its compound was put on, and taken back.

    Parameters
    ----------
    assembly : Assembly
        The model.
    done : mapping of str to Entry
        The steps done, each with the last entry that says so.
    entries : sequence of Entry
        All that counts of the log, in order.
    """
    if not any(map(_sets, assembly.compounds)):
        return ()
    ever = {
        step: entry.number
        for entry in entries
        if isinstance(entry.what, Done)
        for step in entry.what.steps
    }
    return tuple(
        Cleaning(last.id, step.id, compound.id, surface)
        for step in assembly.steps
        if step.id in ever and step.id not in done
        for compound, surface in _put_on(assembly, step)
        if (last := _last_cleaner(assembly, surface, done)) is not None
        and last.id != step.id
        and done[last.id].number <= ever[step.id]
    )


def _last_cleaner(assembly: Assembly, surface: str, done: Mapping[str, Entry]) -> Step | None:
    cleaners = [
        step
        for step in assembly.steps
        if step.id in done and any(link.to == surface for link in step.cleans)
    ]
    return max(cleaners, key=lambda step: done[step.id].number, default=None)


def _put_on(assembly: Assembly, step: Step) -> Iterator[tuple[Compound, str]]:
    """Yield the compounds that a step puts on and that set, each with its surface."""
    compounds = {one.id: one for one in assembly.compounds}
    for applied in step.apply:
        for link in applied.compound:
            compound = compounds.get(link.to)
            if compound is not None and _sets(compound):
                yield from ((compound, surface.to) for surface in applied.to)


def _coats(assembly: Assembly, order: Sequence[str]) -> Coats:
    index = {step.id: number for number, step in enumerate(assembly.steps)}
    return Coats(assembly, [index[step] for step in order])


def _sets(compound: Compound) -> bool:
    return bool(compound.open or compound.fixture or compound.cure)
