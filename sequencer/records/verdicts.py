"""The verdict on what was read or tightened: a word, why, and what is to be done next."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.quantities import AmountError, plain_text, read_amount, to_si
from sequencer.trade.choosing import asked_of
from sequencer.trade.measuring import judge_typed

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.fastening import Joint
    from sequencer.model.quantities import Amount

Word: TypeAlias = Literal[
    "accept",
    "recorded",
    "rework",
    "renew",
    "again",
    "needs a signature",
    "stop",
    "out of limit",
    "cannot be told",
    "not valid",
]

ENOUGH: frozenset[Word] = frozenset(("accept", "recorded"))
"""The verdicts after which work goes on."""

_SLIP = 2
_BARE = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?")


@dataclass(frozen=True, slots=True)
class Verdict:
    """The verdict on a reading: the word for it, why, and what is to be done next."""

    word: Word
    why: str = ""
    follow: str = ""

    @property
    def ok(self) -> bool:
        """Whether work goes on."""
        return self.word in ENOUGH

    @property
    def said(self) -> str:
        """The verdict in words: what was found, then what that makes of it.

        Examples
        --------
        >>> Verdict("accept", "0.02 to 0.06 mm").said
        'accept (0.02 to 0.06 mm)'
        >>> Verdict("again", "above the limit (0.02 to 0.06 mm)").said
        'above the limit (0.02 to 0.06 mm): again'
        """
        if not self.why:
            return self.word
        return f"{self.word} ({self.why})" if self.ok else f"{self.why}: {self.word}"

    def beside(self, value: str) -> str:
        """Say the verdict beside what was typed, without the words that this says itself.

        Examples
        --------
        >>> found = Verdict("stop", "a tight place")
        >>> found.beside("A tight place"), found.beside("bad")
        ('stop', 'a tight place: stop')
        """
        return self.word if _plainly(self.why) == _plainly(value) else self.said


def _plainly(words: str) -> str:
    return plain_text(words).strip().casefold()


def with_unit(text: str, limit: Amount | None, prints: tuple[str, ...]) -> str:
    """Return a reading as typed, a bare number with the unit that its limit is printed in.

    Examples
    --------
    >>> limit = read_amount("0.02 to 0.06 mm", ("length",))
    >>> with_unit("0.04", limit, ()), with_unit("0.002 in", limit, ())
    ('0.04 mm', '0.002 in')
    """
    if limit is None or not _BARE.fullmatch(plain_text(text).strip()):
        return text
    return f"{text.strip()} {prints[0] if prints else limit.unit.symbol}"


def times_off(joint: Joint, value: str) -> Fraction | None:
    """Return how many times the torque asked for was written down, where that is a slip.

    How far off is too far is not ours to say; but twice the figure, or half of it, is no tolerance:
    a digit, the unit or the joint is another one than was meant (common practice, no source).
    None where it is nearer, or where nothing can be compared.
    """
    asked = asked_of(joint)
    try:
        reading = read_amount(value, ("torque",), limits=False)
    except AmountError:
        return None
    if asked is None or not asked.value or not reading.value:
        return None
    times = to_si(reading.value, reading.unit) / to_si(asked.value, asked.unit)
    return None if 1 / _SLIP < times < _SLIP else times


def judge_torque(joint: Joint, value: str) -> Verdict:
    """Return the verdict on the torque that a joint was tightened to.

    A figure asked for without a tolerance is not judged: how far off is too far is not ours to say.
    """
    asked = asked_of(joint)
    if asked is None:
        return Verdict("recorded", "the model settles on no figure")
    words = f"asked: {asked.text.strip()}"
    try:
        reading = read_amount(value, ("torque",), limits=False)
    except AmountError as error:
        return Verdict("cannot be told", error.what, error.fix)
    if asked.low == asked.high:
        return Verdict("recorded", f"{words}, without a tolerance")
    found = judge_typed(reading, asked)
    if found == "accept":
        return Verdict("accept", words)
    if found == "cannot be told":
        return Verdict("cannot be told", words, "read it finer")
    side = "below" if found == "out low" else "above"
    follow = "tighten on to the figure" if found == "out low" else "do not back it off: ask"
    return Verdict("out of limit", f"{side} the figure ({asked.text.strip()})", follow)
