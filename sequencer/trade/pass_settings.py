"""The passes of a joint as they are worked: each with its settings, and the way through."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.at_hand import set_up, value_text
from sequencer.trade.passes import early_pass
from sequencer.trade.wrench import Setting

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.model.fastening import Joint, PassValue, Tool, Torque, TorqueValue
    from sequencer.model.quantities import Amount
    from sequencer.trade.at_hand import SetUp, WrenchSet
    from sequencer.trade.passes import Way
    from sequencer.trade.wrench import Reach, Target, Wrench

PassKind: TypeAlias = Literal["hand", "share", "torque", "angle", "back"]

_FULL = Fraction(1)


@dataclass(frozen=True, slots=True)
class PassSetting:
    """What one wrench is set to for a pass: `value` is None where it has no mark that serves.

    `target` is the band of the pass on the wrench, in its unit; `exact` is False where an early
    pass had to take the next lower mark.
    """

    tool: Tool
    wrench: Wrench
    target: Target
    value: Fraction | None
    exact: bool
    reach: Reach

    @property
    def usable(self) -> bool:
        """Whether the wrench both reaches the setting and can show it."""
        return self.value is not None and self.reach == "in range"

    @property
    def text(self) -> str:
        """What to set in words, never above the band; empty where no mark serves."""
        return "" if self.value is None else value_text(self.value, self.wrench, self.target)


@dataclass(frozen=True, slots=True)
class WorkedPass:
    """One time through all fasteners.

    `text` is as typed (`30 %`, `69 N·m`, `back 180°`); `kind` says what it is; `settings` has one
    for each wrench at hand, none where no wrench is set. `way` is `round` for the last pass, once
    more around at the full figure. `given` is False for passes that nobody typed.
    """

    name: str
    text: str
    kind: PassKind
    way: Way
    settings: tuple[PassSetting, ...] = ()
    angle: Amount | None = None
    why: str = ""
    given: bool = True


def worked_passes(
    joint: Joint | None, figure: TorqueValue | None, wrenches: Sequence[SetUp]
) -> tuple[WorkedPass, ...]:
    """Return the passes of a joint, in order, with the settings of wrenches set up for its figure.

    Without passes of its own a joint has one to its figure, and one for the angle behind it.
    Where all passes are shares, a pass to the full figure is added if they stop short of it, and
    then a last one around. An angle behind the figure is the last pass where none is typed.
    Without a figure to use, shares have no settings.
    """
    typed = joint.passes if joint is not None else ()
    if not typed:
        return tuple(_of_figure(figure, wrenches))
    shares = [one.value.share for one in typed]
    worked: list[WorkedPass] = []
    before: dict[str, Fraction] = {}
    for one in typed:
        if one.value.back:
            before = {}
        settings = tuple(_settings(one.value, wrenches, before))
        before |= {setting.tool.id: setting.value for setting in settings if setting.value}
        angle = one.value.angle
        worked.append(
            WorkedPass(
                one.name, one.value.text, _kind(one.value), "pattern", settings, angle, one.why
            )
        )
    if None not in shares and shares[-1] != _FULL:
        worked.append(_full("pattern", wrenches))
    if figure is not None and figure.angle is not None:
        if all(one.kind != "angle" for one in worked):
            worked.append(_turn(figure.angle))
    elif None not in shares:
        worked.append(_full("round", wrenches))
    return tuple(worked)


def is_turned_by_angle(joint: Joint | None, torque: Torque | None) -> bool:
    """Tell whether fasteners are turned by an angle beyond a torque, and so serve once.

    A pass that goes back is no such turn.
    """
    typed = joint.passes if joint is not None else ()
    if any(one.value.angle is not None and not one.value.back for one in typed):
        return True
    return torque is not None and torque.value.angle is not None


def _full(way: Way, wrenches: Sequence[SetUp]) -> WorkedPass:
    settings = tuple(_finals(wrenches))
    return WorkedPass("", "100 %", "share", way, settings, given=False)


def _turn(angle: Amount) -> WorkedPass:
    return WorkedPass("", angle.text.strip(), "angle", "pattern", (), angle, given=False)


def _of_figure(figure: TorqueValue | None, wrenches: Sequence[SetUp]) -> Iterator[WorkedPass]:
    """Yield the passes that a figure means without any being typed."""
    if figure is None:
        return
    if figure.amount is None:
        yield WorkedPass("", figure.text.strip(), "hand", "pattern", given=False)
    else:
        settings = tuple(_finals(wrenches))
        text = figure.amount.text.strip()
        yield WorkedPass("", text, "torque", "pattern", settings, given=False)
    if figure.angle is not None:
        yield _turn(figure.angle)


def _kind(value: PassValue) -> PassKind:
    if value.back:
        return "back"
    if value.share is not None:
        return "share"
    return "torque" if value.torque is not None else "angle"


def _settings(
    value: PassValue, wrenches: Iterable[SetUp], before: dict[str, Fraction]
) -> Iterator[PassSetting]:
    if value.torque is not None:
        yield from _finals(set_up([one.wrench for one in wrenches], value.torque))
    elif value.share == _FULL:
        yield from _finals(wrenches)
    elif value.share is not None:
        for one in wrenches:
            if isinstance(one.final, Setting):
                yield _of_share(one.wrench, one.final, value.share, before)


def _finals(wrenches: Iterable[SetUp]) -> Iterator[PassSetting]:
    for one in wrenches:
        final = one.final
        if isinstance(final, Setting):
            exact = final.value is not None
            yield PassSetting(
                one.wrench.tool, final.wrench, final.target, final.value, exact, final.reach
            )


def _of_share(
    wrench: WrenchSet, final: Setting, part: Fraction, before: dict[str, Fraction]
) -> PassSetting:
    found = early_pass(final, part, before.get(wrench.tool.id, Fraction(0)))
    band = final.target.scaled(part)
    return PassSetting(wrench.tool, final.wrench, band, found.value, found.exact, found.reach)
