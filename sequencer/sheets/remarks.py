"""The labelled lines of a step's card: where, how, with what, and why it stands where it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.sheets.figures import in_words
from sequencer.sheets.job import Ref, refs, said
from sequencer.sheets.lines import Line, because
from sequencer.sheets.loosening import loosening
from sequencer.sheets.timing import compounds, in_time, waiting
from sequencer.sheets.ways import tight, ways_in
from sequencer.sheets.words import first_sentence, listed, numbered, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.common import Link
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job, Said

__all__ = ["Line", "because", "remarks"]

_MOST_OTHERS = 4  # of a group, named one by one
_OTHER_LENGTH = 90


def remarks(job: Job, step: Step) -> Iterator[Line]:
    """Yield the lines of a step in the order in which they stand on its card."""
    yield from waiting(job, step)
    yield from in_time(job, step)
    yield from _last_chances(job, step)
    yield from _only_while(job, step)
    yield from (Line("Way in", (way,)) for way in ways_in(job, step))
    yield from _largest(job, step)
    if step.position:
        yield Line("Position", (step.position,))
    yield from _keep(job, step)
    if step.tools:
        yield Line("Tools", ("; ".join(_tool(job, entry) for entry in step.tools),))
    yield from tight(job, step)
    if step.people > 1:
        yield Line("People", (str(step.people),))
    if step.by:
        yield Line("By", (step.by,))
    yield from compounds(job, step)
    if step.unattended:
        yield Line("Meanwhile", ("nobody needs to stand by",))
    yield from _movement(job, step)
    yield from _trial(job, step)
    yield from _reasons(job, step)
    yield from _loose(job, step)
    yield from _fast(job, step)
    yield from _states(job, step)
    yield from _instead(job, step)


def _last_chances(job: Job, step: Step) -> Iterator[Line]:
    """Yield what may be missed here without much harm; the rest stands in the STOP line."""
    stops = job.stops_for(step)
    for one in job.facts_of(step).last_chance_for:
        if one not in stops:
            name = job.missed_name(job.by_id[one])
            yield Line("Done?", said(f"Last chance for: {name} (", job.ref(one), ")"))


def _only_while(job: Job, step: Step) -> Iterator[Line]:
    for links, label in ((step.needs, "Only while"), (step.not_while, "Not while")):
        for link in links:
            span = job.course.lasting.get(link.to)
            when = (" (", Ref(span[0]), " to ", Ref(span[1]), ")") if span else ()
            yield Line(label, said(f"“{link.to}” lasts", *when, because((link.why,))))


def _largest(job: Job, step: Step) -> Iterator[Line]:
    largest = step.largest
    if largest is not None and largest.why:
        size = in_words(largest.value, job.assembly.prints)
        yield Line("Room for", (f"{size} – {largest.why}",))


def _tool(job: Job, entry: Sequence[Link]) -> str:
    names = " or ".join(job.tool_name(link.to) for link in entry)
    return names + because(link.why for link in entry)


def _keep(job: Job, step: Step) -> Iterator[Line]:
    """Yield until when nothing may be turned over, where that begins here."""
    ends = [
        job.course.lasting[state.id][1]
        for state in job.states.values()
        if state.keep and state.id in job.course.lasting and _names(state.begins, step)
    ]
    if step.position:
        ends += job.course.secured_in.get(step.id, ()) if "loose" in step.leaves else ()
        for link in step.loosens:
            ends += job.course.fast_again.get((step.id, link.to), ())
    if ends:
        kept = job.parts[step.unit].label if step.unit in job.parts else "the unit"
        yield Line("Keep", (f"{kept} as it lies until ", Ref(max(ends))))


def _names(links: Sequence[Link], step: Step) -> bool:
    return any(link.to == step.id for link in links)


def _movement(job: Job, step: Step) -> Iterator[Line]:
    members = job.movement(step)
    here = job.number.get(step.id)
    others = tuple(number for number in members if number != here)
    if others:
        group = job.groups.get(step.id)
        how = "one movement" if group else "one trial"
        why = group.why if group and here == members[0] else ""
        named = numbered(others if len(others) <= _MOST_OTHERS else members)
        yield Line("With", (f"{named}, {how}{because((why,))}",))


def _trial(job: Job, step: Step) -> Iterator[Line]:
    members, trial = job.movement(step), job.trials.get(step.id)
    if trial is None or not members:
        return
    if job.number[step.id] == members[0]:
        what = "fitted to measure and taken apart again; nothing stays"
        yield Line("Trial", (what + because((trial.why,)),))
        if trial.settles:
            settled = listed([job.parts[link.to].label for link in trial.settles])
            yield Line("It settles", (settled + because(link.why for link in trial.settles),))
    elif job.number[step.id] == members[-1]:
        yield Line("Trial", ("ends here: nothing of it is left on",))


def _reasons(job: Job, step: Step) -> Iterator[Line]:
    """Yield the reasons that the author gave for this step's place in the order."""
    for links, label in ((step.after, "After"), (step.before, "Before")):
        for link in links:
            named = job.named(link)
            if link.why and named:
                yield Line(label, said(*named, f" – {link.why}"))
    for link in step.onto:
        if link.why:
            yield Line("On to", said(f"{job.parts[link.to].label} – {link.why}"))


def _loose(job: Job, step: Step) -> Iterator[Line]:
    if "loose" in step.leaves:
        later = refs(job.course.secured_in.get(step.id, ()))
        yield Line("Leave", said("loose", *((", made fast in ", *later) if later else ())))
    for link in step.loosens:
        if link.kind == "step" and link.to not in job.number:
            continue
        again = refs(job.course.fast_again.get((step.id, link.to), ()))
        fast = (", made fast again in ", *again) if again else ()
        yield Line("Loosens", said(*_loosened(job, link), *fast, because((link.why,))))


def _loosened(job: Job, link: Link) -> Said:
    if link.kind == "joint":
        joint = job.joints[link.to]
        order = loosening(job, joint)
        return (f"{joint.name or joint.thread or joint.id}{f', {order}' if order else ''}",)
    parts = listed([job.parts[fit.part].label for fit in job.by_id[link.to].fits])
    ref = job.ref(link.to)
    return said(f"{parts} (", ref, ")") if parts else ("what was set in ", ref)


def _fast(job: Job, step: Step) -> Iterator[Line]:
    loose = refs(job.numbers(step.secures))
    if loose:
        whys = because(link.why for link in step.secures)
        yield Line("Secures", said("what was left loose in ", *loose, whys))
    loosened = refs(job.course.loosened_in.get(step.id, ()))
    if loosened:
        yield Line("Secures", said("what was loosened in ", *loosened))


def _states(job: Job, step: Step) -> Iterator[Line]:
    for state in job.states.values():
        span = job.course.lasting.get(state.id)
        if _names(state.begins, step):
            until = (", until ", Ref(span[1])) if span else ()
            yield Line("Begins", said(f"“{state.id}”", *until, because((state.why,))))
        if _names(state.ends, step):
            since = (", begun in ", Ref(span[0])) if span else ()
            yield Line("Ends", said(f"“{state.id}”", *since))


def _instead(job: Job, step: Step) -> Iterator[Line]:
    """Point to the cards below: what is done instead may stand on the next page."""
    for other in job.instead_of(step):
        words = shortened(first_sentence(other.do), _OTHER_LENGTH)
        yield Line("Instead", (f"if this cannot be done, below: {words}",))
