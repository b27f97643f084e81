"""`sequencer log done`, `part-done`, `undone`, `skip` and `note`."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

import click

from sequencer.commands import log_times
from sequencer.commands.log_names import numbered, steps_named, strange_steps
from sequencer.commands.log_run import Recorder, recording
from sequencer.problem import Problem
from sequencer.records.entries import (
    Done,
    Entry,
    Note,
    PartDone,
    Skip,
    Undone,
)
from sequencer.records.gates import Gates, named
from sequencer.records.moments import moment_in
from sequencer.records.moved_on import too_late, untold_times
from sequencer.records.pieces import serials_missing
from sequencer.records.tightening import tightening_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.records.state import State

_MOST_BLANKS = 8  # named one by one


@click.command("done")
@click.argument("words", nargs=-1, metavar="STEP…", required=True)
@click.option("--wet-until", default="", metavar="TIME", help="When what was applied has set.")
@recording
def done_command(recorder: Recorder, words: tuple[str, ...], *, wet_until: str) -> None:
    """Record steps as done, in the order given: ids, printed numbers, or ranges such as 14-22."""
    steps = steps_named(words, recorder.state)
    record_done(recorder, steps, wet_until)
    recorder.done(f"{numbered(steps, recorder.state)} done{blanks(recorder.state, steps)}")


def record_done(recorder: Recorder, steps: tuple[str, ...], wet_until: str = "") -> None:
    """Record steps as done, after what there is against it was told."""
    recorder.record(
        [Done(steps=steps, wet_until=wet_until)], tuple(against(recorder, steps)), paper=True
    )


def against(
    recorder: Recorder, steps: Sequence[str], at: Mapping[str, str] = MappingProxyType({})
) -> Iterator[Problem]:
    """Yield what there is against doing these steps now, in this order.

    The log is asked as it stood before the first of them: readings and signatures of the same
    sheet are often typed in afterwards. `at` says of some steps when each was done.
    """
    state = recorder.state
    yield from strange_steps(steps, state)
    every = {step.id for step in state.assembly.steps}
    known = [step for step in steps if step in every]
    yield from _by_the_log(recorder, known, at)
    yield from _untimed(recorder, known, at)
    fresh = [step for step in known if step not in recorder.settled]
    rest = recorder.onward.rest(state.done)
    if tuple(fresh) == (rest or ())[: len(fresh)]:
        return
    objections = recorder.onward.objections(state.done, fresh)
    yield from objections or _passed_over(state, fresh, dead_end=rest is None)


def _by_the_log(
    recorder: Recorder, steps: Sequence[str], at: Mapping[str, str]
) -> Iterator[Problem]:
    """Yield what the log has against each step; what is said of several is told of the first."""
    state, now, told = recorder.state, recorder.now(), set()
    gates = Gates(state, now)
    for turn, step in enumerate(steps):
        moment = moment_in(at[step]) if step in at and now is not None else now
        gates.now = moment
        late = too_late(state, step, moment) if moment is not None else ()
        for objection in (*gates.of(step, steps[:turn]), *late):
            if (objection.code, objection.message) not in told:
                told.add((objection.code, objection.message))
                yield objection


def _untimed(recorder: Recorder, steps: Sequence[str], at: Mapping[str, str]) -> Iterator[Problem]:
    """Yield what nobody will be able to tell of times, with these steps done."""
    now = recorder.now()
    if now is None:
        return
    ticked = Done(steps=tuple(step for step in steps if step not in at))
    timed = (Entry(time=at[s], at=at[s], what=Done(steps=(s,))) for s in steps if s in at)
    entry = Entry(time=log_times.stamp(now), at=recorder.at, what=ticked)
    yield from untold_times(recorder.state, (entry, *timed))


def _passed_over(state: State, steps: Sequence[str], *, dead_end: bool) -> Iterator[Problem]:
    """Note which printed steps before these are still open, where nothing is against that.

    In a dead end no order is left that could allow it.
    """
    last = max((state.number.get(step, 0) for step in steps), default=0)
    left = [s for s in state.open if state.number[s] < last and s not in steps]
    if left:
        message = f"printed before it and still open: {numbered(left, state)}"
        why = "the order allows that; it may also be a tick that was forgotten"
        fix = "record it too if it was done"
        if dead_end:
            why = "what was done before leaves no order for the rest; a tick may be forgotten"
            fix += "; if not, `sequencer revise` finds the least that has to come out"
        yield Problem("passed-over", "note", message, why=why, fix=fix)


def blanks(state: State, steps: Sequence[str]) -> str:
    """Say what of these steps is still to be recorded: readings and signatures."""
    checks = {check.id: check for check in state.assembly.checks}
    wanted, serials = [], serials_missing(state)
    for step in state.assembly.steps:
        if step.id in steps:
            for link in step.check:
                check = checks[link.to]
                names = (f"{check.id}.{at}" if at else check.id for at in state.missing(check))
                wanted += [f"reading {name}=…" for name in names]
            wanted += [f"fitted {f.part} --serial …" for f in step.fits if f.part in serials]
            if step.hold and step.id not in state.signed:
                wanted.append(f"sign {step.hold!r}" if " " in step.hold else f"sign {step.hold}")
    wanted = list(dict.fromkeys(wanted))
    more = f" and {len(wanted) - _MOST_BLANKS} more" if len(wanted) > _MOST_BLANKS else ""
    return f"; still to be recorded: {', '.join(wanted[:_MOST_BLANKS])}{more}" if wanted else ""


@click.command("part-done")
@click.argument("word", metavar="STEP")
@click.option("--pass", "pass_", type=click.IntRange(1), required=True, help="Which pass it is in.")
@click.option("--count", type=click.IntRange(0), required=True, help="How many fasteners are done.")
@click.option("--of", type=click.IntRange(1), help="How many passes there are.")
@recording
def part_done_command(
    recorder: Recorder, word: str, *, pass_: int, count: int, of: int | None
) -> None:
    """Record how far the tightening of a step got when it was left.

    A pass that was interrupted begins again at the first fastener.
    """
    state = recorder.state
    step = steps_named([word], state)[0]
    what = PartDone(step=step, pass_=pass_, count=count, of=of)
    recorder.record([what], against_part_done(recorder, what), paper=True)
    recorder.done(f"{named(state, step)} {state.halted(what)}")


def against_part_done(recorder: Recorder, what: PartDone) -> list[Problem]:
    """Return what there is against a step having got so far."""
    state, step = recorder.state, what.step
    findings = [*strange_steps([step], state), *_odd_pass(state, what)]
    if step not in recorder.settled and not strange_steps([step], state):
        findings += [
            *Gates(state, recorder.now()).of(step),
            *recorder.onward.objections(state.done, [step]),
        ]
    return findings


def _odd_pass(state: State, what: PartDone) -> Iterator[Problem]:
    before = state.part_done.get(what.step)
    tightening = tightening_of(state.assembly, what.step)
    for message in tightening.objections(what, before, named(state, what.step)):
        why = "every fastener goes through a pass before the next pass begins"
        yield Problem("odd-pass", "warning", message, why=why, fix="look at the sheet again")


@click.command("undone")
@click.argument("words", nargs=-1, metavar="STEP…", required=True)
@recording
def undone_command(recorder: Recorder, words: tuple[str, ...]) -> None:
    """Record steps as taken back, in the order given. Their signatures are void then."""
    state = recorder.state
    steps = steps_named(words, state)
    recorder.record([Undone(steps=steps)], against_undone(recorder, steps))
    recorder.done(f"{numbered(steps, state)} taken back")


def against_undone(recorder: Recorder, steps: Sequence[str]) -> list[Problem]:
    """Return what there is against steps having been taken back, and what that makes void."""
    state = recorder.state
    findings = strange_steps(steps, state)
    for step in steps:
        if step not in recorder.settled and not strange_steps([step], state):
            message = f"{named(state, step)} is not done, so it cannot be taken back"
            why = "the log would tell of something that did not happen"
            fix = "look at the number again, or record first that it was done"
            findings.append(Problem("never-done", "warning", message, why=why, fix=fix))
        elif step in state.signed:
            message = f"{named(state, step)} was signed, and the signature is void now"
            why = "who signed saw it as it was before"
            findings.append(Problem("void", "note", message, why=why, fix="have it signed again"))
    return findings


@click.command("skip")
@click.argument("word", metavar="STEP")
@click.option("--allowed-by", required=True, metavar="NAME", help="Who allowed it.")
@recording
def skip_command(recorder: Recorder, word: str, *, allowed_by: str) -> None:
    """Record that a step is left out for good, and who allowed that."""
    state = recorder.state
    what = Skip(step=steps_named([word], state)[0], allowed_by=allowed_by)
    recorder.record([what], against_skip(state, what), paper=True)
    recorder.done(f"{named(state, what.step)} left out, allowed by {allowed_by}")


def against_skip(state: State, what: Skip) -> list[Problem]:
    """Return what there is against a step being left out for good."""
    step = what.step
    findings = strange_steps([step], state)
    doing = next((one for one in state.assembly.steps if one.id == step), None)
    if step in state.done:
        message = f"{named(state, step)} is done already"
        why = "what is done cannot be left out"
        fix = f"if it was not done, correct entry {state.done_by[step].number}"
        findings.append(Problem("done-already", "warning", message, why=why, fix=fix))
    if doing is not None and doing.fits:
        parts = ", ".join(f"`{fit.part}`" for fit in doing.fits)
        message = f"{named(state, step)} fits {parts}: the unit will be without"
        why = "other steps count on it"
        fix = "make sure that whoever allows it knows that"
        findings.append(Problem("left-out", "warning", message, why=why, fix=fix))
    return findings


@click.command("note")
@click.argument("words", nargs=-1, metavar="TEXT", required=True)
@click.option("--step", default="", help="The step that it is about.")
@recording
def note_command(recorder: Recorder, words: tuple[str, ...], *, step: str) -> None:
    """Record words for whoever reads the log."""
    about = steps_named([step], recorder.state)[0] if step else ""
    findings = strange_steps([about], recorder.state) if about else []
    recorder.record([Note(text=" ".join(words), step=about)], findings)
    recorder.done("noted")
