"""What a torque wrench is set to, on its own or pass by pass, as a card and the record print it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.sheets.figures import convert, printed_units
from sequencer.sheets.names import worded
from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import ArmOn
    from sequencer.model.quantities import Amount
    from sequencer.sheets.job import Job
    from sequencer.trade.pass_settings import PassSetting, WorkedPass
    from sequencer.trade.worked import WorkedJoint, WorkedTorque, WorkedWrench
    from sequencer.trade.wrench import Setting


@dataclass(frozen=True, slots=True)
class WrenchLine:
    """A torque wrench and what to set it to, with what there is to say about that.

    `is_corrected` tells that an adapter makes the setting another figure than the torque.
    """

    name: str
    setting: str
    band: str
    words: tuple[str, ...]
    is_corrected: bool = False


@dataclass(frozen=True, slots=True)
class PassLine:
    """One time through all fasteners: its number, what is set, what that is, and the way.

    `large` is what to work to; `is_actual` tells that what was reached is written down: in the
    last pass with a torque, and of every angle.
    """

    mark: str
    large: str
    text: str
    way: str
    why: str
    is_actual: bool


def wrench_lines(
    job: Job, own: WorkedTorque, worked: WorkedJoint | None = None
) -> tuple[WrenchLine, ...]:
    """Return the wrenches for a torque: those that the step names, else all that will do.

    Nothing is said to be set where the passes say so, where the drag of a nut has to be added
    first, or where the wrench goes on through the band until a slot lines up.
    """
    shown = [one for one in own.wrenches if own.named or one.usable]
    adapter = worked.joint.adapter if worked else None
    is_set = worked is None or not (_has_passes(worked) or _is_felt(worked))
    return tuple(
        WrenchLine(
            name=job.tool_name(one.tool.id),
            setting=one.text if is_set and _reaches(one.setting) else "",
            band=_band(own, one),
            words=tuple(worded(job, words) for words in _words(own, one, adapter)),
            is_corrected=one.correction != 0 and bool(one.text),
        )
        for one in shown
    )


def _reaches(setting: Setting | PassSetting | Unknown) -> bool:
    """Tell whether a setting is on the scale at all."""
    return not isinstance(setting, Unknown) and setting.reach in ("in range", "low on the scale")


def _band(own: WorkedTorque, one: WorkedWrench) -> str:
    is_band = own.target is not None and own.target.assumed is None
    return f"{one.low.rpartition(' ')[0]} to {one.high}" if is_band and one.text else ""


def _words(own: WorkedTorque, one: WorkedWrench, adapter: ArmOn | None) -> Iterator[str]:
    setting = one.setting
    if isinstance(setting, Unknown):
        yield setting.words
        return
    if not _reaches(setting):
        yield f"{setting.reach}: take another wrench"
    elif not one.text:
        yield "no mark of this wrench lies in the band"
    elif setting.reach != "in range":
        yield f"{setting.reach}: a smaller wrench is truer"
    if adapter is not None:
        yield _adapter(own, one, adapter)


def _adapter(own: WorkedTorque, one: WorkedWrench, adapter: ArmOn) -> str:
    angle = adapter.angle.text.strip() if adapter.angle is not None else "0°"
    reach = f"Adapter E {adapter.length.text.strip()} at {angle}"
    if one.correction == 0:
        return f"{reach}: no correction"
    length = one.tool.length.text.strip() if one.tool.length is not None else "not given"
    true = own.choice.taken.text if own.choice.taken is not None else ""
    return f"{reach}, wrench L {length} from grip to square: the fastener gets {true}"


def pass_lines(job: Job, worked: WorkedJoint) -> tuple[PassLine, ...]:
    """Return the passes to print.

    None where the figure is reached in one, without an angle, or where no figure is chosen.
    """
    passes = worked.passes
    if not _has_passes(worked) or (worked.torque and worked.torque.choice.taken is None):
        return ()
    last = max((at for at, one in enumerate(passes) if _has_torque(one)), default=None)
    shown = [(one, _large(job, worked, at)) for at, one in enumerate(passes)]
    return tuple(
        PassLine(
            mark="final" if one.way == "round" else str(at),
            large=large,
            text=_text(one, large),
            way=_way(worked, one),
            why=one.why or _out_of_reach(one),
            is_actual=at - 1 == last or one.kind == "angle",
        )
        for at, (one, large) in enumerate(shown, start=1)
    )


def _out_of_reach(one: WorkedPass) -> str:
    """Say so where no wrench at hand can be set for a pass."""
    reaches = {each.reach for each in one.settings}
    if not one.settings or any(_reaches(each) for each in one.settings):
        return ""
    return f"{' or '.join(sorted(reaches))} of the wrench"


def _has_passes(worked: WorkedJoint) -> bool:
    return len(worked.passes) > 1 or any(one.given for one in worked.passes)


def _is_felt(worked: WorkedJoint) -> bool:
    return worked.castle is not None or (worked.drag is not None and worked.drag.added)


def _has_torque(one: WorkedPass) -> bool:
    return one.kind in ("share", "torque")


def _large(job: Job, worked: WorkedJoint, at: int) -> str:
    """Return what to set for a pass, in the wrenches' units; else what it comes to, or as typed."""
    one, own = worked.passes[at], worked.torque
    if not _has_torque(one) or own is None or own.amount is None:
        return one.text
    usable = {wrench.tool.id for wrench in own.wrenches if own.named or wrench.usable}
    settings = [
        each.text
        for each in one.settings
        if each.text and each.tool.id in usable and _reaches(each)
    ]
    if settings:
        return " or ".join(dict.fromkeys(settings))
    if one.kind == "share":
        typed = worked.joint.passes[at].value.share if one.given else None
        return _part(job, own.amount, typed or Fraction(1))
    return one.text


def _part(job: Job, whole: Amount, share: Fraction) -> str:
    """Return a share of a torque, where no wrench tells what can be set."""
    low, high, nominal = (
        None if end is None else end * share for end in (whole.low, whole.high, whole.nominal)
    )
    unit = printed_units(whole.unit, job.assembly.prints)[0]
    return convert(replace(whole, low=low, high=high, nominal=nominal), unit)


def _text(one: WorkedPass, large: str) -> str:
    """Return what a pass is called: its name and what was typed, where that is not shown large."""
    typed = one.text if one.text != large else ""
    return ", ".join(piece for piece in (one.name, typed) if piece)


def _way(worked: WorkedJoint, one: WorkedPass) -> str:
    if one.way == "round":
        return "in the round, until none turns"
    if one.kind == "angle":
        return "every one, after all the torques" if worked.joint.count > 1 else "after the torque"
    return ""
