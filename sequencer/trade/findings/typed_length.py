"""Lengths of a joint in words: in the unit in which its own length is typed."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.model.units import unit_for
from sequencer.problem import Fact
from sequencer.trade.saying import in_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import Joint
    from sequencer.problem import Path
    from sequencer.trade.basics import Number

_FIELDS = (
    ("length", "the fastener is {} long under its head"),
    ("grip", "what it clamps is {} thick"),
    ("washers", "the washers are {} together"),
    ("nut", "the nut is {} high"),
)


def in_typed_unit(joint: Joint, mm: Number) -> str:
    """Return a length in words, in the unit of the joint's own length."""
    unit = joint.length.unit if joint.length is not None else unit_for("mm")
    return in_words(converted(Fraction(mm), unit_for("mm"), unit), unit)


def stacked(joint: Joint, path: Path) -> Iterator[Fact]:
    """Yield what a joint says of its lengths."""
    for field, words in _FIELDS:
        amount = getattr(joint, field)
        if amount is not None:
            yield Fact(words.format(amount.text.strip()), path=(*path, field))
