"""What has to be bought: on the kit of a build, and after a unit was stripped."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.model.quantities import to_si
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
    """A part to buy: how many or how many packs, how that comes about, why, and how soon it comes.

    `lead` is as typed; empty where the model does not say it.
    """

    buy: str
    name: str
    number: str
    made_of: str
    why: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Buying:
    """What to buy, what takes longest to come first.

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
        (part, bought, why)
        for part, needed, why in _alike(job, wanted)
        if (bought := purchase(part, needed)) is not None
    ]
    spoken_for = {part for part, (needed, _) in wanted.items() if purchase(job.parts[part], needed)}
    return Buying(
        rows=tuple(_row(part, one, why) for part, one, why in sorted(found, key=_soonest)),
        fasteners=tuple(fasteners),
        perhaps=tuple(_perhaps(job, spoken_for)),
        money=_money(job, [(part, one) for part, one, _ in found]),
    )


def _soonest(one: tuple[Part, Purchase, str]) -> Fraction:
    """Return less for what takes longer to come; of what nobody has said, nothing is known."""
    lead = one[0].lead
    if lead is None:
        return Fraction(0)
    return -to_si(lead.value if lead.high is None else lead.high, lead.unit)


def _alike(job: Job, wanted: Mapping[str, tuple[int, str]]) -> Iterator[tuple[Part, int, str]]:
    """Yield what is needed, pieces of one part number together: they come out of one pack.

    What is on hand is said of each by itself, so that such parts stay apart.
    """
    together: dict[tuple[object, ...], tuple[Part, int, str]] = {}
    for name, (needed, why) in wanted.items():
        part = job.parts[name]
        same: tuple[object, ...] = (part.number, part.label, part.bought_as, part.price, why)
        key = same if part.number and part.on_hand is None else (name,)
        first, before, _ = together.get(key, (part, 0, why))
        together[key] = (first, before + needed, why)
    yield from together.values()


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
    lead = part.lead.text.strip() if part.lead is not None else ""
    return BuyRow(buy, name, part.number, ", ".join(filter(None, said)), why, lead)


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
