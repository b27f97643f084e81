"""Whether the order of a joint's fasteners can be given, and their names and positions counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.patterns import pattern_for

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import Joint
    from sequencer.trade.findings.tightened import Tightened


def about_patterns(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about how many fasteners a joint has, and in which order they go."""
    if one.worked is None:
        return
    joint = one.worked.joint
    for field, things in (("places", "names"), ("at", "positions")):
        number = len(getattr(joint, field))
        if number and number != joint.count:
            yield _miscounted(one, joint, field, f"{number} {things}")
    if isinstance(one.worked.pattern, Unknown) and len(joint.at) in (0, joint.count):
        yield from _no_order(one, joint)


def _miscounted(one: Tightened, joint: Joint, field: str, has: str) -> Problem:
    fasteners = f"{joint.count} fastener{'' if joint.count == 1 else 's'}"
    return Problem(
        "count-differs",
        "warning",
        f"{one.name} has {fasteners} and {has} of them",
        step=one.at,
        path=(*one.path, field),
        facts=(Fact(f"`count` is {joint.count}", (*one.path, "count")),),
        why=f"the sheet has a box for each fastener, and cannot use `{field}` for them",
        fix=f"count the fasteners on the unit, and mend `count` or `{field}`",
    )


def _no_order(one: Tightened, joint: Joint) -> Iterator[Problem]:
    try:
        pattern_for(joint.pattern, joint.count, [(float(x), float(y)) for x, y in joint.at])
    except TradeError as error:
        yield Problem(
            "no-pattern",
            "warning",
            f"the order of tightening {one.name} cannot be given: {error.what}",
            step=one.at,
            path=(*one.path, "pattern"),
            why="the sheet numbers the fasteners in the order in which they are tightened",
            fix=error.fix,
        )
