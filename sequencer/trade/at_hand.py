"""The torque wrenches that a job has at hand, and what each is set to, adapter included."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, TypeAlias

from sequencer.trade.adapters import Adapter, correction_share
from sequencer.trade.basics import TradeError, Unknown, in_unit
from sequencer.trade.saying import as_marked, inside
from sequencer.trade.wrench import setting_for, wrench_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.model.fastening import ArmOn, Tool
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.trade.wrench import Setting, Target, Wrench

Arm: TypeAlias = tuple[Fraction, Adapter]
"""A wrench's length and the adapter on it, both in mm."""


@dataclass(frozen=True, slots=True)
class WrenchSet:
    """A torque wrench of the model with the joint's adapter on it, if there is one.

    `arm` is None where no correction is due (no adapter, or one at 90°), and holds the words why
    where nobody can tell.
    """

    tool: Tool
    wrench: Wrench
    arm: Arm | Unknown | None

    @property
    def correction(self) -> Fraction | Unknown:
        """By what part the adapter changes the setting; below nothing where it points back."""
        if self.arm is None:
            return Fraction(0)
        return self.arm if isinstance(self.arm, Unknown) else correction_share(*self.arm)

    def setting(self, torque: Amount) -> Setting | Unknown:
        """Return what to set the wrench to for a torque as typed."""
        if isinstance(self.arm, Unknown):
            return self.arm
        return setting_for(torque, self.wrench, self.arm)


def wrench_sets(tools: Iterable[Tool], adapter: ArmOn | None) -> tuple[WrenchSet, ...]:
    """Return those of the tools that are torque wrenches, with the adapter on each."""
    found = ((tool, wrench_of(tool)) for tool in tools)
    return tuple(
        WrenchSet(tool, wrench, None if adapter is None else _arm(tool, adapter))
        for tool, wrench in found
        if wrench
    )


def _arm(tool: Tool, adapter: ArmOn) -> Arm | Unknown | None:
    degrees = in_unit(adapter.angle, "°") if adapter.angle is not None else Fraction(0)
    added = Adapter(in_unit(adapter.length, "mm"), float(degrees))
    if added.reach == 0:
        return None
    if tool.length is None:
        return Unknown(f"`{tool.id}` has no `length`, and its setting with the adapter needs it")
    arm = in_unit(tool.length, "mm"), added
    try:
        correction_share(*arm)
    except TradeError as error:
        return Unknown(f"{error.what}, `{tool.id}`")
    return arm


def wrenches_for(steps: Iterable[Step], tools: Mapping[str, Tool]) -> tuple[tuple[Tool, ...], bool]:
    """Return the torque wrenches that steps name, and True; where they name none, all there are.

    Of tools of which either will do, all are among them.
    """
    links = (link for step in steps for entry in step.tools for link in entry)
    named = dict.fromkeys(link.to for link in links if link.to in tools)
    wrenches = tuple(tools[name] for name in named if wrench_of(tools[name]))
    if wrenches:
        return wrenches, True
    return tuple(tool for tool in tools.values() if wrench_of(tool)), False


@dataclass(frozen=True, slots=True)
class SetUp:
    """A wrench set up for a torque: its setting, or in words why there is none.

    `final` is None where there is no torque to set it to.
    """

    wrench: WrenchSet
    final: Setting | Unknown | None


def set_up(wrenches: Iterable[WrenchSet], torque: Amount | None) -> tuple[SetUp, ...]:
    """Return the wrenches set up for a torque as typed."""
    return tuple(SetUp(one, one.setting(torque) if torque else None) for one in wrenches)


def value_text(value: Fraction, wrench: Wrench, target: Target) -> str:
    """Return what to set in words, with the digits that keep it inside the band."""
    if wrench.division is not None:
        return as_marked(value, target.low, target.high, wrench.unit)
    return inside(value, target.low, target.high, wrench.unit)
