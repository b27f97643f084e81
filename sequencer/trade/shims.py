"""Shim packs: every pack from the sizes at hand that brings a measured figure inside its limits.

All figures are exact and in one unit of length. The direction of effect and the rounding rule are
data of the job, never built in: makers differ in both.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import plain_text
from sequencer.trade.basics import TradeError, plain_number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.trade.basics import Number
    from sequencer.trade.measuring import Limits

_MOST_TOTALS = 20_000


@dataclass(frozen=True, slots=True)
class Pack:
    """A pack: its shims, the largest first, their total, and the figure it gives."""

    shims: tuple[Fraction, ...]
    total: Fraction
    result: Fraction


@dataclass(frozen=True, slots=True)
class ShimChoice:
    """Which packs serve: the best first, and the ones just missing if none does.

    `packs` has one pack for each total, that with the fewest shims. `short` and `over` are the
    packs whose results come nearest to the limits from below and from above.
    """

    packs: tuple[Pack, ...]
    ideal: Fraction
    short: Pack | None
    over: Pack | None

    @property
    def best(self) -> Pack | None:
        """The pack nearest to the aim, of equals the one with the fewest shims."""
        return self.packs[0] if self.packs else None


@dataclass(frozen=True, slots=True)
class Shimming:
    """What is measured and what a pack does to it.

    `measured` was found with a pack of `start` in place; one unit more of pack changes it by
    `effect` (+1: more pack, more play; −1: more pack, less play; preload is negative play).
    """

    measured: Number
    effect: Number
    start: Number = 0

    def result(self, total: Number) -> Fraction:
        """Return the figure that a pack of this total gives."""
        return Fraction(self.measured + self.effect * (total - self.start))

    def pack_for(self, wanted: Number) -> Fraction:
        """Return the total, not rounded, that gives the figure wanted.

        Raises
        ------
        TradeError
            If packs have no effect.

        Examples
        --------
        >>> float(Shimming(Fraction("0.25"), -1, Fraction("2.425")).pack_for(Fraction("0.15")))
        2.525
        """
        if self.effect == 0:
            raise TradeError("a pack without effect settles nothing", "state its effect")
        return self.start + (wanted - self.measured) / Fraction(self.effect)


def _fewest_then_largest(shims: tuple[Fraction, ...]) -> tuple[int, list[Fraction]]:
    return len(shims), [-size for size in shims]


@dataclass(frozen=True, slots=True)
class Supply:
    """The shims at hand: how many of each size (None: as many as wanted), most in one pack."""

    sizes: Mapping[Fraction, int | None]
    at_most: int

    def totals(self, highest: Fraction) -> dict[Fraction, tuple[Fraction, ...]]:
        """Return each total up to `highest`, with the fewest shims that make it.

        Of equally few, the pack with the larger shims is kept. The empty pack is one of them.

        Raises
        ------
        TradeError
            If a size is not above nothing, or there are over 20 000 different totals.
        """
        found: dict[Fraction, tuple[Fraction, ...]] = {Fraction(0): ()}
        for size in sorted(self.sizes, reverse=True):
            if size <= 0:
                raise TradeError(f"a shim of {plain_number(size)}", "give sizes above nothing")
            stock = self.sizes[size]
            most = self.at_most if stock is None else min(stock, self.at_most)
            found = self._with_size(found, size, most, highest)
        return found

    def _with_size(
        self,
        found: dict[Fraction, tuple[Fraction, ...]],
        size: Fraction,
        most: int,
        highest: Fraction,
    ) -> dict[Fraction, tuple[Fraction, ...]]:
        larger = dict(found)
        for total, shims in found.items():
            for more in range(1, min(most, self.at_most - len(shims)) + 1):
                sum_ = total + more * size
                if sum_ > highest:
                    break
                pack = shims + (size,) * more
                known = larger.get(sum_, pack)
                larger[sum_] = min(known, pack, key=_fewest_then_largest)
            if len(larger) > _MOST_TOTALS:
                raise TradeError(
                    "too many different packs to list", "give fewer sizes, or a smaller `at_most`"
                )
        return larger


def choose_shims(
    shimming: Shimming, supply: Supply, limits: Limits, aim: Number | None = None
) -> ShimChoice:
    """Return every pack that brings the figure inside its limits, the best first.

    Best is nearest to the aim, then the fewest shims, then the smaller total. Never just the
    nearest: with two packs inside, the choice is the builder's.

    Parameters
    ----------
    shimming : Shimming
        What is measured, and what a pack does.
    supply : Supply
        The shims at hand; a pack has at least one.
    limits : Limits
        Two-sided, both ends included.
    aim : Fraction or int, optional
        The figure wanted; the middle of the limits if not given.

    Returns
    -------
    ShimChoice
        Without packs if no pack does it.

    Raises
    ------
    TradeError
        If the limits are open at an end, or as for `Shimming.pack_for` and `Supply.totals`.
    """
    middle = limits.middle
    if middle is None or limits.low is None or limits.high is None:
        raise TradeError("shims are chosen between two limits", "give both ends of the limit")
    wanted = Fraction(middle if aim is None else aim)
    reach = max(shimming.pack_for(limits.low), shimming.pack_for(limits.high))
    largest = max(supply.sizes, default=Fraction(0))
    packs = [
        Pack(shims, total, shimming.result(total))
        for total, shims in supply.totals(reach + largest).items()
        if shims
    ]
    good = [pack for pack in packs if limits.holds(pack.result)]
    good.sort(key=lambda pack: (abs(pack.result - wanted), len(pack.shims), pack.total))
    low, high = limits.low, limits.high
    return ShimChoice(
        tuple(good),
        shimming.pack_for(wanted),
        max((p for p in packs if p.result < low), key=lambda p: p.result, default=None),
        min((p for p in packs if p.result > high), key=lambda p: p.result, default=None),
    )


def packs_of(total: Number, supply: Supply) -> tuple[Fraction, ...] | None:
    """Return the pack with the fewest shims whose total is exactly this; None if none is.

    Raises
    ------
    TradeError
        As for `Supply.totals`.
    """
    return supply.totals(Fraction(total)).get(Fraction(total)) or None


@dataclass(frozen=True, slots=True)
class RoundingRule:
    """How a table rounds the last digit of a total: each digit, and what is written for it.

    `place` is the value of the digit, such as 0.01; a 10 carries over.
    """

    digits: tuple[int, ...]
    place: Fraction

    def round(self, value: Number) -> Fraction:
        """Return the value with its digit replaced, after rounding half up to that digit.

        Examples
        --------
        >>> rule = read_rounding("0-2 = 0, 3-7 = 5, 8-9 = 10", Fraction("0.01"))
        >>> float(rule.round(Fraction("0.53")))
        0.55
        """
        steps = int(abs(Fraction(value)) / self.place + Fraction(1, 2))
        whole, digit = divmod(steps, 10)
        rounded = (whole * 10 + self.digits[digit]) * self.place
        return -rounded if value < 0 else rounded


_DIGIT_RULE = re.compile(r"\s*([0-9])\s*(?:-|to)\s*([0-9])\s*(?:=|->|→)\s*(10|[0-9])\s*")


def read_rounding(text: str, place: Fraction) -> RoundingRule:
    """Read a rounding rule such as ``0-2 = 0, 3-7 = 5, 8-9 = 10``.

    Raises
    ------
    TradeError
        If it is written otherwise, or does not say exactly once what becomes of each digit.
    """
    becomes: dict[int, int] = {}
    for piece in re.split(r"[,;]", plain_text(text)):
        found = _DIGIT_RULE.fullmatch(piece)
        if not found:
            raise TradeError(f"`{piece.strip()}` is no rule for digits", "write it like `3-7 = 5`")
        first, last, result = map(int, found.groups())
        for digit in range(first, last + 1):
            if digit in becomes:
                raise TradeError(f"the digit {digit} is rounded twice", "mend the rule")
            becomes[digit] = result
    if len(becomes) < len("0123456789"):
        raise TradeError("the rule leaves out some digits", "say what becomes of 0 to 9")
    return RoundingRule(tuple(becomes[digit] for digit in range(10)), place)


_NUMBER = r"([+-]?\s?[0-9]+(?:[.,][0-9]+)?)"
_EFFECT = re.compile(
    rf"{_NUMBER}\s*([a-zµ\"]+)\s+pack\s*=\s*{_NUMBER}\s*([a-zµ\"]+)\b.*", re.IGNORECASE
)


def read_effect(text: str) -> Fraction:
    """Read what a pack does, such as ``+1 mm pack = -1 mm float``, as change for one of pack.

    Raises
    ------
    TradeError
        If it is written otherwise, in two units, or has a pack of nothing.

    Examples
    --------
    >>> read_effect("+1 mm pack = −1 mm float")
    Fraction(-1, 1)
    """
    found = _EFFECT.fullmatch(plain_text(text).strip())
    if not found or found[2] != found[4]:
        raise TradeError(
            f"`{text.strip()}` does not say what a pack does",
            "write it like `+1 mm pack = -1 mm float`",
        )
    pack, effect = (Fraction(found[group].replace(" ", "").replace(",", ".")) for group in (1, 3))
    if pack == 0:
        raise TradeError("a pack of nothing has no effect", "write it for 1 mm of pack")
    return effect / pack
