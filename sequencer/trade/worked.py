"""All that a sheet needs about tightening one joint, reckoned from the model exactly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from sequencer.trade.at_hand import setting_text, wrench_sets, wrenches_for
from sequencer.trade.basics import TradeError, Unknown
from sequencer.trade.choosing import choice_of
from sequencer.trade.fastener_length import fastener_length
from sequencer.trade.in_force import in_force
from sequencer.trade.locking import CASTLE_RULES, drag_of
from sequencer.trade.pass_settings import worked_passes
from sequencer.trade.patterns import Pattern, pattern_for
from sequencer.trade.saying import ends_inside
from sequencer.trade.torque_checks import judge_torque
from sequencer.trade.wrench import target_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from fractions import Fraction

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Compound
    from sequencer.model.fastening import Joint, Tool, Torque
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.problem import Path
    from sequencer.trade.at_hand import WrenchSet
    from sequencer.trade.choosing import Choice
    from sequencer.trade.fastener_length import FastenerLength
    from sequencer.trade.in_force import InForce
    from sequencer.trade.locking import CastleRule, Drag
    from sequencer.trade.pass_settings import WorkedPass
    from sequencer.trade.torque_checks import TorqueCheck
    from sequencer.trade.wrench import Setting, Target

    _Stated: TypeAlias = tuple[Torque, Path]


@dataclass(frozen=True, slots=True)
class WorkedWrench:
    """A torque wrench for the figure: what to set, and the band, in the wrench's own unit.

    `setting` says in words why there is none; `text` is empty where no mark of the wrench serves.
    With an adapter `text`, `low` and `high` are what the wrench shows, not what the fastener gets;
    `correction` is the part by which they differ, nothing at 90°.
    """

    tool: Tool
    setting: Setting | Unknown
    text: str
    low: str
    high: str
    correction: Fraction | Unknown

    @property
    def usable(self) -> bool:
        """Whether the wrench reaches the setting and can show it."""
        return not isinstance(self.setting, Unknown) and self.setting.usable


@dataclass(frozen=True, slots=True)
class WorkedTorque:
    """A torque as it is worked: the figure to use, its band, and what the wrenches are set to.

    `choice.taken` is None while none of several figures is chosen: then there is nothing to
    tighten to. `target` is the band of the figure, in the unit typed. `named` tells whether the
    step names the wrenches; else they are all that the model has. `path` is where it stands.
    """

    choice: Choice
    path: Path
    target: Target | None
    wrenches: tuple[WorkedWrench, ...]
    named: bool

    @property
    def amount(self) -> Amount | None:
        """The torque to use; None for finger tight, and while none is chosen."""
        return self.choice.taken.value.amount if self.choice.taken is not None else None


@dataclass(frozen=True, slots=True)
class WorkedDrag:
    """The drag of self-locking nuts: whether it is added to the figure, and what it may be.

    With `added` the wrench must reach each end of the band and the drag measured on that nut;
    else it is in the figure already. `usual` is from a published table, None if that has not got
    the thread.
    """

    added: bool
    usual: Drag | None


@dataclass(frozen=True, slots=True)
class WorkedJoint:
    """A joint as it is worked.

    `pattern` is None where no order is prescribed, or in words why it cannot be given; `order` has
    the fasteners by number as they are tightened, by that pattern or as they are numbered, and
    `around` once round, as a last pass goes. `labels` are what the fasteners are called, in the
    order of their numbers.
    """

    joint: Joint
    in_force: InForce
    torque: WorkedTorque | None
    check: TorqueCheck | Unknown | None
    passes: tuple[WorkedPass, ...]
    pattern: Pattern | Unknown | None
    order: tuple[int, ...]
    around: tuple[int, ...]
    labels: tuple[str, ...]
    drag: WorkedDrag | None
    castle: CastleRule | None
    length: FastenerLength | None

    @property
    def single_use(self) -> bool:
        """Whether the fasteners are turned by an angle beyond a torque, and so serve once."""
        return any(one.kind == "angle" for one in self.passes)

    @property
    def ticks(self) -> tuple[tuple[int, int], ...]:
        """Return a pass and a fastener, both by number, for each tick, in the order of the work.

        All fasteners have had a pass before any gets the next.
        """
        return tuple(
            (number, fastener)
            for number, one in enumerate(self.passes, start=1)
            for fastener in (self.around if one.way == "round" else self.order)
        )


@dataclass(frozen=True, slots=True)
class Bench:
    """What working joints looks up in a model, found once."""

    assembly: Assembly
    tools: Mapping[str, Tool]
    compounds: Mapping[str, Compound]
    steps: Mapping[str, tuple[Step, ...]]
    """The steps that tighten each joint, as written."""

    def worked(self, joint: Joint, step: Step | None = None) -> WorkedJoint:
        """Return a joint as it is worked in a step, or in all steps that tighten it."""
        steps = (step,) if step is not None else self.steps.get(joint.id, ())
        known = in_force(joint, self.assembly.defaults, self.compounds)
        sets, named = self._wrench_sets(steps, joint)
        torque = self._torque(_stated(joint, steps), sets, named=named)
        taken = torque.choice.taken if torque is not None else None
        pattern, around = _pattern(joint, joint.pattern), _pattern(joint, "around")
        numbers = tuple(range(1, max(joint.count, 0) + 1))
        named_all = len(joint.places) == joint.count
        return WorkedJoint(
            joint,
            known,
            torque,
            _check(torque.amount, known) if torque else None,
            worked_passes(joint, taken.value if taken else None, sets),
            pattern,
            pattern.order if isinstance(pattern, Pattern) else numbers,
            around.order if isinstance(around, Pattern) else numbers,
            joint.places if named_all else tuple(map(str, numbers)),
            _drag(joint, known),
            CASTLE_RULES["FAA AC 43.13-1B"] if joint.align == "castle" else None,
            fastener_length(joint, known.thread),
        )

    def worked_step(self, step: Step) -> WorkedTorque | None:
        """Return the torque that a step states without a joint; None if it states none."""
        if step.torque is None:
            return None
        sets, named = self._wrench_sets((step,), None)
        return self._torque((step.torque, ("steps", step.id, "torque")), sets, named=named)

    def _wrench_sets(
        self, steps: Iterable[Step], joint: Joint | None
    ) -> tuple[tuple[WrenchSet, ...], bool]:
        tools, named = wrenches_for(steps, self.tools)
        return wrench_sets(tools, joint.adapter if joint is not None else None), named

    def _torque(
        self, stated: _Stated | None, sets: tuple[WrenchSet, ...], *, named: bool
    ) -> WorkedTorque | None:
        if stated is None:
            return None
        torque, path = stated
        choice = choice_of(torque, self.assembly.defaults.source)
        amount = choice.taken.value.amount if choice.taken is not None else None
        if amount is None:
            return WorkedTorque(choice, path, None, (), named)
        wrenches = tuple(_wrench(one, amount) for one in sets)
        return WorkedTorque(choice, path, target_of(amount, amount.unit), wrenches, named)


def bench_of(assembly: Assembly) -> Bench:
    """Return what working the joints of a model looks up."""
    steps: dict[str, list[Step]] = {}
    for step in assembly.steps:
        for link in step.tighten:
            steps.setdefault(link.to, []).append(step)
    return Bench(
        assembly,
        {tool.id: tool for tool in assembly.tools},
        {compound.id: compound for compound in assembly.compounds},
        {joint: tuple(found) for joint, found in steps.items()},
    )


def worked_joint(assembly: Assembly, joint: Joint, step: Step | None = None) -> WorkedJoint:
    """Return all that a sheet needs about tightening a joint, in a step or in all that do.

    For many joints of one model, `bench_of` looks everything up once.
    """
    return bench_of(assembly).worked(joint, step)


def _stated(joint: Joint, steps: Iterable[Step]) -> _Stated | None:
    """Return the torque of a joint, or of a step that tightens it, and where it stands."""
    if joint.torque is not None:
        return joint.torque, ("joints", joint.id, "torque")
    of_steps = ((step.torque, ("steps", step.id, "torque")) for step in steps)
    return next(((torque, path) for torque, path in of_steps if torque is not None), None)


def _wrench(one: WrenchSet, amount: Amount) -> WorkedWrench:
    setting = one.setting(amount)
    if isinstance(setting, Unknown):
        return WorkedWrench(one.tool, setting, "", "", "", one.correction)
    low, high = ends_inside(setting.target.low, setting.target.high, setting.wrench.unit)
    return WorkedWrench(one.tool, setting, setting_text(setting), low, high, one.correction)


def _check(amount: Amount | None, known: InForce) -> TorqueCheck | Unknown | None:
    """Check the figure against the bolt; None where there is no figure to check."""
    if amount is None:
        return None
    thread, strength = known.thread, known.strength
    if isinstance(thread, Unknown):
        return thread
    if isinstance(strength, Unknown):
        return strength
    return judge_torque(amount, thread, strength, known.surface.factor)


def _pattern(joint: Joint, kind: str) -> Pattern | Unknown | None:
    if not kind:
        return None
    at = [(float(x), float(y)) for x, y in joint.at] if len(joint.at) == joint.count else []
    try:
        return pattern_for(kind, joint.count, at)
    except TradeError as error:
        return Unknown(error.what)


def _drag(joint: Joint, known: InForce) -> WorkedDrag | None:
    if not joint.drag:
        return None
    usual = None if isinstance(known.thread, Unknown) else drag_of(known.thread)
    return WorkedDrag(joint.drag == "add", usual)
