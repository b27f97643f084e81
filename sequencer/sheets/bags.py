"""What goes into which bag: the bags that the model names, and one for each other step."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sequencer.model.uses import BETWEEN
from sequencer.trade.buying import is_spoiled_by_removal

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

    from sequencer.model.parts import Part
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job


@dataclass(slots=True)
class Bag:
    """One bag: its name, what is in it, on to what it goes, for which steps, off in which."""

    name: str
    items: list[str] = field(default_factory=list)
    new: list[str] = field(default_factory=list)
    goes_to: list[str] = field(default_factory=list)
    sections: list[str] = field(default_factory=list)
    steps: list[int] = field(default_factory=list)
    off: list[int] = field(default_factory=list)


def bags_of(
    job: Job, off: Mapping[str, int] | None = None, spoiled: Collection[str] = ()
) -> tuple[Bag, ...]:
    """Return the bags of a job, in the order in which they are filled.

    Parameters
    ----------
    job : Job
        The model, with the numbers of its packet.
    off : mapping of str to int, optional
        The number in a strip packet of each step that is taken back; without it the bags are
        those that a kit is put up in.
    spoiled : collection of str
        Parts that taking apart spoils.

    Notes
    -----
    A part is in the bag that the model names; else in one called by the number of the step that
    fits it, so that whoever comes to that step takes up that bag. Units and aids have none.
    What is not used again is named as new: it comes to the others once it is bought.
    """
    bags: dict[tuple[str, str], Bag] = {}
    steps = [step for step in job.steps if off is None or step.id in off]
    if off is not None:
        steps.sort(key=lambda step: off[step.id])
    for step in steps:
        for part, count in bagged(job, step):
            bag = bags.setdefault(_key(job, step, part), Bag(bag_name(job, step, part)))
            times = f"{count} × " if count > 1 else ""
            is_new = part.id in spoiled or is_spoiled_by_removal(part)
            (bag.new if is_new else bag.items).append(f"{times}{part.label}")
            _note(job, bag, step, off)
    return tuple(bag for bag in bags.values() if bag.items or off is None)


def bagged(job: Job, step: Step) -> Iterator[tuple[Part, int]]:
    """Yield the parts that a step fits for good and that go into a bag, with their counts."""
    if step.id in job.trials:
        return
    for fit, count in zip(step.fits, job.course.counts[step.id], strict=True):
        part = job.parts[fit.part]
        passing = (step.id, part.id) in job.course.off_again
        if part.id not in job.units and not (part.aid and not part.bag) and not passing:
            yield part, count


def bag_name(job: Job, step: Step, part: Part) -> str:
    """Return what the bag of a part that a step fits is called."""
    return part.bag.strip() or str(job.number[step.id])


def _key(job: Job, step: Step, part: Part) -> tuple[str, str]:
    """Return what tells bags apart: models used side by side may call theirs alike."""
    within = part.id.rpartition(BETWEEN)[0] if part.bag else ""
    return within, ("bag " if part.bag else "step ") + bag_name(job, step, part)


def _note(job: Job, bag: Bag, step: Step, off: Mapping[str, int] | None) -> None:
    number = job.number[step.id]
    if number in bag.steps:
        return
    bag.steps.append(number)
    if off is not None:
        bag.off.append(off[step.id])
    for link in step.onto:
        if job.parts[link.to].label not in bag.goes_to:
            bag.goes_to.append(job.parts[link.to].label)
    title = job.section_title(step.section)
    if title and title not in bag.sections:
        bag.sections.append(title)
