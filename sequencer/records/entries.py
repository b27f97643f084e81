"""What a build log may say: one frozen dataclass for each kind of entry.

The fields of a kind are the keys of its line in the file (without a trailing underscore); those
that stand at their default are left out there. `lines` turns entries into lines and back.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias


@dataclass(frozen=True, slots=True, kw_only=True)
class Model:
    """A model as it was worked from: its whole text, and what was printed of it.

    `order` holds the steps as numbered on the paper, `fingerprint` what stands at its foot,
    `taken` the choices of its options, as `fluid=hot`, and `used` the texts of the files that it
    uses, each with its path from the folder of the model.
    """

    file: str
    text: str
    assembly: str
    issue: str
    fingerprint: str
    order: tuple[str, ...]
    taken: tuple[str, ...] = ()
    used: tuple[tuple[str, str], ...] = ()

    @property
    def settings(self) -> dict[str, str]:
        """The choices by their options."""
        return dict(choice.split("=", 1) for choice in self.taken)


@dataclass(frozen=True, slots=True, kw_only=True)
class Start(Model):
    """The build begins: always the first entry; `unit` is the serial number of what is built."""

    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Issue(Model):
    """From here on the paper of a changed model counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """Steps were done, in this order; `wet_until` is when what was applied has set."""

    steps: tuple[str, ...]
    wet_until: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDone:
    """A step was left in a tightening pass, after `count` fasteners; `of` is how many passes."""

    step: str
    pass_: int
    count: int
    of: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone:
    """Steps were taken back, in this order."""

    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Skip:
    """A step is left out, and who allowed it."""

    step: str
    allowed_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A check was taken: what was read, in which round, at which place, with which gauge."""

    check: str
    value: str
    round: int | None = None
    place: str = ""
    gauge: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """What a joint was tightened to; `place` is the fastener, where one is meant."""

    joint: str
    value: str
    wrench: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Which piece went in: its numbers, and the thicknesses of a pack, such as `0.50+0.20`.

    Of a matched set, `mark` is the mark on it, and `with_` the mark on what it went to.
    """

    part: str
    number: str = ""
    serial: str = ""
    batch: str = ""
    pack: str = ""
    mark: str = ""
    with_: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoiled:
    """A part cannot be used any more; `step` says where it was, if several steps fit it."""

    part: str
    step: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """A part is not there, and is awaited until a date."""

    part: str
    until: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrived:
    """An awaited part has come."""

    part: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Accept:
    """What a check found is used as it is; the entry's `by` is who signed for that."""

    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """A role has signed: for one step, or for every hold point of that role that is open."""

    role: str
    step: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Correct:
    """An earlier entry was wrong: it does not count, or not as it stands.

    With a `value`, a reading or torque counts with that instead; with a `step`, the entry counts
    for its other steps only.
    """

    corrects: int
    why: str = ""
    value: str = ""
    step: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words for whoever reads the log, about a step or about the whole."""

    text: str
    step: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """Work stops for now, and is handed over."""


What: TypeAlias = (
    Start
    | Issue
    | Done
    | PartDone
    | Undone
    | Skip
    | Reading
    | Torque
    | Fitted
    | Spoiled
    | Short
    | Arrived
    | Accept
    | Sign
    | Correct
    | Note
    | Stop
)

KINDS: dict[str, type[What]] = {
    "start": Start,
    "issue": Issue,
    "done": Done,
    "part-done": PartDone,
    "undone": Undone,
    "skip": Skip,
    "reading": Reading,
    "torque": Torque,
    "fitted": Fitted,
    "spoiled": Spoiled,
    "short": Short,
    "arrived": Arrived,
    "accept": Accept,
    "sign": Sign,
    "correct": Correct,
    "note": Note,
    "stop": Stop,
}
"""Every kind of entry by the word that its line says it with."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry: its number from 1, when it was written, what happened, and what else is known.

    Attributes
    ----------
    number : int
        Counts the entries of the log; 0 until it is written.
    time : str
        When it was written, such as ``2031-05-02T14:05:09+02:00``.
    what : What
        What happened.
    at : str
        When it happened, where that was said, in the same form.
    by : str
        Who did it, or signed for it.
    sheet : str
        The fingerprint at the foot of the paper that it was typed from, where that was said.
    despite : tuple of str
        What the program objected to and the person confirmed all the same, in words.
    id : str
        What an entry of the tablet page is known again by, so that none is recorded twice.
    """

    number: int = 0
    time: str
    what: What
    at: str = ""
    by: str = ""
    sheet: str = ""
    despite: tuple[str, ...] = ()
    id: str = ""

    @property
    def happened(self) -> str:
        """When it happened, as far as that is known."""
        return self.at or self.time
