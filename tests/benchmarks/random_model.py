"""Random models of any size that have an order: relations, groups, ways in, lines."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link, Size, WayIn
from sequencer.model.complete import complete
from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Fit, Step, Together

if TYPE_CHECKING:
    from collections.abc import Iterator

_NEAR = 50  # a step follows steps at most so far back, as in real precedence graphs


def random_model(count: int, seed: int = 1) -> Assembly:
    """Return a model of `count` steps, solvable, written in an order that works.

    Each step fits a part and follows two earlier ones; every third has two alternative ways in,
    one shut by later parts and one, at times, too narrow; one step in ten is in a group of two;
    of each hundred steps one fits a shaft and the next three what goes on to it, from one end.
    """
    chance = random.Random(seed)  # noqa: S311  # a benchmark needs the same numbers each time
    steps = tuple(_step(number, count, chance) for number in range(count))
    size = Size(value=read_amount("30 mm", ("length",)))
    return complete(
        Assembly(
            assembly=f"random-{count}",
            steps=steps,
            parts=tuple(Part(id=f"p{number}", largest=size) for number in range(count)),
            together=tuple(_groups(count)),
            lines=tuple(_lines(count)),
        )
    )


def _step(number: int, count: int, chance: random.Random) -> Step:
    earlier = range(max(0, number - _NEAR), number)
    after = chance.sample(earlier, min(2, len(earlier)))
    return Step(
        id=f"s{number}",
        do=f"Fit part {number}.",
        fits=(Fit(f"p{number}"),),
        after=tuple(Link(f"s{other}") for other in after),
        ways_in=tuple(_ways(number, count, chance)) if number % 3 == 0 else (),
        section=f"section {number // 100}",
    )


def _ways(number: int, count: int, chance: random.Random) -> Iterator[WayIn]:
    later = range(number + 1, min(count, number + 1 + _NEAR))
    anywhere = range(count)
    narrow = chance.random() < 0.2
    opening = Size(value=read_amount("20 mm", ("length",))) if narrow else None
    shutting = chance.sample(anywhere, 2)
    yield WayIn(name="side", opening=opening, shut_by=_parts(shutting))
    yield WayIn(name="top", shut_by=_parts(chance.sample(later, min(2, len(later)))))


def _parts(numbers: list[int]) -> tuple[Link, ...]:
    return tuple(Link(f"p{number}", "part") for number in numbers)


def _groups(count: int) -> Iterator[Together]:
    for first in range(0, count - 1, 20):
        yield Together(steps=(Link(f"s{first}"), Link(f"s{first + 1}")))


def _lines(count: int) -> Iterator[Line]:
    bore, od, end = (read_amount(text, ("length",)) for text in ("25 mm", "40 mm", "20 mm"))
    for shaft in range(10, count - 4, 100):
        yield Line(
            id=f"line-{shaft}",
            shaft=(Link(f"p{shaft}", "part"),),
            ends=(LineEnd(name="flange", is_=EndValue("shut")), LineEnd(name="thread")),
            order=tuple(
                LinePlace(part=(Link(f"p{shaft + at}", "part"),), bore=bore, od=od, seat=end)
                for at in (1, 2, 3)
            ),
        )
