"""What a mend starts from, and why, in words: from a build log, or as a person says it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending.results import Mend, Revised
    from sequencer.problem import Problem


class Paper(NamedTuple):
    """Which packet: its issue letter and the fingerprint at the foot of its pages."""

    issue: str
    fingerprint: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """Where a job stood, and what of it is not as it should be.

    Attributes
    ----------
    done : tuple of str
        The steps done, in the order in which they were, those left out with leave among them.
    order : tuple of str
        The printed order, which numbers the steps.
    was, now : Paper
        The packet that was built by so far, and that of the model as it is.
    numbered_by : Paper
        The one of the two whose numbers `order` gives.
    redo : mapping of str to str
        Steps that have to come out and in again, each with why.
    again : mapping of str to str
        Steps to be done afresh where they are, each with why.
    skipped : tuple of str
        Those of `done` that were left out: there is nothing of them to take back.
    begun : mapping of str to str
        Steps begun and not done, with how far they got.
    awaited : mapping of str to str
        Parts that are not there, with until when; empty where nobody said.
    spoiled : tuple of str
        Parts that cannot be used any more.
    cleaning : mapping of str to tuple of str
        Steps of `again` that only clean, each with those that want it clean.
    signed : frozenset of str or None
        The steps whose hold point is signed; None if nobody knows.
    unit : str
        The serial number of what is built.
    findings : tuple of Problem
        What only a person can decide: a lowered torque, a step that the model has no more.
    """

    done: tuple[str, ...]
    order: tuple[str, ...]
    was: Paper
    now: Paper
    numbered_by: Paper
    redo: Mapping[str, str] = field(default_factory=dict)
    again: Mapping[str, str] = field(default_factory=dict)
    skipped: tuple[str, ...] = ()
    begun: Mapping[str, str] = field(default_factory=dict)
    awaited: Mapping[str, str] = field(default_factory=dict)
    spoiled: tuple[str, ...] = ()
    cleaning: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    signed: frozenset[str] | None = None
    unit: str = ""
    findings: tuple[Problem, ...] = ()

    def and_also(self, redo: Sequence[str], again: Sequence[str]) -> Mistake:
        """Return the same with steps to redo, and to do afresh, that a person names besides.

        A step left out with leave was never done: to name it takes the leave back, so that it
        counts as forgotten.
        """
        back = {step for step in self.skipped if step in redo or step in again}
        return replace(
            self,
            done=tuple(step for step in self.done if step not in back),
            skipped=tuple(step for step in self.skipped if step not in back),
            redo={**{step: "" for step in redo if step not in back}, **self.redo},
            again={**{step: "" for step in again if step not in back}, **self.again},
        )

    def all_known_better(self, revised: Revised, assembly: Assembly) -> Revised:
        """Return every mend of a result with what the log knows, see `known_better`."""
        if revised.mend is None:
            return revised
        return replace(
            revised,
            mend=self.known_better(revised.mend, assembly),
            others=tuple(self.known_better(other, assembly) for other in revised.others),
        )

    def known_better(self, mend: Mend, assembly: Assembly) -> Mend:
        """Return a mend with what the log knows: parts spoiled, signatures given.

        Parts that are spoiled already have to be had new as well. Only what is signed can lose its
        signature, also by being done afresh where it is.
        """
        do = self._cleaned(mend)
        prepare = {*mend.prepare, *(step for step in mend.in_place if step in self.cleaning)}
        holds = {step.id for step in assembly.steps if step.hold}
        repeated = [step for step in (*mend.undo, *mend.in_place) if step in holds]
        signed = repeated if self.signed is None else [s for s in repeated if s in self.signed]
        return replace(
            mend,
            do=tuple(do),
            prepare=tuple(step for step in do if step in prepare),
            renew={**mend.renew, **self._count(mend, assembly)},
            void=tuple(signed),
        )

    def _cleaned(self, mend: Mend) -> list[str]:
        """Return what is to be done with each cleaning just before what wants it clean."""
        do = list(mend.do)
        for step in mend.in_place:
            wanting = [one for one in self.cleaning.get(step, ()) if one in do]
            if wanting:
                do.remove(step)
                do.insert(min(map(do.index, wanting)), step)
        return do

    def _count(self, mend: Mend, assembly: Assembly) -> dict[str, int]:
        """Return how many of each spoiled part to have new, besides what the mend counts."""
        quantities = {part.id: part.quantity for part in assembly.parts}
        counts: dict[str, int] = {}
        for part in self.spoiled:
            fitted = [
                fit.count or quantities.get(part, 1)
                for step in assembly.steps
                if step.id in self.redo
                for fit in step.fits
                if fit.part == part
            ]
            if part not in mend.renew:
                counts[part] = sum(fitted) or 1
        return counts
