"""Whether a torque is meant for these fasteners: their strength, and what is on the threads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.in_force import surface_of
from sequencer.trade.saying import in_words
from sequencer.trade.strengths import strength_of
from sequencer.trade.torque_checks import reduced_for_surface

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.quantities import Amount
    from sequencer.trade.choosing import Candidate
    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.in_force import Surface
    from sequencer.trade.worked import WorkedJoint

_ON_THREADS = ("threadlocker", "anti-seize")
_AS_ADJECTIVE = ("dry", "oiled")


def about_what_it_is_for(one: Tightened) -> Iterator[Problem]:
    """Yield where the figure in use is for another surface, or another grade."""
    taken = one.torque.choice.taken if one.torque is not None else None
    if one.worked is None or taken is None or taken.value.amount is None:
        return
    yield from _surface(one, one.worked, taken)
    yield from _grade(one, one.worked, taken)


def _surface(one: Tightened, worked: WorkedJoint, taken: Candidate) -> Iterator[Problem]:
    ours = worked.in_force.surface
    theirs = surface_of(taken.surface, one.bench.compounds) if taken.surface else ours
    if theirs.given and ours.given and not _same(theirs, ours):
        yield _surface_mismatch(one, taken, theirs, ours)
    elif theirs.kind == "dry":
        yield from _put_on_dry_threads(one, taken, theirs)


def _same(one: Surface, other: Surface) -> bool:
    return one.given == other.given or (one.kind == other.kind and bool(one.kind))


def _surface_mismatch(one: Tightened, taken: Candidate, theirs: Surface, ours: Surface) -> Problem:
    said = f"the torque of {one.name} is for {_threads(theirs)}, and it has {_threads(ours)}"
    return _mismatch(
        one,
        said,
        (
            Fact(f"`{taken.text}` is for {_threads(theirs)}", (*one.torque_path(taken), "surface")),
            Fact(f"{one.name} has {_threads(ours)}", one.stated("surface")),
        ),
        _asked(taken.value.amount, theirs, ours),
    )


def _put_on_dry_threads(one: Tightened, taken: Candidate, dry: Surface) -> Iterator[Problem]:
    """Yield the first step that puts a compound for threads on threads said to be dry."""
    for step in one.steps:
        for at, applied in enumerate(step.apply):
            found = (surface_of(link.to, one.bench.compounds) for link in applied.compound)
            slippery = next((each for each in found if each.kind in _ON_THREADS), None)
            if slippery is None:
                continue
            said = (
                f"the torque of {one.name} is for dry threads, "
                f"and `{step.id}` puts {slippery.label} on"
            )
            where = ("surface",) if taken.surface else ()
            path = (*one.torque_path(taken), *where) if where else one.stated("surface")
            facts = (
                Fact("the threads are said to be dry", path),
                Fact(f"`{step.id}` puts {slippery.label} on", ("steps", step.id, "apply", at)),
            )
            yield _mismatch(one, said, facts, _asked(taken.value.amount, dry, slippery))
            return


def _mismatch(one: Tightened, said: str, facts: tuple[Fact, ...], asked: str) -> Problem:
    return Problem(
        "surface-mismatch",
        "warning",
        said,
        step=one.at,
        path=facts[0].path,
        facts=facts,
        why="what is on the threads changes the pull at one torque by half or more",
        fix=f"ask the maker for the figure for these threads{asked}",
    )


def _asked(amount: Amount | None, theirs: Surface, ours: Surface) -> str:
    """Return the reduced figure as a question, where the threads are slipperier than meant."""
    if amount is None:
        return ""
    found = reduced_for_surface(float(in_unit(amount, "N·m")), theirs.factor, ours.factor)
    if found is None:
        return ""
    per_unit = float(amount.unit.factor)
    ends = (found.usual_nm, found.band_nm.low, found.band_nm.high)
    usual, low, high = (in_words(end / per_unit, amount.unit) for end in ends)
    number = low.partition(" ")[0]
    return f": about {usual}, {number} to {high}, is what to ask about, and no figure to use"


def _threads(surface: Surface) -> str:
    if surface.given in _AS_ADJECTIVE:
        return f"{surface.given} threads"
    return f"{surface.label} on the threads"


def _grade(one: Tightened, worked: WorkedJoint, taken: Candidate) -> Iterator[Problem]:
    grade = worked.in_force.grade
    if grade is None or not taken.grade or _plain(taken.grade) == _plain(grade.label):
        return
    if _one_grade(worked, taken.grade):
        return
    yield Problem(
        "grade-mismatch",
        "warning",
        f"the torque of {one.name} is for grade {taken.grade}, "
        f"and its fasteners are grade {grade.label}",
        step=one.at,
        path=(*one.torque_path(taken), "grade"),
        facts=(
            Fact(f"`{taken.text}` is for grade {taken.grade}", (*one.torque_path(taken), "grade")),
            Fact(f"the fasteners are grade {grade.label}", one.stated("grade")),
        ),
        why="a figure belongs to one strength of fastener: on a weaker one it is too much",
        fix="look the figure up for the fasteners that are there, or get those that it is for",
    )


def _plain(word: str) -> str:
    return " ".join(word.split()).casefold()


def _one_grade(worked: WorkedJoint, theirs: str) -> bool:
    """Tell whether two spellings name one grade of the tables."""
    thread, ours = worked.in_force.thread, worked.in_force.strength
    if isinstance(thread, Unknown) or isinstance(ours, Unknown):
        return False
    found = strength_of(theirs, thread)
    return not isinstance(found, Unknown) and found.grade == ours.grade
