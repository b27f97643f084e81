"""What a reading means: in limit or out, and what follows from it by the model."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.quantities import AmountError, plain_text, read_amount
from sequencer.trade.measuring import judge_typed, resolution

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check, Otherwise
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
]

ENOUGH: frozenset[Word] = frozenset(("accept", "recorded"))
"""The verdicts after which work goes on."""

_BARE = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?")
_GOOD = frozenset(("good", "right", "ok", "yes", "accept", "x"))
_BAD = frozenset(("bad", "wrong", "not ok", "no"))


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


def judge_reading(assembly: Assembly, check: Check, value: str, gauge: str = "") -> Verdict:
    """Return the verdict on what was read for a check.

    Parameters
    ----------
    assembly : Assembly
        The model, for its tools and the names of parts.
    check : Check
        What was checked.
    value : str
        A figure with its unit, or for an observation a word: good, bad, or the model's own.
    gauge : str
        A tool's id, or words; the check's own where none is given. Its smallest division tells
        whether the reading can tell anything.
    """
    if check.limit is not None:
        return _judge_figure(assembly, check, check.limit.value, value, gauge or check.with_)
    if check.measure and not (check.good or check.bad):
        return Verdict("recorded", "the model gives no limit")
    word = plain_text(value).strip().casefold()
    if word in _GOOD or (check.good and word == plain_text(check.good).casefold()):
        return Verdict("accept", check.good)
    if word in _BAD or (check.bad and word == plain_text(check.bad).casefold()):
        return on_failing(assembly, check, check.bad or "not as it should be", reworkable=True)
    why = f"`{value.strip()}` is neither the good nor the bad finding"
    return Verdict("cannot be told", why, f"say `good` ({check.good}) or `bad` ({check.bad})")


def _judge_figure(
    assembly: Assembly, check: Check, limit: Amount, value: str, gauge: str
) -> Verdict:
    try:
        reading = read_amount(value, (limit.quantity,))
    except AmountError as error:
        return Verdict("cannot be told", error.what, error.fix)
    if reading.low is None or reading.high is None:
        return Verdict("cannot be told", "it is not one figure", "give the figure that was read")
    reads = next((tool.reads for tool in assembly.tools if tool.id == gauge), None)
    fine = reads if reads is not None and reads.quantity == limit.quantity else None
    found = judge_typed(reading, limit, fine)
    asked = limit.text.strip()
    if found == "accept":
        return Verdict("accept", asked)
    if found == "cannot be told":
        return _doubtful(reading, limit, fine)
    why = f"{'below' if found == 'out low' else 'above'} the limit ({asked})"
    rework = check.rework
    held = rework is not None and rework.limit is not None and _within(reading, rework.limit.value)
    return on_failing(
        assembly, check, why, reworkable=held or (rework is not None and not rework.limit)
    )


def _within(reading: Amount, limit: Amount) -> bool:
    return reading.quantity == limit.quantity and judge_typed(reading, limit) == "accept"


def _doubtful(reading: Amount, limit: Amount, gauge: Amount | None) -> Verdict:
    why = f"the reading may be wrong by more than its distance from {limit.text.strip()}"
    if gauge is not None and gauge.unit.factor * gauge.value > resolution(reading):
        return Verdict(
            "cannot be told", why, f"take a finer gauge: this one reads {gauge.text.strip()}"
        )
    return Verdict("cannot be told", why, "read it finer, and give every decimal that was read")


def on_failing(assembly: Assembly, check: Check, why: str, *, reworkable: bool) -> Verdict:
    """Return what follows by the model where a single figure or a finding fails.

    Rework that has no limit of its own is for a check that says nothing else about failing.
    """
    rework, follows = check.rework, check.else_
    bounded = rework is not None and rework.limit is not None
    if rework is not None and reworkable and (bounded or follows is None):
        return Verdict("rework", why, f"{rework.how or 'rework it'}, then check again")
    if follows is None:
        return Verdict("out of limit", why, "stop: the model does not say what follows")
    word, follow = next(_following(assembly, follows), ("out of limit", follows.change or "stop"))
    change = f"change {follows.change}, then " if follows.change and word != "out of limit" else ""
    return Verdict(word, why, f"do not go on: {change}{follow}")


def _following(assembly: Assembly, follows: Otherwise) -> Iterator[tuple[Word, str]]:
    """Yield what the model wants where a check fails, the most telling first."""
    if follows.renew:
        labels = {part.id: part.label for part in assembly.parts}
        yield "renew", f"renew: {' and '.join(labels[link.to] for link in follows.renew)}"
    if follows.again_from:
        steps = " and ".join(f"`{link.to}`" for link in follows.again_from)
        yield "again", f"start again from {steps}"
    if follows.accept_by:
        yield (
            "needs a signature",
            f"it may be used as it is only if this role signs: {follows.accept_by}",
        )
    if follows.stop:
        yield "stop", f"tell: {follows.stop}"


def judge_torque(joint: Joint, value: str) -> Verdict:
    """Return the verdict on the torque that a joint was tightened to.

    A figure asked for without a tolerance is not judged: how far off is too far is not ours to say.
    """
    asked = joint.torque.value.amount if joint.torque is not None else None
    if asked is None:
        return Verdict("recorded", "the model asks for no figure")
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
