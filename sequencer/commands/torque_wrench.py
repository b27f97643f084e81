"""`sequencer torque adapter` and `passes`: what to set a torque wrench to."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import click

from sequencer.commands.bench import Answer, Working, above_nothing, calculator, exactly, number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.commands.bench import Value
    from sequencer.model.quantities import Amount
    from sequencer.trade.passes import Pass
    from sequencer.trade.wrench import Setting, Wrench

_SETTING_SOURCE = (
    "in line: US Army TM 1-1500-204-23-9; at 90°: US Army TM 9-2350-277-20-2; between: geometry"
)
_USUAL_SHARES = "30, 60, 100"
_SHARES_SOURCE = "30, 60 and 100 %: common in the trade, as quoted in secondary sources"
_RANGE_SOURCE = "used from 20 % of the scale: common practice, no source"
_ISO_6789 = "ISO 6789, as quoted in a secondary source"
_LEGACY = "legacy cross-pattern procedure, ASME PCC-1, as quoted in secondary sources"
_WAYS = {"by hand": "by hand", "pattern": "in the pattern", "round": "once more, all round"}


@click.command("adapter")
@click.argument("torque")
@click.option("--length", required=True, help="The wrench, from drive to the middle of the grip.")
@click.option("--adapter", required=True, help="The adapter, from drive to fastener.")
@click.option("--angle", default="0", show_default=True, help="Degrees: 0 in line, 180 back.")
@calculator
def adapter_command(torque: str, length: str, adapter: str, angle: str) -> Answer:
    """Tell what to set the wrench to for TORQUE with a crow-foot or the like on it."""
    from sequencer.model.assembly import Prints
    from sequencer.model.quantities import read_amount
    from sequencer.sheets.figures import convert, printed_units
    from sequencer.trade.adapters import Adapter, correction_share, true_torque, wrench_setting
    from sequencer.trade.basics import in_unit

    wanted = above_nothing(torque, "torque")
    wrench = above_nothing(length, "length", limits=False)
    offset = read_amount(adapter, ("length",), limits=False)
    turned = read_amount(angle, ("angle", "number"), limits=False)
    degrees = in_unit(turned, "°") if turned.quantity == "angle" else turned.value
    arm = in_unit(wrench, "mm"), Adapter(in_unit(offset, "mm"), float(degrees))
    setting = _scaled(wanted, wrench_setting(1, *arm))
    first, *others = printed_units(wanted.unit, Prints())
    second = "".join(f" ({convert(setting, unit)})" for unit in others)
    reach = f"({adapter.strip()})" if offset.value < 0 else adapter.strip()
    numbers = (
        f"{wanted.text.strip()} × {length.strip()} / ({length.strip()} + {reach} × "
        f"cos {exactly(degrees)}°) = {convert(setting, first)}"
    )
    return Answer(
        (f"set the wrench to {convert(setting, first)}{second}",),
        (Working("Tset = T·L/(L + E·cos θ)", (numbers,), _SETTING_SOURCE),),
        (_unset(correction_share(*arm), convert(_scaled(wanted, true_torque(1, *arm)), first)),),
        {
            "setting": float(setting.value),
            "unit": first.symbol,
            "true_torque_if_not_corrected": float(true_torque(wanted.value, *arm)),
        },
    )


def _unset(share: Fraction, uncorrected: str) -> str:
    if not share:
        return "at 90° the adapter changes nothing, and no correction is due"
    return f"set without this correction, the fastener would get {uncorrected}; none is due at 90°"


def _scaled(amount: Amount, factor: Fraction) -> Amount:
    low, high, nominal = (
        None if end is None else end * factor for end in (amount.low, amount.high, amount.nominal)
    )
    return replace(amount, low=low, high=high, nominal=nominal)


@click.command("passes")
@click.argument("torque")
@click.option("--wrench", required=True, help='Its scale, such as "10 to 60 N·m".')
@click.option("--reads", required=True, help='Its smallest division, such as "1 N·m".')
@click.option("--shares", default=_USUAL_SHARES, show_default=True, help="Per cent, rising.")
@click.option("--legacy", is_flag=True, help="Tell the published rounds of flanges as well.")
@calculator
def passes_command(torque: str, *, wrench: str, reads: str, shares: str, legacy: bool) -> Answer:
    """Tell what to set the wrench to for each pass up to TORQUE.

    No setting leaves the band of its pass through rounding to what the wrench can show.
    """
    from sequencer.trade.passes import passes_for
    from sequencer.trade.wrench import setting_for

    wanted = above_nothing(torque, "torque")
    tool = _wrench(wrench, reads)
    setting = setting_for(wanted, tool)
    passes = passes_for(setting, _shares(shares))
    target = setting.target
    return Answer(
        (*(_line(one, tool) for one in passes), *(_published(setting) if legacy else ())),
        (
            *_passes_working(passes, setting, _source_of(shares)),
            *((_published_working(setting),) if legacy else ()),
        ),
        tuple(_passes_notes(wanted, passes, setting)),
        {
            "unit": tool.unit.symbol,
            "aim": float(target.aim),
            "band": [float(target.low), float(target.high)],
            "passes": [_pass_values(one) for one in passes],
        },
        ok=setting.usable,
    )


def _wrench(scale: str, reads: str) -> Wrench:
    from sequencer.model.quantities import read_amount
    from sequencer.trade.basics import TradeError
    from sequencer.trade.wrench import Wrench

    range_ = read_amount(scale, ("torque",))
    division = above_nothing(reads, "torque", limits=False)
    if range_.high is None or range_.low == range_.high:
        raise TradeError(
            f"`{scale.strip()}` is not the scale of a wrench", "write it like `10 to 60 N·m`"
        )
    if division.unit is not range_.unit:
        raise TradeError(
            f"the scale is in {range_.unit.symbol}, its division in {division.unit.symbol}",
            "give both in the unit that the wrench shows",
        )
    return Wrench(range_.unit, range_.low or Fraction(0), range_.high, division.value)


def _shares(text: str) -> list[Fraction]:
    from sequencer.model.quantities import read_amount
    from sequencer.trade.basics import TradeError

    amounts = [read_amount(piece, ("number", "ratio"), limits=False) for piece in text.split(",")]
    shares = [amount.value / 100 for amount in amounts]
    if any(not 0 < share <= 1 for share in shares) or sorted(set(shares)) != shares:
        raise TradeError(
            f"`{text.strip()}` does not rise from above 0 to 100 %", "write it like `30, 60, 100`"
        )
    return shares


def _source_of(shares: str) -> str:
    return _SHARES_SOURCE if shares == _USUAL_SHARES else "shares as given"


def _line(one: Pass, wrench: Wrench) -> str:
    unit = wrench.unit.symbol
    set_to = "no mark serves" if one.value is None else f"{exactly(one.value)} {unit}"
    return f"{exactly(one.share * 100):>5} %  {set_to:<16}{_WAYS[one.way]}"


def _published(setting: Setting) -> Iterator[str]:
    """Yield the rounds of the published legacy procedure, in the unit of the wrench."""
    from sequencer.trade.passes import LEGACY_ROUNDS

    aim, unit = setting.target.aim, setting.wrench.unit.symbol
    yield "published rounds:"
    for one in LEGACY_ROUNDS:
        shares = list(dict.fromkeys(exactly(share * 100) for share in (one.least, one.most)))
        torques = list(dict.fromkeys(number(share * aim) for share in (one.least, one.most)))
        yield (
            f"  {one.name:<4} {' to '.join(shares):>8} %  {' to '.join(torques)} {unit} "
            f"{_WAYS[one.way]}; {one.note}"
        )


def _published_working(setting: Setting) -> Working:
    aim, unit = setting.target.aim, setting.wrench.unit.symbol
    numbers = f"20 % × {number(aim, 6)} {unit} = {number(aim / 5, 4)} {unit}, and so on"
    return Working("share × T", (numbers,), _LEGACY)


def _passes_working(
    passes: tuple[Pass, ...], setting: Setting, shares_source: str
) -> Iterator[Working]:
    aim, unit = setting.target.aim, setting.wrench.unit.symbol
    yield Working(
        "the mark nearest to share × T, inside share × band; early passes else the next below",
        tuple(
            f"{exactly(one.share * 100)} % × {number(aim, 6)} {unit} = "
            f"{number(one.share * aim, 4)} {unit}, "
            f"{'no mark' if one.value is None else f'set {exactly(one.value)} {unit}'}"
            for one in passes[:-1]
        ),
        f"{shares_source}; {_RANGE_SOURCE}",
    )


def _passes_notes(wanted: Amount, passes: tuple[Pass, ...], setting: Setting) -> Iterator[str]:
    from sequencer.sheets.figures import convert

    target, unit = setting.target, setting.wrench.unit
    band = replace(wanted, unit=unit, low=target.low, high=target.high, nominal=None)
    assumed = ""
    if target.assumed is not None:
        share = exactly(target.assumed * 100)
        assumed = f"; no tolerance was given, so ±{share} % is taken ({_ISO_6789})"
    yield f"the band to stay in is {convert(band, unit)}{assumed}"
    if setting.value is None:
        yield "no mark of this wrench lies in the band: take one that is divided more finely"
    for one in passes[:-1]:
        share = f"{exactly(one.share * 100)} %"
        if one.value is not None and one.reach != "in range":
            yield f"{share}: {exactly(one.value)} {unit.symbol} is {one.reach} of this wrench"
        if one.value is not None and not one.exact:
            yield f"{share}: no mark lies in the band of this pass, so the next lower one is taken"


def _pass_values(one: Pass) -> dict[str, Value]:
    return {
        "share": float(one.share),
        "setting": None if one.value is None else float(one.value),
        "way": one.way,
        "on_a_mark_in_the_band": one.exact,
        "reach": one.reach,
    }
