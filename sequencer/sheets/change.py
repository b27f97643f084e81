"""The change sheet: after a mistake, or from one issue to the next, what comes out and goes in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.planning.mending import not_among_parts
from sequencer.sheets.job import said
from sequencer.sheets.loosening import loosening
from sequencer.sheets.names import doing, worded
from sequencer.sheets.steps import Card, Signal, card_of
from sequencer.sheets.torques import about
from sequencer.sheets.words import duration, listed, runs_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.steps import Step
    from sequencer.planning.mending import Fasteners, Mend, Mistake, Paper, Wait
    from sequencer.sheets.job import Job, Said


@dataclass(frozen=True, slots=True)
class Out:
    """A step to take back: what warns, what to do, what that spoils, why, how long it takes."""

    number: int | None
    do: str
    what: str
    signals: tuple[Signal, ...]
    spoils: str
    why: str
    minutes: str


@dataclass(frozen=True, slots=True)
class Back:
    """A step to do, with its card.

    `how` says what is unlike doing it for the first time; it is empty where it is as before it.
    """

    card: Card
    how: str


@dataclass(frozen=True, slots=True)
class Change:
    """What the sheet says.

    `reasons` are why, in a builder's words; `ready` is what to have new; `numbered` says by which
    packet the steps are numbered, where that is not the one in hand; `then` how the job goes on.
    """

    unit: str
    was: Paper
    now: Paper
    numbered: str
    done: str
    reasons: tuple[Said, ...]
    to_ask: tuple[str, ...]
    minutes: str
    made: tuple[str, ...]
    ready: tuple[str, ...]
    out: tuple[Out, ...]
    prepare: tuple[Said, ...]
    back: tuple[Back, ...]
    waits: tuple[Said, ...]
    held_up: tuple[Said, ...]
    void: tuple[Said, ...]
    then: Said


def change_view(job: Job, mistake: Mistake, mend: Mend) -> Change:
    """Return what the change sheet says.

    Parameters
    ----------
    job : Job
        The model as it is now, with the numbers of `mistake.order`.
    mistake : Mistake
        Where the job stood, and what is wrong.
    mend : Mend
        How it is mended.
    """
    numbers = [job.number[s] for s in mistake.done if s in job.number and s not in mistake.skipped]
    return Change(
        unit=mistake.unit,
        was=mistake.was,
        now=mistake.now,
        numbered="" if mistake.numbered_by == mistake.was else mistake.numbered_by.fingerprint,
        done=runs_of(numbers),
        reasons=tuple(_reasons(job, mistake, mend)),
        to_ask=tuple(worded(job, f"{one.message}: {one.why}") for one in mistake.findings),
        minutes=duration(mend.minutes) if mend.minutes else "",
        made=tuple(_made(job, mend)),
        ready=(
            *(_part(job, part, count) for part, count in mend.renew.items()),
            *(
                _fasteners(job, one)
                for one in not_among_parts(job.assembly, mend.fasteners, mend.renew)
            ),
        ),
        out=tuple(_outs(job, mistake, mend)),
        prepare=tuple(said(job.ref(s), f": {doing(job, s)}") for s in mend.prepare),
        back=tuple(_backs(job, mend)),
        waits=tuple(_wait(job, wait) for wait in mend.waits),
        held_up=tuple(_held_up(job, mistake)),
        void=tuple(said(job.ref(s), f", {job.by_id[s].hold}") for s in mend.void),
        then=_then(job, mend),
    )


def _wait(job: Job, wait: Wait) -> Said:
    how_long = "nobody can say how long" if wait.minutes is None else duration(wait.minutes)
    setting = f", for {job.compounds[wait.compound].label} to set" if wait.compound else ""
    look_up = ": look it up" if wait.minutes is None else ""
    return said(
        how_long, " from ", job.ref(wait.after), " to ", job.ref(wait.step), setting + look_up
    )


def _reasons(job: Job, mistake: Mistake, mend: Mend) -> Iterator[Said]:
    """Yield why: what has to be redone, what afresh where it is, and what was forgotten."""
    for step, why in mistake.redo.items():
        yield said(job.ref(step), f" has to come out and go in again{_because(job, why)}")
    for step, why in mistake.again.items():
        where = " has to be done afresh where it is" if step in mend.in_place else ""
        yield said(
            job.ref(step), f"{where or ' has to come out and go in again'}", _because(job, why)
        )
    out = {*mend.undo, *mend.in_place}
    for step in mend.back_in if out else ():
        if step not in out:
            yield said(job.ref(step), f" was not done: {doing(job, step)}")


def _because(job: Job, why: str) -> str:
    return f": {worded(job, why)}" if why else ""


def _made(job: Job, mend: Mend) -> Iterator[str]:
    """Yield what the minutes are made of."""
    made = mend.made
    money = f"{made.money:.2f} {job.assembly.defaults.money}".strip()
    for minutes, words in (
        (made.back, "to take out"),
        (made.once_more, "to do again"),
        (made.in_place, "to do afresh where it is"),
        (made.parts, f"for parts, {money}"),
    ):
        if minutes:
            yield f"{duration(minutes)} {words}"


def _outs(job: Job, mistake: Mistake, mend: Mend) -> Iterator[Out]:
    """Yield what has to be taken apart; what is only prepared afresh is not among it."""
    told: set[str] = set()
    for step in mend.undo:
        model = job.by_id[step]
        if step in mend.prepare and not model.apply:
            continue
        undone = model.undo
        named = [link.to for link in undone.spoils] if undone is not None else []
        named += [fit.part for fit in model.fits]
        spoiled = [part for part in dict.fromkeys(named) if part in mend.renew and part not in told]
        told |= set(spoiled)
        scrap = [job.parts[part].label for part in spoiled]
        scrap += [_fasteners(job, one) for one in mend.fasteners if one.step == step]
        fact = mend.why[step]
        why = mistake.redo.get(step) or f"{fact.text}{f' – {fact.why}' if fact.why else ''}"
        yield Out(
            number=job.number.get(step),
            do=(undone.do if undone is not None and undone.do else _backwards(job, model))
            + _orders(job, model),
            what=doing(job, step),
            signals=tuple(one for one in card_of(job, model).signals if one.word != "NOTICE"),
            spoils=listed(scrap),
            why=worded(job, why),
            minutes=_undo_minutes(model),
        )


def _orders(job: Job, step: Step) -> str:
    """Say in which order the joints that a step tightens are loosened."""
    joints = [job.joints[link.to] for link in step.tighten]
    orders = [(joint.name or joint.thread, loosening(job, joint)) for joint in joints]
    return "".join(f" {name}: loosen {order}." for name, order in orders if order)


def _backwards(job: Job, step: Step) -> str:
    """Say what taking a step back comes to, where its author does not."""
    loosened = [job.joints[link.to].name or job.joints[link.to].thread for link in step.tighten]
    fitted = [job.parts[fit.part].label for fit in step.fits]
    put_back = [job.parts[link.to].label for link in step.takes_off]
    stripped = list(_stripped(job, step))
    told = [
        f"loosen {listed(list(filter(None, loosened)))}" if any(loosened) else "",
        f"take out {listed(fitted)}" if fitted else "",
        f"put back {listed(put_back)}" if put_back else "",
        f"clean {listed(stripped)}" if stripped else "",
    ]
    sentence = listed([one for one in told if one])
    return f"{sentence[:1].upper()}{sentence[1:]}." if sentence else "Nothing to take apart."


def _stripped(job: Job, step: Step) -> Iterator[str]:
    """Yield what has to be cleaned off, and off what: compounds that set."""
    for applied in step.apply:
        named = [job.compounds[link.to] for link in applied.compound]
        sets = [one.label for one in named if one.open or one.fixture or one.cure]
        if sets:
            yield f"{listed(sets)} off {listed([job.surfaces[s.to].label for s in applied.to])}"


def _undo_minutes(step: Step) -> str:
    if step.undo is not None and step.undo.time is not None:
        return step.undo.time.text.strip()
    return ""


def _backs(job: Job, mend: Mend) -> Iterator[Back]:
    before = ""
    for step in mend.back_in:
        card = replace(card_of(job, job.by_id[step]), rest=None, until=None, instead=())
        if step in mend.in_place:
            how = "Afresh, where it is"
        else:
            how = "Again" if step in mend.undo else "Not done yet"
        yield Back(card, how if how != before else "")
        before = how


def _held_up(job: Job, mistake: Mistake) -> Iterator[Said]:
    """Yield what was begun, and what cannot be done yet."""
    for step, far in mistake.begun.items():
        if step in job.by_id:
            yield said(job.ref(step), f" is begun and not done: {far}")
    done = set(mistake.done)
    for part, until in mistake.awaited.items():
        waiting = [
            step
            for step in mistake.order
            if step in job.by_id and step not in done and _fits(job, step, part)
        ]
        label = job.parts[part].label if part in job.parts else part
        when = f", until {until}" if until else ""
        where = (", goes in in ", job.ref(waiting[0])) if waiting else ()
        yield said(f"{label} is awaited{when}", *where)


def _fits(job: Job, step: str, part: str) -> bool:
    return any(fit.part == part for fit in job.by_id[step].fits)


def _then(job: Job, mend: Mend) -> Said:
    rest = mend.do[len(mend.back_in) :]
    return said("go on with ", job.ref(rest[0])) if rest else ("nothing more is to be done",)


def _part(job: Job, part: str, count: int) -> str:
    known = job.parts.get(part)
    number = f", no. {known.number}" if known is not None and known.number else ""
    return f"{count} × {known.label if known is not None else part}{number}"


def _fasteners(job: Job, one: Fasteners) -> str:
    if one.joint not in job.joints:
        return f"the fasteners of step {job.number[one.step]}"
    worked = job.bench.worked(job.joints[one.joint])
    words = about(worked) or f"{one.how_many} ×"
    return f"{words}, {worked.joint.name}" if worked.joint.name else words
