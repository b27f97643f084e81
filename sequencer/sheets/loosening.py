"""In which order a joint is loosened: as it is tightened, backwards."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from sequencer.model.fastening import Joint
    from sequencer.sheets.job import Job

_MOST = 24


def loosening(job: Job, joint: Joint) -> str:
    """Return in words the order in which a joint with a pattern is loosened; else nothing.

    The tightening reversed: one manual's worked case, as quoted in a secondary source. Fasteners
    without names go by the numbers of the drawing, which are their turns.
    """
    worked = job.bench.worked(joint)
    pattern = worked.pattern
    if pattern is None or isinstance(pattern, Unknown) or not 1 < len(pattern.order) <= _MOST:
        return ""
    if len(joint.places) != joint.count:
        return f"in the order drawn, backwards: from {joint.count} to 1"
    names = [worked.labels[number - 1] for number in pattern.removal]
    return f"in the order {', '.join(names)} (as tightened, backwards)"
