"""What a torque does to its bolt: beyond its strength, next to nothing, or a unit that slipped."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.saying import in_words
from sequencer.trade.torque import USUAL_SHARE
from sequencer.trade.torque_checks import judge_torque

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.quantities import Amount
    from sequencer.trade.choosing import Candidate
    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread
    from sequencer.trade.torque_checks import TorqueCheck, UnitSlip

_AFTER = "look up the figure, the thread, the grade and the threads' surface again"


@dataclass(frozen=True, slots=True)
class Bolt:
    """The bolt that a figure is held against.

    `known` is False where its grade is not: `strength` is then the most that there is for the
    thread, or None where no table has one.
    """

    thread: Thread
    strength: Strength | None
    factor: NutFactor
    known: bool

    @property
    def words(self) -> str:
        """What to call it in a sentence."""
        grade = self.strength.grade if self.strength is not None else ""
        if self.known:
            return f"{self.thread.short} of grade {grade}"
        return f"{self.thread.short} of even the strongest grade, {grade},"


def about_pull(
    one: Tightened, candidate: Candidate, amount: Amount, bolt: Bolt
) -> Iterator[Problem]:
    """Yield what a torque does to its bolt that it should not; a slip of unit is told alone."""
    check = None
    if bolt.strength is not None:
        check = judge_torque(amount, bolt.thread, bolt.strength, bolt.factor)
        slip = check.unit_slip
        if slip is not None and (bolt.known or slip.ratio > 1):
            yield _slip(one, candidate, slip, _wants(check, bolt, amount))
            return
    slip = _over_published(amount, bolt.thread)
    if slip is not None:
        yield _slip(one, candidate, slip, _published(slip, bolt, amount))
    elif check is not None and one.torque is not None and candidate is one.torque.choice.taken:
        yield from _stress(one, candidate, check, bolt)


def _over_published(amount: Amount, thread: Thread) -> UnitSlip | None:
    """Return how many times the published most a figure is; the table has inch threads only."""
    if thread.metric:
        return None
    from sequencer.trade.published import published_slip

    return published_slip(amount, thread)


@dataclass(frozen=True, slots=True)
class _Measure:
    """What a figure that slipped is measured by: in a sentence, and as a fact."""

    sentence: str
    fact: str


def _wants(check: TorqueCheck, bolt: Bolt, amount: Amount) -> _Measure:
    usual = in_words(check.usual_nm / float(amount.unit.factor), amount.unit)
    return _Measure(
        f"what {bolt.words} wants",
        f"{bolt.words} on threads that are {bolt.factor.surface} wants about {usual}, "
        f"{_percent(USUAL_SHARE)} of its {check.limit_name}",
    )


def _published(slip: UnitSlip, bolt: Bolt, amount: Amount) -> _Measure:
    most = in_words(amount.si / slip.ratio / float(amount.unit.factor), amount.unit)
    return _Measure(
        f"the published most for {bolt.thread.short}",
        f"the published most for {bolt.thread.short} is {most} (FAA AC 43.13-1B, table 7-1)",
    )


def _slip(one: Tightened, candidate: Candidate, slip: UnitSlip, measure: _Measure) -> Problem:
    because = one.torque.choice.because if one.torque is not None else ""
    times = in_words(max(slip.ratio, 1 / slip.ratio), "")
    size = f"{times} times" if slip.ratio > 1 else f"{times} times less than"
    amount = candidate.value.amount
    in_other = "and would make sense in no unit that it is often mixed up with"
    if slip.unit is not None and amount is not None:
        in_other = f"and would make sense as {in_words(amount.value, slip.unit)}"
    too_much = slip.ratio > 1
    return Problem(
        "likely-unit-slip",
        "warning" if because else "error",
        f"`{candidate.text}` of {one.name} is {size} {measure.sentence}, {in_other}",
        step=one.at,
        path=one.torque_path(candidate),
        facts=(
            one.figure(candidate),
            Fact(measure.fact, path=(*one.path, "thread")),
            *(
                (Fact(f"because: {because}", path=(*one.torque_path(), "because")),)
                if because
                else ()
            ),
        ),
        why="the fastener would shear or strip its thread"
        if too_much
        else "the joint would be next to loose",
        fix="look the unit up again; if the figure is right as it stands, say why under `because`",
    )


def _stress(
    one: Tightened, candidate: Candidate, check: TorqueCheck, bolt: Bolt
) -> Iterator[Problem]:
    low, high = _percent(check.share.low), _percent(check.share.high)
    if check.over_stressed:
        yield Problem(
            "over-stressed",
            "warning",
            f"`{candidate.text}` pulls the {bolt.words} of {one.name} beyond its "
            f"{check.limit_name}: to {low} of it at least, and {high} at most",
            step=one.at,
            path=one.torque_path(candidate),
            facts=tuple(_rests_on(one, candidate, bolt)),
            why="a bolt pulled so far stays stretched, or breaks at a later tightening",
            fix=_AFTER,
        )
    elif check.slack and bolt.known:
        yield Problem(
            "slack",
            "warning",
            f"`{candidate.text}` pulls the {bolt.words} of {one.name} to at most {high} of its "
            f"{check.limit_name}",
            step=one.at,
            path=one.torque_path(candidate),
            facts=tuple(_rests_on(one, candidate, bolt)),
            why="below 30 % a bolt may shake loose, where it is the bolt that sets the figure",
            fix=f"{_AFTER}; a soft gasket or a thin cover may well want so little",
        )


def _rests_on(one: Tightened, candidate: Candidate, bolt: Bolt) -> Iterator[Fact]:
    yield one.figure(candidate)
    strength, factor = bolt.strength, bolt.factor
    if strength is not None:
        said = (
            f"{bolt.thread.short}, grade {strength.grade}: {in_words(strength.limit_mpa, 'MPa')} "
            f"at its {strength.limit_name} ({strength.source})"
        )
        yield Fact(said, path=(*one.path, "thread"))
    band = f"{factor.band.low:g} to {factor.band.high:g}"
    yield Fact(f"threads {factor.surface}: nut factor {band}", path=one.stated("surface"))


def _percent(share: float) -> str:
    return in_words(share * 100, "") + " %"
