"""`sequencer shims`: every pack that brings a measured figure inside its limits."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, calculator, exactly

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.model.quantities import Amount
    from sequencer.trade.measuring import Limits
    from sequencer.trade.shims import Pack, ShimChoice, Shimming, Supply

_MOST_LISTED = 20
_SOURCE = "arithmetic; what a pack does, the limit and the rounding are as given"


@click.command("shims", context_settings={"ignore_unknown_options": True})  # for −0.05 mm
@click.argument("measured")
@click.option("--limit", required=True, help='Such as "0.11 to 0.18 mm".')
@click.option(
    "--sizes", required=True, help='At hand: "0.10 mm, 0.20 mm", "1.00 to 2.00 mm step 0.05 mm".'
)
@click.option("--effect", required=True, help='Such as "+1 mm pack = -1 mm clearance".')
@click.option("--start", default="0 mm", help="The pack that was in when it was measured.")
@click.option("--at-most", default=3, show_default=True, type=click.IntRange(1, 20))
@click.option("--aim", help="The figure wanted; the middle of the limit if not given.")
@click.option("--rounding", help='How the ideal pack is rounded: "0-2 = 0, 3-7 = 5, 8-9 = 10".')
@calculator
def shims_command(  # noqa: PLR0913  # click hands over every option
    measured: str,
    *,
    limit: str,
    sizes: str,
    effect: str,
    start: str,
    at_most: int,
    aim: str | None,
    rounding: str | None,
) -> Answer:
    """Tell which packs of shims bring MEASURED inside its limit, the best first.

    More pack may mean more of the figure or less: `--effect` says which, and nothing is assumed.
    A preload is a negative float. Exit code: 0 if a pack does it, 1 if none does, 2 if a figure
    cannot be read.
    """
    from sequencer.model.quantities import read_amount
    from sequencer.trade.shims import Shimming, Supply, choose_shims, read_effect

    found = _length(measured)
    in_place, wanted = _length(start), _length(aim) if aim is not None else None
    shimming = Shimming(found.value, read_effect(effect), _in(in_place, found))
    supply = Supply(dict.fromkeys(_sizes(sizes, found)), at_most)
    limits = _limits(read_amount(limit, ("length",)), found)
    target = limits.middle if wanted is None else _in(wanted, found)
    choice = choose_shims(shimming, supply, limits, target)
    shown = _Shown(found.unit.symbol, max(map(_decimals, supply.sizes)))
    unit = shown.unit
    notes = list(_notes(choice, shimming, limits, shown))
    if rounding is not None:
        notes.append(_rounded(rounding, choice, supply, (found, shown)))
    return Answer(
        (_heading(choice, measured.strip(), limit.strip()), *_listed(choice, shown)),
        (_working(shimming, choice, target or Fraction(0), unit),),
        tuple(notes),
        {
            "unit": unit,
            "ideal": float(choice.ideal),
            "packs": [_pack_values(pack) for pack in choice.packs],
        },
        ok=choice.best is not None,
    )


@dataclass(frozen=True, slots=True)
class _Shown:
    """How packs are shown: their unit, and as many decimals as the sizes at hand have."""

    unit: str
    decimals: int

    def size(self, value: Fraction) -> str:
        text = exactly(value)
        lacking = self.decimals - len(text.partition(".")[2])
        return text + ("." if "." not in text and lacking > 0 else "") + "0" * max(lacking, 0)

    def pack(self, pack: Pack) -> str:
        total = f"{self.size(pack.total)} {self.unit}"
        if len(pack.shims) == 1:
            return total
        return f"{total} = {' + '.join(map(self.size, pack.shims))}"


def _decimals(size: Fraction) -> int:
    return len(exactly(size).partition(".")[2])


def _length(text: str) -> Amount:
    from sequencer.model.quantities import read_amount

    return read_amount(text, ("length",), limits=False)


def _in(amount: Amount, like: Amount) -> Fraction:
    from sequencer.model.quantities import converted

    return converted(amount.value, amount.unit, like.unit)


def _limits(limit: Amount, like: Amount) -> Limits:
    from sequencer.trade.basics import ends_in
    from sequencer.trade.measuring import Limits

    return Limits(*ends_in(limit, like.unit.symbol))


def _sizes(text: str, like: Amount) -> Iterator[Fraction]:
    from sequencer.model.quantities import converted
    from sequencer.reading.tabled import read_size

    for piece in text.split(","):
        size = read_size(piece)
        for each in size.each:
            yield converted(each, size.unit, like.unit)


def _heading(choice: ShimChoice, measured: str, limit: str) -> str:
    count = len(choice.packs)
    if not count:
        return f"no pack brings {measured} to {limit}"
    packs = "1 pack brings" if count == 1 else f"{count} packs bring"
    return f"{packs} {measured} to {limit}"


def _listed(choice: ShimChoice, shown: _Shown) -> Iterator[str]:
    sums = [(pack, shown.pack(pack)) for pack in choice.packs[:_MOST_LISTED]]
    width = max((len(made) for _, made in sums), default=0)
    for pack, made in sums:
        yield f"  {made:<{width}}  gives {exactly(pack.result)} {shown.unit}"
    if len(choice.packs) > len(sums):
        yield f"  and {len(choice.packs) - len(sums)} more, further from the aim"


def _working(shimming: Shimming, choice: ShimChoice, target: Fraction, unit: str) -> Working:
    start, measured, effect = map(
        exactly, (Fraction(shimming.start), Fraction(shimming.measured), Fraction(shimming.effect))
    )
    effect = f"({effect})" if effect.startswith("−") else effect
    measured = f"({measured})" if measured.startswith("−") else measured
    ideal = f"{exactly(choice.ideal)} {unit}"
    numbers = f"{start} + ({exactly(target)} − {measured}) / {effect} = {ideal}"
    return Working("pack = start + (wanted − measured) / effect", (numbers,), _SOURCE)


def _notes(choice: ShimChoice, shimming: Shimming, limits: Limits, shown: _Shown) -> Iterator[str]:
    if choice.best is None:
        for pack, side in ((choice.short, "under"), (choice.over, "over")):
            if pack is not None:
                gives = f"{exactly(pack.result)} {shown.unit}"
                yield f"{shown.pack(pack)} gives {gives}, {side} the limit"
        yield "other sizes are needed, or the figure has to be measured again"
    elif limits.holds(Fraction(shimming.measured)) and shimming.start:
        yield "it is inside the limit as it is, with the pack that is in"
    yield "change the pack, and measure again"


def _rounded(rule: str, choice: ShimChoice, supply: Supply, measured: tuple[Amount, _Shown]) -> str:
    from sequencer.trade.shims import packs_of, read_rounding

    found, shown = measured
    wanted = read_rounding(rule, Fraction(1, 10**found.places)).round(choice.ideal)
    size = shown.size(wanted)
    said = f"the rounding rule makes {exactly(choice.ideal)} a pack of {size} {shown.unit}"
    shims = packs_of(wanted, supply) if wanted > 0 else None
    if shims is None:
        return f"{said}, which the sizes at hand do not make"
    inside = any(pack.total == wanted for pack in choice.packs)
    made = f" = {' + '.join(map(shown.size, shims))}" if len(shims) > 1 else ""
    return f"{said}{made}{'' if inside else ', which is outside the limit'}"


def _pack_values(pack: Pack) -> dict[str, Value]:
    return {
        "shims": [float(shim) for shim in pack.shims],
        "total": float(pack.total),
        "result": float(pack.result),
    }
