"""Where a torque comes from: sources that disagree, a choice not made, no source at all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import in_unit
from sequencer.trade.saying import in_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.trade.choosing import Candidate
    from sequencer.trade.findings.tightened import Tightened


def about_sources(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about where the figures of a torque come from."""
    if one.torque is None:
        return
    choice = one.torque.choice
    if choice.odd:
        yield _units_disagree(one, choice.odd)
    elif choice.disagree and choice.taken is not None:
        yield _sources_disagree(one, choice.taken)
    if choice.taken is None:
        yield _not_chosen(one)
    bare = [each for each in choice.candidates if each.value.amount is not None and not each.source]
    if bare:
        yield _no_source(one, bare)


def _sources_disagree(one: Tightened, taken: Candidate) -> Problem:
    candidates = one.torque.choice.candidates if one.torque is not None else ()
    because = one.torque.choice.because if one.torque is not None else ""
    others = _listed([each for each in candidates if each is not taken])
    return Problem(
        "sources-disagree",
        "warning",
        f"the sources of {one.name} disagree: `{taken.text}` is taken, and not {others}",
        step=one.at,
        path=one.torque_path(),
        facts=(
            *(one.figure(each) for each in candidates),
            Fact(f"taken because: {because}", path=(*one.torque_path(), "because")),
        ),
        why="of figures that do not overlap at most one is right for this joint",
        fix="ask the maker which one holds, and leave out what does not",
    )


def _not_chosen(one: Tightened) -> Problem:
    candidates = one.torque.choice.candidates if one.torque is not None else ()
    return Problem(
        "not-chosen",
        "warning",
        f"no torque is chosen for {one.name}: its sources give {_listed(candidates)}",
        step=one.at,
        path=one.torque_path(),
        facts=tuple(one.figure(each) for each in candidates),
        why="nothing is printed to tighten to, and every page is a DRAFT, until someone chooses",
        fix="find out which holds, write it as `value`, and say why under `because`",
    )


def _units_disagree(one: Tightened, odd: Sequence[Candidate]) -> Problem:
    candidates = one.torque.choice.candidates if one.torque is not None else ()
    same = [each for each in candidates if each.source in {wrong.source for wrong in odd}]
    which = (
        f"{_listed(odd)} is the odd one out"
        if len(odd) == 1
        else f"{_listed(odd)} cannot both be right"
    )
    return Problem(
        "units-disagree",
        "warning",
        f"one source gives {one.name} figures that are not the same: {which}",
        step=one.at,
        path=one.torque_path(odd[0]),
        facts=tuple(_in_newton_metres(one, each) for each in same),
        why="one of them is a slip, and the builder may tighten to that one",
        fix="look the figure up again in its source, and mend the one that is wrong",
    )


def _in_newton_metres(one: Tightened, candidate: Candidate) -> Fact:
    amount = candidate.value.amount
    text = f"`{candidate.text}`"
    if amount is not None and amount.unit.symbol != "N·m" and amount.low == amount.high:
        text += f" is {in_words(in_unit(amount, 'N·m'), 'N·m')}"
    return Fact(text, path=one.torque_path(candidate), why=candidate.why)


def _no_source(one: Tightened, bare: Sequence[Candidate]) -> Problem:
    what = (
        f"the torque of {one.name} has no source"
        if not bare[0].path
        else f"{_listed(bare)} of {one.name} has no source"
    )
    return Problem(
        "no-source",
        "note",
        what,
        step=one.at,
        path=one.torque_path(bare[0]),
        why="nobody can look the figure up again, and the sheet says that no source is given",
        fix="write its `source`, or one for the whole model: `defaults: {source: …}`",
    )


def _listed(candidates: Sequence[Candidate]) -> str:
    texts = [f"`{each.text}`" for each in candidates]
    return " and ".join([", ".join(texts[:-1]), texts[-1]] if texts[1:] else texts)
