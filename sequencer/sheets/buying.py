"""What has to be bought: on the kit of a build, and after a unit was stripped."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.sheets.words import shortened
from sequencer.trade.buying import purchase

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from sequencer.model.parts import Part
    from sequencer.sheets.job import Job
    from sequencer.trade.buying import Purchase

NAME_LENGTH = 240
"""Characters of a name in a table: of a row that is longer than a page the head would be lost."""


@dataclass(frozen=True, slots=True)
class BuyRow:
    """A part to buy: how many or how many packs, how that comes about, and why."""

    buy: str
    name: str
    number: str
    made_of: str
    why: str


@dataclass(frozen=True, slots=True)
class Buying:
    """What to buy.

    `fasteners` are those of joints, that are no parts of the model; `perhaps` is what a check may
    have renewed; `money` is what all of it comes to, as far as the model gives prices.
    """

    rows: tuple[BuyRow, ...]
    fasteners: tuple[str, ...]
    perhaps: tuple[str, ...]
    money: str

    def __bool__(self) -> bool:
        """Tell whether anything has to be bought, or may have to be."""
        return bool(self.rows or self.fasteners or self.perhaps)


def buying(job: Job, wanted: Mapping[str, tuple[int, str]], fasteners: Iterable[str]) -> Buying:
    """Return what to buy.

    Parameters
    ----------
    job : Job
        The model, looked up.
    wanted : mapping of str to (int, str)
        For each part how many are needed, and why they have to be new or there.
    fasteners : iterable of str
        Fasteners of joints that have to be new, each in words.
    """
    found = [
        (job.parts[part], bought, why)
        for part, (needed, why) in wanted.items()
        if (bought := purchase(job.parts[part], needed)) is not None
    ]
    return Buying(
        rows=tuple(_row(part, one, why) for part, one, why in found),
        fasteners=tuple(fasteners),
        perhaps=tuple(_perhaps(job, {part.id for part, _, _ in found})),
        money=_money(job, [(part, one) for part, one, _ in found]),
    )


def _row(part: Part, bought: Purchase, why: str) -> BuyRow:
    packs = bought.packs is not None and bool(bought.size and bought.size > 1)
    buy = f"{bought.packs} × {part.bought_as.strip()}" if packs else str(bought.lacking)
    on_hand = part.on_hand or 0
    said = (
        f"{bought.lacking + on_hand} needed" if packs or on_hand else "",
        f"{on_hand} on hand" if part.on_hand is not None else "",
        f"{bought.over} over" if packs and bought.over else "",
        f"bought as: {part.bought_as.strip()}" if part.bought_as and bought.size is None else "",
    )
    name = shortened(part.label, NAME_LENGTH)
    return BuyRow(buy, name, part.number, ", ".join(filter(None, said)), why)


def _perhaps(job: Job, bought: set[str]) -> Iterator[str]:
    """Yield the parts that a check may have renewed, and that are not bought anyway."""
    renewed = (
        link.to for check in job.assembly.checks if check.else_ for link in check.else_.renew
    )
    for name in dict.fromkeys(renewed):
        part = job.parts[name]
        if name not in bought and not part.renew:
            yield f"{part.label}, no. {part.number}" if part.number else part.label


def _money(job: Job, bought: list[tuple[Part, Purchase]]) -> str:
    """Return what it comes to: whole packs, at the price of a piece."""
    prices = [
        part.price * (one.lacking + one.over) for part, one in bought if part.price is not None
    ]
    if not prices:
        return ""
    total = float(sum(prices, Fraction(0)))
    known = "in all"
    if len(prices) < len(bought):
        known = f"for {len(prices)} of {len(bought)}, the others without a price"
    return f"{f'{total:.2f} {job.assembly.defaults.money}'.strip()} {known}"
