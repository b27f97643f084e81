"""What holds for a joint: its own thread, grade and surface, or the model's, and how known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import Band, TradeError, Unknown
from sequencer.trade.nut_factors import SCATTER, NutFactor, nut_factor_for
from sequencer.trade.strengths import own_strength, strength_of
from sequencer.trade.threads import read_thread

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.model.assembly import Defaults
    from sequencer.model.compounds import Compound
    from sequencer.model.fastening import Grade, Joint
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread

_NO_CHECK = "so the torque is not checked against the bolt"

# What the kind of a compound says about friction: a word in it, and the surface of the table.
_KINDS = (
    ("threadlock", "threadlocker"),
    ("thread lock", "threadlocker"),
    ("thread-lock", "threadlocker"),
    ("locker", "threadlocker"),
    ("anti-seize", "anti-seize"),
    ("antiseize", "anti-seize"),
    ("moly", "moly"),
    ("oil", "oiled"),
    ("grease", "oiled"),
)


@dataclass(frozen=True, slots=True)
class Surface:
    """What is on the threads: the word or compound's id as given, how to say it, and its K.

    `kind` is the surface of the table of nut factors that it counts as; empty if not known.
    """

    given: str
    label: str
    kind: str
    factor: NutFactor


@dataclass(frozen=True, slots=True)
class InForce:
    """Thread, grade and surface of a joint; an unknown one says in words what that turns off."""

    thread: Thread | Unknown
    grade: Grade | None
    strength: Strength | Unknown
    surface: Surface


def in_force(joint: Joint, defaults: Defaults, compounds: Mapping[str, Compound]) -> InForce:
    """Return what holds for a joint, with the model's defaults where it says nothing."""
    thread = thread_of(joint.thread)
    grade = joint.grade or defaults.grade
    surface = surface_of(joint.surface or defaults.surface, compounds)
    return InForce(thread, grade, strength_in(grade, thread), surface)


def thread_of(typed: str) -> Thread | Unknown:
    """Return the thread that a text names; or the words why nothing is reckoned from it."""
    if not typed.strip():
        return Unknown(f"no thread is given, {_NO_CHECK}")
    try:
        return read_thread(typed)
    except TradeError as error:
        return Unknown(f"{error.what}, {_NO_CHECK}")


def strength_in(grade: Grade | None, thread: Thread | Unknown) -> Strength | Unknown:
    """Return the strength of a grade in a thread: the maker's own figure before any table."""
    if isinstance(thread, Unknown):
        return thread
    if grade is None or grade.proof is None:
        return strength_of(grade.name if grade else "", thread)
    if grade.proof.value <= 0:
        return Unknown(f"a proof stress of {grade.proof.text.strip()} carries nothing, {_NO_CHECK}")
    return own_strength(grade.proof, grade.source)


def surface_of(given: str, compounds: Mapping[str, Compound]) -> Surface:
    """Return what a surface is: a word of the table, or a compound with its maker's nut factor.

    A maker's figure gets the scatter of a torque wrench on a lubricated thread, ±25 %
    (NASA-STD-5020B, table 3): it is as uncertain in a hand as any other.
    """
    compound = compounds.get(given)
    if compound is None:
        return Surface(given, given, given, nut_factor_for(given))
    kind = next((kind for word, kind in _KINDS if word in compound.kind.casefold()), "")
    own = compound.nut_factor
    if own is None or own <= 0:
        return Surface(given, compound.label, kind, nut_factor_for(kind))
    scatter = SCATTER["torque, lubricated"]["NASA-STD-5020B"]
    usual = float(own)
    band = Band(usual / (1 + scatter), usual / (1 - scatter))
    return Surface(given, compound.label, kind, NutFactor(compound.label, band, usual, "its maker"))
