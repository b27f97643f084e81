"""What an adapter between wrench and fastener does to the setting, and when nobody can tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown
from sequencer.trade.saying import in_words, inside

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.worked import WorkedWrench
    from sequencer.trade.wrench import Setting


def about_adapters(one: Tightened) -> Iterator[Problem]:
    """Yield the correction for an adapter where it matters, or why it cannot be told.

    It matters where the uncorrected setting would leave the band of the figure. Wrenches that no
    step names are looked at only where there is one.
    """
    if one.worked is None or one.torque is None or one.worked.joint.adapter is None:
        return
    wrenches = one.torque.wrenches
    if not one.torque.named and len(wrenches) > 1:
        return
    for wrench in wrenches:
        if isinstance(wrench.setting, Unknown):
            yield _unknown(one, wrench, wrench.setting)
        elif wrench.correction == 0:
            yield _none_due(one, wrench)
        elif _matters(wrench, wrench.setting):
            yield _correction(one, wrench, wrench.setting)


def _matters(wrench: WorkedWrench, setting: Setting) -> bool:
    """Tell whether the setting without correction lies outside the band."""
    plain = _uncorrected(wrench, setting)
    return plain is not None and not setting.target.low <= plain <= setting.target.high


def _uncorrected(wrench: WorkedWrench, setting: Setting) -> Fraction | None:
    """Return the torque itself in the wrench's unit: what it would be set to by mistake."""
    if isinstance(wrench.correction, Unknown):
        return None
    return setting.target.aim / (1 - wrench.correction)


def _unknown(one: Tightened, wrench: WorkedWrench, unknown: Unknown) -> Problem:
    fix = "write its `length`, from the middle of its grip to its square"
    if wrench.tool.length is not None:
        fix = "measure both again: the wrench from grip to square, the adapter from there on"
    return Problem(
        "adapter-unknown",
        "warning",
        f"{unknown.words}, for {one.name}",
        step=one.at,
        path=("tools", wrench.tool.id),
        facts=(Fact(f"the adapter of {one.name}", (*one.path, "adapter")),),
        why="an adapter that lies along the wrench changes the torque that the fastener gets",
        fix=fix,
    )


def _none_due(one: Tightened, wrench: WorkedWrench) -> Problem:
    return Problem(
        "adapter-setting",
        "note",
        f"no correction is due for the adapter of {one.name}: at 90° it changes nothing",
        step=one.at,
        path=(*one.path, "adapter"),
        why="square to the wrench an adapter makes it neither longer nor shorter",
        fix=f"set `{wrench.tool.id}` to the torque itself, and keep the adapter square to it",
    )


def _correction(one: Tightened, wrench: WorkedWrench, setting: Setting) -> Problem:
    target, plain = setting.target, _uncorrected(wrench, setting)
    unit = target.unit
    aim = inside(target.aim, target.low, target.high, unit)
    wrong = ""
    if plain is not None and not isinstance(wrench.correction, Unknown):
        given = in_words(plain / (1 - wrench.correction), unit)
        wrong = f"set to {in_words(plain, unit)}, it would put {given} on the fastener"
    return Problem(
        "adapter-setting",
        "note",
        f"`{wrench.tool.id}` with the adapter is set to {wrench.text or aim} for {one.name}",
        step=one.at,
        path=(*one.path, "adapter"),
        facts=(
            Fact(f"the torque is `{_typed(one)}`", one.torque_path()),
            *_arm(one, wrench),
        ),
        why=wrong,
        fix="set what is printed, and pull at the middle of the grip",
    )


def _arm(one: Tightened, wrench: WorkedWrench) -> Iterator[Fact]:
    adapter = one.worked.joint.adapter if one.worked is not None else None
    if adapter is None or wrench.tool.length is None:
        return
    length = wrench.tool.length.text.strip()
    yield Fact(f"the wrench is {length} long", ("tools", wrench.tool.id, "length"))
    angle = adapter.angle.text.strip() if adapter.angle is not None else "0°, in line"
    said = f"the adapter adds {adapter.length.text.strip()} at {angle}"
    yield Fact(said, (*one.path, "adapter"))


def _typed(one: Tightened) -> str:
    return one.torque.amount.text.strip() if one.torque is not None and one.torque.amount else ""
