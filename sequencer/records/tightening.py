"""How far a tightening got: the passes and fasteners of a step, as the model has them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.records.entries import PartDone
    from sequencer.trade.pass_settings import WorkedPass


@dataclass(frozen=True, slots=True)
class Tightening:
    """The fasteners of a step, and its passes; none where the model does not say them.

    `first` is the fastener at which a pass begins.
    """

    fasteners: int = 0
    passes: tuple[WorkedPass, ...] = ()
    first: str = ""

    def halted(self, part: PartDone) -> str:
        """Say where the tightening was left, and where it begins again.

        A pass that was interrupted begins again at the first fastener.
        """
        last = part.of or len(self.passes) or None
        of = f" of {last}" if last else ""
        at = f"at the first fastener{f', {self.first}' if self.first else ''}"
        if not part.count:
            return f"left before pass {part.pass_}{of}: begin it {at}"
        if part.count == self.fasteners:
            if part.pass_ == last:
                return f"left after the last pass, pass {part.pass_}{of}: only its tick is missing"
            return f"left after pass {part.pass_}{of}: begin pass {part.pass_ + 1}"
        count = f"{part.count} of {self.fasteners}" if self.passes else f"{part.count}"
        fasteners = f"{count} fastener{'' if count == '1' else 's'}"
        where = f"left in pass {part.pass_}{of} after {fasteners}"
        return f"{where}: begin pass {part.pass_} again {at}"

    def objections(self, part: PartDone, before: PartDone | None, name: str) -> Iterator[str]:
        """Yield what is odd about how far it got, after how far it was before, in words."""
        if self.fasteners and part.count > self.fasteners:
            yield f"{name} has {self.fasteners} fasteners, not {part.count}"
        every = len(self.passes)
        if part.of is not None and every and part.of != every:
            yield f"{name} has {every} passes, not {part.of}"
        last = every or part.of
        if last is not None and part.pass_ > last:
            yield f"there is no pass {part.pass_} of {last}"
        if before is not None and part.pass_ > before.pass_ + 1:
            left = f"{before.count} of {self.fasteners}" if self.fasteners else f"{before.count}"
            yield (
                f"pass {before.pass_} was left after {left} fasteners, and nothing says that it "
                f"was gone through before pass {part.pass_}"
            )
        elif before is not None and part.pass_ == before.pass_ + 1:
            yield from self._by_angle(part.pass_, before)

    def _by_angle(self, number: int, before: PartDone) -> Iterator[str]:
        """Yield that a pass turns by an angle where not all have had the pass before it."""
        if number > len(self.passes) or before.count >= self.fasteners:
            return
        turning, earlier = self.passes[number - 1], self.passes[number - 2]
        if turning.kind == "angle":
            yield (
                f"pass {number} ({turning.text}) turns by an angle, and only {before.count} of "
                f"{self.fasteners} fasteners have had pass {number - 1} ({earlier.text})"
            )


def tightening_of(assembly: Assembly, name: str) -> Tightening:
    """Return how a step tightens; its passes only where all its joints have the same number."""
    step = next((one for one in assembly.steps if one.id == name), None)
    links = {link.to for link in step.tighten} if step is not None else set()
    joints = [joint for joint in assembly.joints if joint.id in links]
    fasteners = sum(joint.count for joint in joints)
    bench = bench_of(assembly)
    worked = [bench.worked(joint, step) for joint in joints]
    if len({len(one.passes) for one in worked}) != 1 or not _are_said(worked[0].passes):
        return Tightening(fasteners)
    order = worked[0].order
    first = worked[0].labels[order[0] - 1] if order and len(worked) == 1 else ""
    return Tightening(fasteners, worked[0].passes, first)


def _are_said(passes: tuple[WorkedPass, ...]) -> bool:
    """Tell whether the model says the passes: a single one that nobody typed may be three."""
    return len(passes) > 1 or any(one.given for one in passes)
