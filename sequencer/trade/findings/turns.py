"""Angles of several passes against a limit on what they come to in all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.passes import angle_total
from sequencer.trade.saying import in_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import TighteningPass, TurnLimit
    from sequencer.model.quantities import Amount
    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.passes import AngleTotal


def about_turns(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about the limit on the angles of a joint's passes."""
    limit = one.worked.joint.turn_limit if one.worked is not None else None
    if limit is None or one.worked is None:
        return
    passes = one.worked.joint.passes
    wrong = [name for name in limit.passes if not _turns(passes, name)]
    if wrong:
        yield from (_no_such_pass(one, passes, name) for name in wrong)
        return
    angles = {
        str(at): each.value.angle
        for at, each in enumerate(passes)
        if each.name in limit.passes and each.value.angle is not None and not each.value.back
    }
    yield from _judged(one, limit, angles)


def _turns(passes: tuple[TighteningPass, ...], name: str) -> bool:
    """Tell whether a name is that of passes that turn by an angle."""
    of_name = [each.value for each in passes if each.name and each.name == name]
    return bool(of_name) and all(v.angle is not None and not v.back for v in of_name)


def _no_such_pass(one: Tightened, passes: tuple[TighteningPass, ...], name: str) -> Problem:
    there = any(each.name == name for each in passes)
    names = [f"`{each.name}`" for each in passes if each.name and _turns(passes, each.name)]
    said = "is not turned by an angle" if there else "is no pass of it"
    fix = "give the passes that it is for a `name` each, and name those"
    if names:
        fix = f"name those that the limit is for: {', '.join(names)}"
    return Problem(
        "no-such-pass",
        "warning",
        f"`turn_limit` of {one.name} names `{name}`, which {said}",
        step=one.at,
        path=(*one.path, "turn_limit", "passes"),
        why="passes are named and not numbered, since numbers shift when a pass is added",
        fix=fix,
    )


def _judged(one: Tightened, limit: TurnLimit, angles: dict[str, Amount]) -> Iterator[Problem]:
    open_ = [amount for amount in angles.values() if amount.low is None or amount.high is None]
    if open_ or limit.most.high is None:
        text = (open_[0] if open_ else limit.most).text.strip()
        yield _turn_limit(
            one, limit, f"cannot be held against `{text}`, which is open at one end", angles
        )
        return
    total = angle_total(angles, angles, limit.most)
    if total.impossible:
        yield _turn_limit(one, limit, f"contradicts them: {_comes_to(total, 'at least')}", angles)
    elif total.may_exceed:
        yield _turn_limit(one, limit, f"may be passed: {_comes_to(total, 'up to')}", angles)


def _comes_to(total: AngleTotal, how: str) -> str:
    degrees = total.least_deg if how == "at least" else total.most_deg
    limit = in_words(total.limit_deg, "°")
    return f"they come to {how} {in_words(degrees, '°')}, and {limit} is the most"


def _turn_limit(one: Tightened, limit: TurnLimit, said: str, angles: dict[str, Amount]) -> Problem:
    names = " and ".join(f"`{name}`" for name in dict.fromkeys(limit.passes))
    return Problem(
        "turn-limit",
        "warning",
        f"the limit on {names} of {one.name} {said}",
        step=one.at,
        path=(*one.path, "turn_limit"),
        facts=(
            *(
                Fact(
                    f"pass {int(at) + 1} turns `{angle.text.strip()}`",
                    (*one.path, "passes", int(at)),
                )
                for at, angle in angles.items()
            ),
            Fact(
                f"the most in all is `{limit.most.text.strip()}`", (*one.path, "turn_limit", "most")
            ),
        ),
        why="a bolt turned too far is stretched beyond use, and nobody sees it",
        fix="look up which passes the limit is for, and name those",
    )
