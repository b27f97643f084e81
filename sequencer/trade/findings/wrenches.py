"""Whether the torque wrenches at hand reach what is asked of them, and can show it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.at_hand import set_up, wrench_sets
from sequencer.trade.pass_settings import worked_passes
from sequencer.trade.saying import ends_inside, in_words, inside

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.pass_settings import PassSetting, WorkedPass


_RANGE = (
    "below a fifth of its scale a torque wrench is not to be trusted",
    "past the end of its scale a torque wrench tells nothing, and is strained",
)


@dataclass(frozen=True, slots=True)
class _Asked:
    """A pass that none of the wrenches named can be set to; `others` are of the model, and can."""

    what: str
    named: tuple[PassSetting, ...]
    others: tuple[PassSetting, ...]


def about_wrenches(one: Tightened) -> Iterator[Problem]:
    """Yield the highest torque that no wrench named, or at hand, can be set to.

    Where a step names no torque wrench, any of the model will do. With an adapter it is the
    setting that has to be on the scale, not the torque.
    """
    failing = list(_failing(one))
    if not failing:
        return
    worst = failing[-1]
    if any(setting.reach == "in range" for setting in worst.named):
        yield _unreadable(one, worst)
    elif worst.others:
        yield _outside_range(one, worst)
    else:
        yield _no_tool(one, worst)


def _failing(one: Tightened) -> Iterator[_Asked]:
    """Yield the passes that no wrench at hand can be set to, with those of the model that can."""
    passes = one.worked.passes if one.worked is not None else ()
    if one.torque is not None:
        passes = one.torque.passes
    failing = [
        at
        for at, each in enumerate(passes)
        if each.settings and not any(setting.usable for setting in each.settings)
    ]
    taken = one.torque.choice.taken if one.torque is not None else None
    if not failing:
        return
    joint = one.worked.joint if one.worked is not None else None
    kit = wrench_sets(one.bench.tools.values(), joint.adapter if joint is not None else None)
    figure = taken.value if taken is not None else None
    every = worked_passes(joint, figure, set_up(kit, figure.amount if figure else None))
    for at in failing:
        others = tuple(setting for setting in every[at].settings if setting.usable)
        what = _what(passes[at], at + 1, taken.text if taken is not None else "")
        yield _Asked(f"{what} of {one.name}", passes[at].settings, others)


def _what(each: WorkedPass, number: int, figure: str) -> str:
    if not each.given or each.text == "100 %":
        return f"`{figure}`"
    return f"pass {number}, `{each.text}`,"


def _outside_range(one: Tightened, asked: _Asked) -> Problem:
    first, better = asked.named[0], asked.others[0]
    return Problem(
        "outside-range",
        "warning",
        f"`{first.tool.id}` is outside its range for {asked.what}: {_where(first)}",
        step=one.at,
        path=_tools(one),
        facts=tuple(Fact(_of(setting), ("tools", setting.tool.id)) for setting in asked.named[1:]),
        why=_RANGE[first.reach == "above the scale"],
        fix=f"use `{better.tool.id}`: it is set to {better.text} for it",
    )


def _no_tool(one: Tightened, asked: _Asked) -> Problem:
    return Problem(
        "no-tool",
        "warning",
        f"no torque wrench of the model reaches {asked.what}",
        step=one.at,
        path=_tools(one),
        facts=tuple(Fact(_of(setting), ("tools", setting.tool.id)) for setting in asked.named),
        why=_RANGE[asked.named[0].reach == "above the scale"],
        fix="get one that is used there, and add it to `tools` with its `range`",
    )


def _unreadable(one: Tightened, asked: _Asked) -> Problem:
    setting = next(each for each in asked.named if each.reach == "in range")
    wrench = setting.wrench
    division = ""
    if wrench.division is not None:
        division = f", at {in_words(wrench.division, wrench.unit)} a division"
    low, high = ends_inside(setting.target.low, setting.target.high, setting.target.unit)
    fix = "use a wrench with finer divisions"
    if asked.others:
        fix = f"use `{asked.others[0].tool.id}`: it is set to {asked.others[0].text} for it"
    return Problem(
        "unreadable",
        "warning",
        f"`{setting.tool.id}` has no mark for {asked.what}: "
        f"none lies from {low} to {high}{division}",
        step=one.at,
        path=_tools(one),
        facts=(Fact(f"what `{setting.tool.id}` reads", ("tools", setting.tool.id, "reads")),),
        why="set to a mark beside it, the wrench leaves the band that the figure allows",
        fix=fix,
    )


def _where(setting: PassSetting) -> str:
    wrench, target = setting.wrench, setting.target
    low, high = wrench.usable()
    asked = inside(target.aim, target.low, target.high, target.unit)
    least = in_words(low, wrench.unit).partition(" ")[0]
    return f"it would be set to {asked}, and is used from {least} to {in_words(high, wrench.unit)}"


def _of(setting: PassSetting) -> str:
    return f"`{setting.tool.id}`: {_where(setting)}"


def _tools(one: Tightened) -> tuple[str | int, ...]:
    """Return where the tools of the step stand, or the torque where it names none."""
    named = one.torque is not None and one.torque.named
    for step in one.steps:
        if named and step.tools:
            return ("steps", step.id, "tools")
    return one.torque_path()
