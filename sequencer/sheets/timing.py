"""The lines of a card about compounds and times: what goes where, from when, and by when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.sheets.figures import in_words
from sequencer.sheets.job import Ref, said
from sequencer.sheets.lines import Line, because
from sequencer.sheets.words import duration, listed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.common import Link
    from sequencer.model.compounds import Apply, Heat
    from sequencer.model.steps import Step
    from sequencer.planning.results import Window
    from sequencer.sheets.job import Job

CLOCK = "____:____"
BATCH = "______________"
DEGREES = "________ °C"


def waiting(job: Job, step: Step) -> Iterator[Line]:
    """Yield from when a step may begin, with a blank for the time of day."""
    for wait in job.times.waits.get(step.id, ()):
        compound = f" ({job.compounds[wait.compound].label} sets)" if wait.compound else ""
        text = f"{CLOCK} – {wait.text} after "
        yield Line("Not before", said(text, job.ref(wait.since), compound))


def in_time(job: Job, step: Step) -> Iterator[Line]:
    """Yield what runs from this step, until this step, and past it."""
    number = job.number.get(step.id)
    if number is None:
        return
    for window in sorted(job.times.windows, key=lambda one: job.number[one.since]):
        since, until = job.number[window.since], job.number[window.until]
        if number == since:
            begun = "started" if window.compound else "ended"
            yield Line("Clock", said(f"{begun} {CLOCK}; ", *_ahead(window, until)))
        elif number == until:
            yield Line("Clock", said(*_behind(window, since)))
        elif since < number < until and window.compound:
            yield Line("No break", said("the clock of ", Ref(since), " runs until ", Ref(until)))


def _ahead(window: Window, until: int) -> Sequence[str | Ref]:
    done = " is done" if window.compound else " begins"
    planned = f", {duration(window.passed)} as planned" if window.compound else ""
    return (Ref(until), f"{done} within {window.text}{planned}{because((window.why,))}")


def _behind(window: Window, since: int) -> Sequence[str | Ref]:
    if window.compound:
        return (f"closed {CLOCK}, within {window.text} of ", Ref(since))
    return (f"begun {CLOCK}, within {window.text} of ", Ref(since))


def compounds(job: Job, step: Step) -> Iterator[Line]:
    """Yield what a step cleans and puts on, where, and how much, with blanks for batch and date."""
    if step.cleans:
        how = " and ".join(word for word in step.leaves if word != "loose")
        left = f"; leave it {how}" if how else ""
        whys = because(link.why for link in step.cleans)
        yield Line("Clean", (_surfaces(job, step.cleans) + left + whys,))
    for applied in step.apply:
        yield Line("Put on", (_put_on(job, applied),))
        yield Line("Batch", (f"{BATCH} expiry {BATCH}",))
    if step.heat is not None:
        yield from _heat(job, step.heat)


def _surfaces(job: Job, links: Sequence[Link]) -> str:
    return listed([job.surfaces[link.to].label for link in links])


def _put_on(job: Job, applied: Apply) -> str:
    names = listed([job.compounds[link.to].label for link in applied.compound])
    wants = dict.fromkeys(
        word for link in applied.compound for word in job.compounds[link.to].wants
    )
    pieces = (
        f"{names} on {_surfaces(job, applied.to)}" if applied.to else names,
        applied.amount,
    )
    wanted = f" It is to be {listed([*wants])} there." if wants else ""
    told = ", ".join(piece for piece in pieces if piece)
    return f"{told}{because((applied.why,))}.{wanted}"


def _heat(job: Job, heat: Heat) -> Iterator[Line]:
    parts = [job.parts[link.to] for link in heat.part]
    limits = [f", never above {part.hottest.text.strip()}" for part in parts if part.hottest]
    soon = f"; in its place within {heat.fit_within.text.strip()}" if heat.fit_within else ""
    what = listed([part.label for part in parts])
    slip = f"; clearance wanted {in_words(heat.slip, job.assembly.prints)}" if heat.slip else ""
    told = f"{what} to {heat.to.text.strip()}{''.join(limits)}{slip}{soon}{because((heat.why,))}"
    yield Line("Heat", (f"{told}.",))
    yield Line("Measured", (DEGREES,))
    if heat.cold is not None:
        cold = listed([job.parts[link.to].label for link in heat.cold.part])
        to = f" to {heat.cold.to.text.strip()}" if heat.cold.to is not None else ""
        yield Line("Chill", (f"{cold}{to}.",))
        yield Line("Measured", (DEGREES,))


def unbroken(job: Job, number: int) -> str:
    """Return a step's place in a stretch in which a compound is open: first, middle, last or none.

    Stretches that overlap are one.
    """
    spans = [
        (job.number[window.since], job.number[window.until])
        for window in job.times.windows
        if window.compound
    ]
    before = any(since < number <= until for since, until in spans)
    after = any(since <= number < until for since, until in spans)
    places = {(False, True): "first", (True, True): "middle", (True, False): "last"}
    return places.get((before, after), "")
