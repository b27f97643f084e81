"""All that a sheet needs about tightening one joint, reckoned from the model exactly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from sequencer.trade.at_hand import set_up, value_text, wrench_sets, wrenches_for
from sequencer.trade.basics import Unknown
from sequencer.trade.choosing import choice_of
from sequencer.trade.in_force import in_force
from sequencer.trade.pass_settings import worked_passes
from sequencer.trade.saying import ends_inside
from sequencer.trade.torque_checks import judge_torque
from sequencer.trade.worked_extras import castle_of, drag_of, length_of, pattern_of
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
    from sequencer.trade.at_hand import SetUp, WrenchSet
    from sequencer.trade.choosing import Choice
    from sequencer.trade.fastener_length import FastenerLength
    from sequencer.trade.in_force import InForce
    from sequencer.trade.locking import CastleRule
    from sequencer.trade.pass_settings import WorkedPass
    from sequencer.trade.patterns import Pattern
    from sequencer.trade.torque_checks import TorqueCheck
    from sequencer.trade.worked_extras import WorkedDrag
    from sequencer.trade.wrench import Setting, Target

    _Stated: TypeAlias = tuple[Torque, Path]


@dataclass(frozen=True, slots=True)
class WorkedWrench:
    """A torque wrench for the figure: what to set, and the band, in the wrench's own unit.

    `setting` says in words why there is none. With an adapter it is what the wrench shows, not
    what the fastener gets; `correction` is the part by which they differ, nothing at 90°.
    """

    tool: Tool
    setting: Setting | Unknown
    correction: Fraction | Unknown

    @property
    def usable(self) -> bool:
        """Whether the wrench reaches the setting and can show it."""
        return not isinstance(self.setting, Unknown) and self.setting.usable

    @property
    def text(self) -> str:
        """What to set in words, never outside the band; empty where no mark serves."""
        found = self.setting
        if isinstance(found, Unknown) or found.value is None:
            return ""
        return value_text(found.value, found.wrench, found.target)

    @property
    def low(self) -> str:
        """The low end of the band on the wrench, rounded inwards; empty without a setting."""
        return self._ends()[0]

    @property
    def high(self) -> str:
        """The high end of the band on the wrench, rounded inwards; empty without a setting."""
        return self._ends()[1]

    def _ends(self) -> tuple[str, str]:
        if isinstance(self.setting, Unknown):
            return "", ""
        target = self.setting.target
        return ends_inside(target.low, target.high, target.unit)


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
    passes: tuple[WorkedPass, ...]
    named: bool

    @property
    def amount(self) -> Amount | None:
        """The torque to use; None for finger tight, and while none is chosen."""
        return self.choice.taken.value.amount if self.choice.taken is not None else None


@dataclass(frozen=True, slots=True)
class WorkedJoint:
    """A joint as it is worked.

    `pattern` is None where no order is prescribed, or in words why it cannot be given; `order` has
    the fasteners by number as they are tightened, by that pattern or as they are numbered. `labels`
    are what the fasteners are called, in the order of their numbers.
    """

    joint: Joint
    in_force: InForce
    torque: WorkedTorque | None
    check: TorqueCheck | Unknown | None
    passes: tuple[WorkedPass, ...]
    pattern: Pattern | Unknown | None
    order: tuple[int, ...]
    labels: tuple[str, ...]
    drag: WorkedDrag | None
    castle: CastleRule | None
    length: FastenerLength | None

    @property
    def single_use(self) -> bool:
        """Whether the fasteners are turned by an angle beyond a torque, and so serve once."""
        return any(one.kind == "angle" for one in self.passes)


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
        choice, path = self._choice(_stated(joint, steps))
        taken = choice.taken if choice is not None else None
        ready = set_up(sets, taken.value.amount if taken is not None else None)
        passes = worked_passes(joint, taken.value if taken is not None else None, ready)
        torque = _torque(choice, path, ready, passes, named=named) if choice is not None else None
        pattern = pattern_of(joint)
        numbers = tuple(range(1, max(joint.count, 0) + 1))
        named_all = len(joint.places) == joint.count
        return WorkedJoint(
            joint,
            known,
            torque,
            _check(torque.amount, known) if torque else None,
            passes,
            pattern,
            numbers if pattern is None or isinstance(pattern, Unknown) else pattern.order,
            joint.places if named_all else tuple(map(str, numbers)),
            drag_of(joint, known.thread),
            castle_of(joint),
            length_of(joint, known.thread),
        )

    def worked_step(self, step: Step) -> WorkedTorque | None:
        """Return the torque that a step states without a joint; None if it states none."""
        if step.torque is None:
            return None
        sets, named = self._wrench_sets((step,), None)
        choice = choice_of(step.torque, self.assembly.defaults.source)
        figure = choice.taken.value if choice.taken is not None else None
        ready = set_up(sets, figure.amount if figure is not None else None)
        passes = worked_passes(None, figure, ready)
        return _torque(choice, ("steps", step.id, "torque"), ready, passes, named=named)

    def _wrench_sets(
        self, steps: Iterable[Step], joint: Joint | None
    ) -> tuple[tuple[WrenchSet, ...], bool]:
        tools, named = wrenches_for(steps, self.tools)
        return wrench_sets(tools, joint.adapter if joint is not None else None), named

    def _choice(self, stated: _Stated | None) -> tuple[Choice | None, Path]:
        if stated is None:
            return None, ()
        return choice_of(stated[0], self.assembly.defaults.source), stated[1]


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


def _stated(joint: Joint, steps: Iterable[Step]) -> _Stated | None:
    """Return the torque of a joint, or of a step that tightens it, and where it stands."""
    if joint.torque is not None:
        return joint.torque, ("joints", joint.id, "torque")
    of_steps = ((step.torque, ("steps", step.id, "torque")) for step in steps)
    return next(((torque, path) for torque, path in of_steps if torque is not None), None)


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


def _torque(
    choice: Choice,
    path: Path,
    ready: Iterable[SetUp],
    passes: tuple[WorkedPass, ...],
    *,
    named: bool,
) -> WorkedTorque:
    amount = choice.taken.value.amount if choice.taken is not None else None
    if amount is None:
        return WorkedTorque(choice, path, None, (), passes, named)
    wrenches = tuple(
        WorkedWrench(one.wrench.tool, one.final, one.wrench.correction)
        for one in ready
        if one.final is not None
    )
    target = target_of(amount, amount.unit)
    return WorkedTorque(choice, path, target, wrenches, passes, named)
