"""What a changed model means for what was done: which steps to do again, and of which to ask."""

from __future__ import annotations

import re
from dataclasses import dataclass, fields, is_dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.quantities import Amount, to_si
from sequencer.problem import Fact

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.fastening import Joint, Torque
    from sequencer.model.steps import Step

Kind: TypeAlias = Literal["again", "ask", "redo", "gone"]


def _names(names: str) -> frozenset[str]:
    return frozenset(names.split())


_KINDS: tuple[Kind, ...] = ("again", "ask", "redo")  # each weighs more than those before it

# What a step says for the plan and the paper, not for what is done; and what is judged apart.
_NOT_THE_WORK = _names(
    "do after before onto ways_in largest needs not_while section unit position people time "
    "unattended warning caution notice note hazards undo leave hold by tools picture when "
    "tighten torque check"
)
_FIGURE = re.compile(r"\d+(?:[.,/]\d+)*")
_WORDS = _names("why source also because name title")
_OF_A_CHECK = _names("upset_by needs_open else_ rework picture")


@dataclass(frozen=True, slots=True)
class Change:
    """What has become of a step.

    Attributes
    ----------
    step : str
        Its id.
    kind : str
        `again`: do it afresh in place (a raised torque, a check with other figures); `ask`: a
        torque was lowered, and only the maker can say what that means for what was tightened to
        more; `redo`: out and in again; `gone`: the new model has no such step.
    facts : tuple of Fact
        What changed, by the paths of the new model.
    """

    step: str
    kind: Kind
    facts: tuple[Fact, ...] = ()


def changed_steps(old: Assembly, new: Assembly) -> tuple[Change, ...]:
    """Return the steps whose figures changed from one model to another.

    Parameters
    ----------
    old, new : Assembly
        Two issues of a model; steps are the same where their ids are.

    Returns
    -------
    tuple of Change
        In the order of the new model, then what it has no more. Steps that only the new model
        has are no changes: they are still to be done. What only says when a step is done, or
        warns, explains or asks for a signature, changes no work; nor do words about what to do,
        as long as the figures in them stay the same.
    """
    comparing = _Comparing(old, new)
    before = {step.id: step for step in old.steps}
    found = []
    for step in new.steps:
        if step.id in before:
            told = list(comparing.told(before[step.id], step))
            if told:
                kind = max((kind for kind, _ in told), key=_KINDS.index)
                found.append(Change(step.id, kind, tuple(fact for _, fact in told)))
    there = {step.id for step in new.steps}
    gone = (Change(step.id, "gone") for step in old.steps if step.id not in there)
    return (*found, *gone)


class _Comparing:
    def __init__(self, old: Assembly, new: Assembly) -> None:
        self.parts = [{part.id: part for part in model.parts} for model in (old, new)]
        self.joints = [{joint.id: joint for joint in model.joints} for model in (old, new)]
        self.checks = [{check.id: check for check in model.checks} for model in (old, new)]

    def told(self, before: Step, after: Step) -> Iterator[tuple[Kind, Fact]]:
        """Yield what changed in a step, each with what that asks for."""
        path = ("steps", after.id)
        figures = [_FIGURE.findall(step.do) for step in (before, after)]
        works = [_bare(step, _NOT_THE_WORK) for step in (before, after)]
        if works[0] != works[1] or figures[0] != figures[1]:
            yield "redo", Fact(f"what `{after.id}` does or fits has changed", path)
        for part in dict.fromkeys(fit.part for fit in after.fits):
            one, two = (parts.get(part) for parts in self.parts)
            if one and two and (one.number, one.quantity) != (two.number, two.quantity):
                yield "redo", Fact(f"`{part}` is another part or another count", ("parts", part))
        if [link.to for link in before.tighten] != [link.to for link in after.tighten]:
            yield "redo", Fact(f"`{after.id}` tightens other joints", (*path, "tighten"))
        yield from _of_torque(before.torque, after.torque, f"`{after.id}`", (*path, "torque"))
        for link in after.tighten:
            joints = [joints.get(link.to) for joints in self.joints]
            if joints[0] and joints[1]:
                yield from _of_joint(joints[0], joints[1])
        for link in after.check:
            was, now = (checks.get(link.to) for checks in self.checks)
            if was and now and _bare(was, _OF_A_CHECK) != _bare(now, _OF_A_CHECK):
                yield "again", Fact(f"check `{link.to}` has other figures", ("checks", link.to))


def _of_joint(before: Joint, after: Joint) -> Iterator[tuple[Kind, Fact]]:
    path = ("joints", after.id)
    torque = frozenset(("torque",))
    if _bare(before, torque) != _bare(after, torque):
        yield "redo", Fact(f"joint `{after.id}` has other fasteners", path)
    yield from _of_torque(before.torque, after.torque, f"`{after.id}`", (*path, "torque"))


def _of_torque(
    before: Torque | None, after: Torque | None, name: str, path: tuple[str, ...]
) -> Iterator[tuple[Kind, Fact]]:
    """Yield a raised torque as to be done again, and any other change of it as to be asked."""
    texts = [torque.value.text if torque is not None else "none" for torque in (before, after)]
    said = f"the torque of {name} was {texts[0]} and is {texts[1]}"
    if before is None or after is None:
        if before is not after:
            yield "again" if before is None else "ask", Fact(said, path)
        return
    was, now = before.value, after.value
    if _bare(was.angle) != _bare(now.angle):
        yield "ask", Fact(said, path)
        return
    low, high = _ends(was.amount), _ends(now.amount)
    if low != high:
        raised = low[0] <= high[0] and low[1] <= high[1]
        yield "again" if raised else "ask", Fact(said, path)


def _ends(amount: Amount | None) -> tuple[float, float]:
    """Return the least and the most of a torque in SI units; finger tight is next to nothing."""
    if amount is None:
        return 0.0, 0.0
    most = float("inf") if amount.high is None else float(to_si(amount.high, amount.unit))
    return 0.0 if amount.low is None else float(to_si(amount.low, amount.unit)), most


def _bare(value: object, besides: frozenset[str] = frozenset()) -> object:
    """Return a record as what it says of the work: figures by their size, and without reasons."""
    if isinstance(value, Amount):
        return _ends(value), value.quantity
    if isinstance(value, tuple):
        return tuple(_bare(item) for item in value)
    if is_dataclass(value):
        left_out = besides | _WORDS
        return tuple(
            (field.name, _bare(getattr(value, field.name)))
            for field in fields(value)
            if field.name not in left_out
        )
    return value
