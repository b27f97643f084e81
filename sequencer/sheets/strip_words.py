"""What a strip packet says in its own words: how a step is taken back, what to mark first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.sheets.handled import matched_words
from sequencer.sheets.words import first_sentence, listed, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.parts import Part
    from sequencer.model.steps import Step
    from sequencer.planning.stripping import TakenBack
    from sequencer.sheets.job import Job

LENGTH = 110
"""Up to so many letters of a step's own words are told."""


def tools_off(job: Job, step: Step) -> tuple[str, ...]:
    """Return the tools of a step that serve backwards too: nothing is loosened by torque wrench."""
    entries = [
        [job.tool_name(link.to) for link in entry if not _is_torque_wrench(job, link.to)]
        for entry in step.tools
    ]
    return tuple(" or ".join(entry) for entry in entries if entry)


def _is_torque_wrench(job: Job, tool: str) -> bool:
    reach = job.tools[tool].range_
    return reach is not None and reach.unit.quantity == "torque"


def backwards(job: Job, step: Step, taken: TakenBack) -> str:
    """Say what taking a step back comes to, where its author does not."""
    loosened = [_joint(job, name) for name in taken.loosens]
    parts = [job.parts[part].label for part in taken.comes_off]
    aids = [job.parts[part].label for part in taken.goes_on]
    freed = [
        job.parts[fit.part].label
        for name in taken.frees
        if name in job.by_id
        for fit in job.by_id[name].fits
    ]
    unscrew = step.torque is not None and not step.tighten
    told = [
        f"put {listed(aids)} on for a time" if aids else "",
        f"loosen {listed(loosened)}" if loosened else "",
        f"{'unscrew' if unscrew else 'take off'} {listed(parts)}" if parts else "",
        f"free {listed(list(dict.fromkeys(freed)))}" if freed and not loosened else "",
    ]
    sentence = listed([one for one in told if one])
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else "Take this step back."


def _joint(job: Job, name: str) -> str:
    joint = job.joints[name]
    return joint.name or (f"the {joint.count} × {joint.thread}" if joint.thread else name)


def counted_part(job: Job, part: str, count: int) -> str:
    """Return so many of a part in words."""
    return f"{count} × {job.parts[part].label}" if count > 1 else job.parts[part].label


def marks_of(job: Job, part: Part, facing: list[str]) -> Iterator[str]:
    """Yield what to mark before a part comes off, each with its own tick."""
    if part.matched:
        pieces = f"1 to {part.quantity} on each. " if part.quantity > 1 else ""
        yield (
            f"Mark {pieces}{matched_words(job, part)}"
            if pieces
            else (f"Mark it. {matched_words(job, part)}")
        )
    for way_round in facing:
        yield f"Mark which way round: {way_round}"
    if part.pack is not None:
        yield "Keep the pack together, and measure it:"
    if part.serial:
        yield "Read its serial number: ______________"


def passed_over(job: Job, name: str) -> str:
    """Point to a step that says nothing of how it is undone."""
    words = shortened(first_sentence(job.by_id[name].do), LENGTH)
    return f"step {job.number[name]} of the packet: “{words}”"
