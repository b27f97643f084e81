"""Why each step must come out, put into sentences."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from sequencer.planning.network import Obstacle
from sequencer.planning.telling import Teller
from sequencer.problem import Fact

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending.case import Case, Node
    from sequencer.planning.mending.pulls import Cause


class Reasons:
    """Tells why steps come out; what is taken back may go by rules of its own."""

    def __init__(self, assembly: Assembly, case: Case) -> None:
        self.case = case
        self.teller = Teller(assembly, case.rules.network)
        self.teller_back = Teller(assembly, case.undoing.network)

    def of_all(self, undo: Sequence[int], node: Node) -> Mapping[str, Fact]:
        """Return why each of some steps comes out; put into words when it is asked for."""
        return _Told(self, undo, node)

    def told(self, step: int, cause: Cause) -> Fact:
        """Return why a step comes out, with the place of what says so."""
        teller = self.teller_back if cause.kind == "way back" else self.teller
        return _SENTENCES[cause.kind](teller, step, cause)


class _Told(Mapping[str, "Fact"]):
    """Facts by step, each worked out when it is asked for: thousands are seldom all read."""

    def __init__(self, reasons: Reasons, undo: Sequence[int], node: Node) -> None:
        ids = reasons.case.rules.network.ids
        self.reasons = reasons
        self.node = node
        self.numbers = {ids[step]: step for step in undo}

    @cached_property
    def causes(self) -> Mapping[int, Cause]:
        return self.reasons.case.causes(self.node)

    def __getitem__(self, step: str) -> Fact:
        number = self.numbers[step]
        return self.reasons.told(number, self.causes[number])

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)


def _by_rule(teller: Teller, _: int, cause: Cause) -> Fact:
    return teller.fact(cause.rules[0])


def _way(teller: Teller, step: int, cause: Cause) -> Fact:
    """Return the fact of the obstacle that this very step raises."""
    own = [o for o in cause.rules if isinstance(o, Obstacle) and step in o.blockers]
    return teller.fact((own or cause.rules)[0])


def _early(teller: Teller, step: int, cause: Cause) -> Fact:
    fact = teller.fact(cause.rules[0])
    text = f"{teller.name(step)} was done too early: {fact.text}"
    return Fact(text, fact.path, fact.why)


def _again(teller: Teller, step: int, cause: Cause) -> Fact:
    other = teller.network.ids[cause.step]
    text = f"{teller.name(step)} has to be done afresh once `{other}` is taken back"
    return Fact(text, ("steps", other, "undo", "again"))


def _spoiled(teller: Teller, step: int, cause: Cause) -> Fact:
    other, part = teller.network.ids[cause.step], cause.part
    text = f"{teller.name(step)} fits `{part}`, which is spoiled when `{other}` is taken back"
    return Fact(text, ("steps", teller.network.ids[step]))


def _fasteners(teller: Teller, step: int, cause: Cause) -> Fact:
    other, joint = teller.network.ids[cause.step], cause.part
    text = (
        f"{teller.name(step)} tightens `{joint}`, which serve once and are spoiled when "
        f"`{other}` is taken back"
    )
    return Fact(text, ("joints", joint))


def _half_done(teller: Teller, _: int, cause: Cause) -> Fact:
    fact = teller.fact(cause.rules[0])
    return Fact(f"{fact.text}, and the operation was begun and not finished", fact.path, fact.why)


def _spare(teller: Teller, step: int, _: Cause) -> Fact:
    name = teller.network.ids[step]
    return Fact(f"of several steps `{name}` is one too many: another does", ("steps", name))


def _redo(teller: Teller, step: int, _: Cause) -> Fact:
    name = teller.network.ids[step]
    return Fact(f"`{name}` itself has to be done again", ("steps", name))


def _undecided(teller: Teller, step: int, _: Cause) -> Fact:
    name = teller.network.ids[step]
    return Fact(f"with `{name}` out an order was found", ("steps", name))


_SENTENCES: Mapping[str, Callable[[Teller, int, Cause], Fact]] = {
    "redo": _redo,
    "spare": _spare,
    "early": _early,
    "half done": _half_done,
    "after": _by_rule,
    "together": _by_rule,
    "again": _again,
    "spoiled": _spoiled,
    "fasteners": _fasteners,
    "way": _way,
    "way back": _way,
    "barred": _by_rule,
    "stray": _by_rule,
    "undecided": _undecided,
}
