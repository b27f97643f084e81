"""Fasteners that serve once: turned by an angle beyond a torque, and spoiled when loosened."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.mending.results import Fasteners
from sequencer.trade.pass_settings import is_turned_by_angle

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Mapping

    from sequencer.model.assembly import Assembly


class Fastened:
    """The joints of a model whose fasteners serve once, by the steps that tighten them.

    Steps that tighten the same joint, one after the other as written, work on the same fasteners,
    unless one in between loosens it: then new ones go in. Of what is tightened in a trial nothing
    stays, and what was left out with leave tightens nothing.

    Attributes
    ----------
    together : dict of int to list of (str, list of int)
        For a step the joints of that kind that it tightens, each with all steps that work on the
        same fasteners.
    own : frozenset of int
        The steps that state such a torque of their own.
    """

    def __init__(self, assembly: Assembly, left_out: Collection[int]) -> None:
        self.counts = {
            joint.id: joint.count
            for joint in assembly.joints
            if is_turned_by_angle(joint, joint.torque)
        }
        self.ids = tuple(step.id for step in assembly.steps)
        self.together: dict[int, list[tuple[str, list[int]]]] = {}
        on: dict[str, list[int]] = {}
        for number, step in enumerate(assembly.steps):
            if number in left_out:
                continue
            for link in step.loosens if self.counts else ():
                if link.kind == "joint":
                    on.pop(link.to, None)
            for joint in dict.fromkeys(link.to for link in step.tighten if link.to in self.counts):
                members = on.setdefault(joint, [])
                members.append(number)
                self.together.setdefault(number, []).append((joint, members))
        self.own = frozenset(
            number
            for number, step in enumerate(assembly.steps)
            if number not in left_out and is_turned_by_angle(None, step.torque)
        )

    def serve_once(self, step: int) -> bool:
        """Tell whether what a step tightens cannot be tightened a second time."""
        return step in self.own or step in self.together

    def spoiled(self, steps: Iterable[int]) -> Iterator[Fasteners]:
        """Yield the fasteners that taking some steps back spoils, those of a joint once."""
        told: set[int] = set()
        for step in steps:
            if step in self.own:
                yield Fasteners("", self.ids[step], 1)
            for joint, members in self.together.get(step, ()):
                if id(members) not in told:
                    told.add(id(members))
                    yield Fasteners(joint, self.ids[step], self.counts[joint])


def not_among_parts(
    assembly: Assembly, fasteners: Iterable[Fasteners], parts: Mapping[str, int]
) -> tuple[Fasteners, ...]:
    """Return the fasteners that are not named as parts already, `parts` being how many of which.

    The model does not say which part the fasteners of a joint are: a part is taken for them where
    it is called as the joint is, as one or as several, and is named as often.
    """
    joints = {joint.id: joint for joint in assembly.joints}
    labels = {part.id: part.label for part in assembly.parts}
    named = {
        (_as_one(name), count)
        for part, count in parts.items()
        for name in (part, labels.get(part, part))
    }
    return tuple(
        one
        for one in fasteners
        if one.joint not in joints
        or named.isdisjoint(
            (_as_one(name), one.how_many) for name in (one.joint, joints[one.joint].name)
        )
    )


def _as_one(name: str) -> str:
    """Return a name as it is compared: `cap-bolts` and `Cap bolt` are the same.

    Examples
    --------
    >>> _as_one("cap-bolts"), _as_one("Cap bolt")
    ('cap bolt', 'cap bolt')
    """
    return " ".join(name.casefold().replace("-", " ").split()).removesuffix("s")
