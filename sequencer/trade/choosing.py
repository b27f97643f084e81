"""Which of the figures that sources give for one joint is taken, and whether any is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.figures import allow_one_value, odd_ones_out

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.fastening import Joint, Torque, TorqueValue
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path


@dataclass(frozen=True, slots=True)
class Candidate:
    """A figure as one source gives it.

    `source` is an id or words, the model's default for the first figure, else empty. `path` leads
    to it from the torque that it stands in.
    """

    value: TorqueValue
    source: str
    surface: str
    grade: str
    why: str
    path: Path

    @property
    def text(self) -> str:
        """The figure as typed."""
        return self.value.text.strip()


@dataclass(frozen=True, slots=True)
class Choice:
    """What the sources come to: `taken` is None while they disagree and nobody has chosen.

    `odd` are the figures that do not say what the others of the same source say: one figure
    typed in several units, of which one is wrong.
    """

    taken: Candidate | None
    candidates: tuple[Candidate, ...]
    because: str
    disagree: bool
    odd: tuple[Candidate, ...]


def choice_of(torque: Torque, default_source: str) -> Choice:
    """Return which figure of a torque is taken: the first, if all agree or a reason is given."""
    first = Candidate(
        torque.value,
        torque.source or default_source,
        torque.surface,
        torque.grade,
        torque.why,
        (),
    )
    others = (
        Candidate(other.value, other.source, other.surface, other.grade, other.why, ("also", at))
        for at, other in enumerate(torque.also)
    )
    candidates = (first, *others)
    because = torque.because.strip()
    disagree = not (
        _agree([candidate.value.amount for candidate in candidates])
        and _agree([candidate.value.angle for candidate in candidates])
    )
    taken = None if disagree and not because else first
    return Choice(taken, candidates, because, disagree, _odd(candidates))


def asked_of(joint: Joint) -> Amount | None:
    """Return the torque that a joint is to be tightened to; None while no figure is settled on."""
    if joint.torque is None or choice_of(joint.torque, "").taken is None:
        return None
    return joint.torque.value.amount


def _agree(amounts: Sequence[Amount | None]) -> bool:
    """Tell whether all say nothing, or all allow a common value."""
    given = [amount for amount in amounts if amount is not None]
    if len(given) < len(amounts) or len({amount.quantity for amount in given}) > 1:
        return not given
    return allow_one_value(given)


def _odd(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """Return the figures that disagree with others of the same source."""
    groups: dict[str, list[Candidate]] = {}
    for candidate in candidates:
        if candidate.value.amount is not None and candidate.source:
            groups.setdefault(" ".join(candidate.source.split()).casefold(), []).append(candidate)
    odd: list[Candidate] = []
    for group in groups.values():
        amounts = [one.value.amount for one in group if one.value.amount is not None]
        odd += [group[at] for at in odd_ones_out(amounts)]
    return tuple(odd)
