"""What a finding about fastening speaks of: a joint, or a step with a torque of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.problem import Fact

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.steps import Step
    from sequencer.problem import Path
    from sequencer.trade.choosing import Candidate
    from sequencer.trade.worked import Bench, WorkedJoint, WorkedTorque


@dataclass(frozen=True, slots=True)
class Tightened:
    """A joint with the steps that tighten it, or a step that states a torque without one.

    `name` is how a sentence speaks of it, `path` where it stands, `at` the step to tell it at.
    """

    name: str
    path: Path
    at: str | None
    steps: tuple[Step, ...]
    bench: Bench
    torque: WorkedTorque | None
    worked: WorkedJoint | None = None

    def torque_path(self, candidate: Candidate | None = None) -> Path:
        """Return where its torque stands, or one of the figures of it."""
        if self.torque is None:
            return self.path
        return (*self.torque.path, *(candidate.path if candidate is not None else ()))

    def stated(self, field: str) -> Path:
        """Return where a field of a joint stands: its own, or the model's default."""
        joint = self.worked.joint if self.worked is not None else None
        own = joint is not None and getattr(joint, field)
        return (*self.path, field) if own else ("defaults", field)

    def figure(self, candidate: Candidate) -> Fact:
        """Return what one of its figures says, and who says so."""
        names = {source.id: source.name or source.id for source in self.bench.assembly.sources}
        source = names.get(candidate.source, candidate.source)
        said = f"`{candidate.text}`"
        said += f": {source}" if source else ", without a source"
        if candidate.grade:
            said += f", for grade {candidate.grade}"
        if candidate.surface:
            said += f", for threads `{candidate.surface}`"
        return Fact(said, path=self.torque_path(candidate), why=candidate.why)


def tightened(assembly: Assembly, bench: Bench) -> Iterator[Tightened]:
    """Yield all that a model tightens: its joints, then the steps with a torque and no joint."""
    for joint in assembly.joints:
        worked = bench.worked(joint)
        steps = bench.steps.get(joint.id, ())
        at = steps[0].id if steps else None
        name = f"joint `{joint.id}`"
        yield Tightened(name, ("joints", joint.id), at, steps, bench, worked.torque, worked)
    for step in assembly.steps:
        if step.torque is not None and not step.tighten:
            torque = bench.worked_step(step)
            path: Path = ("steps", step.id)
            yield Tightened(f"step `{step.id}`", path, step.id, (step,), bench, torque)
