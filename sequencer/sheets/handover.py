"""The handover sheet: how a job is left, for whoever goes on with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records.describe import moment
from sequencer.records.moments import moment_in
from sequencer.records.running import wet_at
from sequencer.records.sets import is_measured
from sequencer.records.state import mending
from sequencer.sheets.job import Ref, said
from sequencer.sheets.torques import torque_blocks
from sequencer.sheets.words import first_sentence, on_paper, runs_of, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.steps import Step
    from sequencer.problem import Problem
    from sequencer.records.state import State
    from sequencer.sheets.job import Job, Said

_LENGTH = 90


@dataclass(frozen=True, slots=True)
class Topic:
    """One heading with what there is to say under it; `marked` where it must not be missed."""

    title: str
    lines: tuple[Said, ...]
    marked: bool = False


@dataclass(frozen=True, slots=True)
class Coming:
    """A step to be done next."""

    number: int | None
    do: str
    torques: tuple[str, ...]
    hold: str


@dataclass(frozen=True, slots=True)
class Handover:
    """What the sheet says; `not_rest` is why the job may not be left so, empty if it may."""

    unit: str
    stopped: str
    by: str
    is_rest: bool
    done: Said
    topics: tuple[Topic, ...]
    clear: tuple[str, ...]
    leave: tuple[str, ...]
    coming: tuple[Coming, ...]
    held_up: tuple[str, ...]


def handover_view(
    job: Job, state: State, coming: Sequence[str], waiting: Sequence[Problem] = ()
) -> Handover:
    """Return what is handed over.

    Parameters
    ----------
    job : Job
        The model in its printed order.
    state : State
        What the log tells.
    coming : sequence of str
        The steps to be done next.
    waiting : sequence of Problem
        What holds up steps that would come before them.
    """
    last = state.entries[-1]
    topics = tuple(_topics(job, state))
    return Handover(
        unit=state.unit,
        stopped=moment(last.happened),
        by=last.by,
        is_rest=state.is_rest_point,
        done=_done(job, state),
        topics=tuple(topic for topic in topics if topic.lines),
        clear=tuple(topic.title.lower() for topic in topics if not topic.lines),
        leave=tuple(_leave(job, state)),
        coming=tuple(_coming(job, job.by_id[step]) for step in coming if step in job.by_id),
        held_up=tuple(dict.fromkeys(map(_held_up, waiting))),
    )


def _held_up(problem: Problem) -> str:
    """Say what holds a step up; where nothing can be done any more, where that is put right."""
    further = f": {problem.why}; ask for the change sheet" if problem.code == "dead-end" else ""
    return on_paper(problem.message) + further


def _done(job: Job, state: State) -> Said:
    numbers = [job.number[step] for step in state.done if step in job.number]
    others = [f"“{_words(job, step)}”" for step in state.done if step not in job.number]
    listed = ", ".join(filter(None, (runs_of(numbers), *others)))
    skipped = runs_of([job.number[step] for step in state.skipped if step in job.number])
    left_out = f"; left out: {skipped}" if skipped else ""
    return said(f"{len(numbers)} of {len(job.steps)}: {listed or 'none'}{left_out}")


def _topics(job: Job, state: State) -> Iterator[Topic]:
    stands = state.standing
    yield Topic("Half done", tuple(_half_done(job, state)), marked=True)
    loose = [said("left in ", job.ref(step), f": {_words(job, step)}") for step in stands.loose]
    loose += [said("loosened: ", _loosened(job, name)) for name in stands.loosened]
    yield Topic("Loose", tuple(loose), marked=True)
    now = moment_in(state.entries[-1].happened)
    wet_until = wet_at(state, now).items()
    wet = (said(job.ref(step), f", until {until}") for step, until in wet_until)
    yield Topic("Wet", tuple(wet), marked=True)
    yield Topic("Locks and states that last", tuple(_lasting(job, state)), marked=True)
    yield Topic("Aids still in the unit", tuple(_aids(job, state)), marked=True)
    yield Topic("Checks not passed", tuple(_failing(job, state)), marked=True)
    redo = (said(job.ref(s), f": {on_paper(why)}") for s, why in mending(state).redo.items())
    yield Topic("To be redone", tuple(redo), marked=True)
    yield Topic("Readings not recorded", tuple(_unread(job, state)))
    holds = (said(job.ref(step), f", to be signed by: {role}") for step, role in state.holds)
    yield Topic("Hold points not signed", tuple(holds))
    yield Topic("Parts awaited", tuple(_awaited(job, state)))
    spoiled = ((job.parts[part].label,) for part in mending(state).spoiled if part in job.parts)
    yield Topic("Parts spoiled, to get anew", tuple(spoiled))


def _half_done(job: Job, state: State) -> Iterator[Said]:
    for step, part in state.part_done.items():
        yield said(job.ref(step), f": {_words(job, step)} ", _begun(state.halted(part)), ".")
    for left in state.standing.begun:
        pieces: list[str | Ref] = ["one movement is begun; still to be done: "]
        for at, step in enumerate(left):
            pieces += [", "] if at else []
            pieces.append(job.ref(step))
        yield said(*pieces)


def _loosened(job: Job, name: str) -> str:
    if name in job.joints:
        joint = job.joints[name]
        return joint.name or joint.thread or joint.id
    return _words(job, name)


def _lasting(job: Job, state: State) -> Iterator[Said]:
    for name in state.standing.lasting:
        span = job.course.lasting.get(name)
        since = ("since ", Ref(span[0]), ", ends in ", Ref(span[1])) if span else ()
        kept = ", keep the unit as it lies" if job.states[name].keep else ""
        yield said(f"“{name}” ", *since, kept)


def _aids(job: Job, state: State) -> Iterator[Said]:
    for aid in state.standing.aids:
        later = [at for at in job.course.off_in.get(aid, ()) if job.steps[at - 1].id in state.open]
        off = (", comes off in ", Ref(later[0])) if later else ()
        yield said(job.parts[aid].label, *off)


def _failing(job: Job, state: State) -> Iterator[Said]:
    for check, taken in state.failing_checks():
        at = state.taken_in(check)
        where = (" in ", job.ref(at)) if at else ()
        verdict = taken.verdict
        follow = f". {_begun(on_paper(verdict.follow))}" if verdict.follow else ""
        found = f": {taken.value.strip()}: {verdict.beside(taken.value)}{follow}"
        yield said(_check_name(job, check), *where, found)


def _check_name(job: Job, check: str) -> str:
    found = job.checks.get(check)
    if found is None:
        return check
    return found.label


def _unread(job: Job, state: State) -> Iterator[Said]:
    for check in job.checks.values():
        at = state.taken_in(check.id)
        if at is None or not is_measured(check):
            continue
        if not state.readings.get(check.id):
            yield said(_check_name(job, check.id), " in ", job.ref(at))
        elif state.current(check.id) and state.missing(check):
            left = ", ".join(state.missing(check))
            yield said(_check_name(job, check.id), " in ", job.ref(at), f": {left}")


def _awaited(job: Job, state: State) -> Iterator[Said]:
    for part, entry in state.short.items():
        until = getattr(entry.what, "until", "")
        label = job.parts[part].label if part in job.parts else part
        needed = job.course.fitted_in.get(part, ())
        goes_in = (", goes in in ", Ref(needed[0])) if needed else ()
        yield said(label, f", until {until}" if until else "", *goes_in)


def _leave(job: Job, state: State) -> Iterator[str]:
    """Yield how to leave the unit: as the steps say that are half done, loose, or done last."""
    last = state.done[-1:]
    for step in dict.fromkeys((*state.part_done, *state.standing.loose, *last)):
        if job.by_id[step].leave:
            yield job.by_id[step].leave


def _coming(job: Job, step: Step) -> Coming:
    figures = (block.figure for block in torque_blocks(job, step))
    return Coming(
        number=job.number.get(step.id),
        do=step.do,
        torques=tuple(figure.large for figure in figures if figure),
        hold=step.hold,
    )


def _begun(text: str) -> str:
    """Return a text that begins a sentence."""
    return text[:1].upper() + text[1:]


def _words(job: Job, step: str) -> str:
    return shortened(first_sentence(job.by_id[step].do), _LENGTH)
