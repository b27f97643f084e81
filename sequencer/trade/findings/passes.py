"""Passes that do not lead to the figure: that fall, stand still, stop short, or have no torque."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
from sequencer.problem import Fact, Problem
from sequencer.trade.wrench import target_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.fastening import TighteningPass
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path
    from sequencer.trade.findings.tightened import Tightened


@dataclass(frozen=True, slots=True)
class _Level:
    """What a pass goes to: a torque in N·m, or a share where there is no torque to take it of."""

    at: int
    text: str
    value: Fraction


def about_passes(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about the passes of a joint."""
    passes = one.worked.joint.passes if one.worked is not None else ()
    if not passes:
        return
    if one.torque is None or _is_by_hand(one):
        yield from _without_torque(one, passes)
    figure = one.torque.amount if one.torque is not None else None
    stretches = list(_stretches(passes, figure))
    if passes[0].value.back:
        yield _backs_off_first(one, passes[0])
    for stretch in stretches:
        yield from _does_not_rise(one, stretch)
    if figure is not None and stretches and passes[-1].value.share is None:
        yield from _misses(one, stretches[-1], figure)


def _is_by_hand(one: Tightened) -> bool:
    taken = one.torque.choice.taken if one.torque is not None else None
    return taken is not None and taken.value.amount is None


def _without_torque(one: Tightened, passes: Sequence[TighteningPass]) -> Iterator[Problem]:
    for at, each in enumerate(passes):
        if each.value.share is not None:
            yield Problem(
                "pass-without-torque",
                "warning",
                f"pass {at + 1} of {one.name} is `{each.value.text}` of no torque",
                step=one.at,
                path=_path(one, at),
                why="a share needs a torque that it is a share of, and none is given",
                fix="write the joint's `torque`, or the torque of the pass itself",
            )
            return


def _stretches(passes: Sequence[TighteningPass], figure: Amount | None) -> Iterator[list[_Level]]:
    """Yield what the passes go to, in N·m, from one backing off to the next.

    Shares of no torque are left out where torques stand beside them: nothing compares the two.
    """
    torques = figure is not None or any(each.value.torque for each in passes)
    full = None if figure is None else to_si(figure.value, figure.unit)
    stretch: list[_Level] = []
    for at, each in enumerate(passes):
        value, level = each.value, None
        if value.back:
            yield stretch
            stretch = []
        elif value.torque is not None:
            level = to_si(value.torque.value, value.torque.unit)
        elif value.share is not None and (full is not None or not torques):
            level = value.share * (full if full is not None else 1)
        if level is not None:
            stretch.append(_Level(at, value.text, level))
    yield stretch


def _backs_off_first(one: Tightened, first: TighteningPass) -> Problem:
    return Problem(
        "pass-order",
        "warning",
        f"the first pass of {one.name} is `{first.value.text}`, and nothing is tightened by then",
        step=one.at,
        path=_path(one, 0),
        why="backing off undoes the pass before it",
        fix="write the pass that is missing before it",
    )


def _does_not_rise(one: Tightened, stretch: Sequence[_Level]) -> Iterator[Problem]:
    """Yield the first pass that is not above the one before; the highest may be repeated."""
    top = max((level.value for level in stretch), default=Fraction(0))
    for before, level in pairwise(stretch):
        if level.value > before.value or level.value == before.value == top:
            continue
        word = "fall" if level.value < before.value else "do not rise"
        yield Problem(
            "pass-order",
            "warning",
            f"the passes of {one.name} {word}: `{before.text}`, then `{level.text}`",
            step=one.at,
            path=_path(one, level.at),
            facts=(
                Fact(f"pass {before.at + 1}: `{before.text}`", _path(one, before.at)),
                Fact(f"pass {level.at + 1}: `{level.text}`", _path(one, level.at)),
            ),
            why="a pass that is not above the one before turns nothing",
            fix="put them in rising order; what is backed off in between is a pass: `back 180°`",
        )
        return


def _misses(one: Tightened, stretch: Sequence[_Level], figure: Amount) -> Iterator[Problem]:
    """Yield a last pass that does not come to the figure."""
    if not stretch:
        return
    last, band = stretch[-1], target_of(figure, figure.unit)
    if to_si(band.low, figure.unit) <= last.value <= to_si(band.high, figure.unit):
        return
    yield Problem(
        "pass-short",
        "warning",
        f"the last torque of the passes of {one.name} is `{last.text}`, "
        f"and its figure is `{figure.text.strip()}`",
        step=one.at,
        path=_path(one, last.at),
        facts=(
            Fact(f"pass {last.at + 1}: `{last.text}`", _path(one, last.at)),
            Fact(f"the figure: `{figure.text.strip()}`", one.torque_path()),
        ),
        why="the builder would stop at one and sign for the other",
        fix="end the passes at the figure, or mend it",
    )


def _path(one: Tightened, at: int) -> Path:
    return (*one.path, "passes", at)
