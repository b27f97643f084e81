"""What `revise` takes from a build log: what is done, what failed, and what the model changed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import NOT_OK, Output
from sequencer.commands.log_open import Opened, copy_of, log_beside
from sequencer.planning.mending.mistake import Mistake, Paper
from sequencer.problem import Problem
from sequencer.records.coats import cleaning_for, opened_again
from sequencer.records.entries import Done, Model, Undone
from sequencer.records.gates import standing_out
from sequencer.records.replay import state_of
from sequencer.records.state import mending

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending import Change, Revised
    from sequencer.reading import Reading
    from sequencer.records.coats import Cleaning
    from sequencer.records.entries import Entry
    from sequencer.records.state import Mending, State
    from sequencer.records.untimed import Untimed


@dataclass(frozen=True, slots=True)
class Asked:
    """What a mend is asked of: a model, and what is done and wrong; `log` is None without one.

    `turns` are the steps done that the model has, in the order in which each was done last.
    """

    file: Path
    reading: Reading
    assembly: Assembly
    mistake: Mistake
    findings: tuple[Problem, ...]
    turns: tuple[str, ...]
    log: Path | None = None

    def mended(self, mistake: Mistake, others: int) -> tuple[Mistake, Revised]:
        """Return the mend of a mistake, and with it what its compounds ask for besides.

        What is put on anew wants its surface cleaned anew; that is known once it is known what
        comes out.
        """
        from sequencer.planning.mending import revise

        assembly = opened_again(self.assembly, self.turns)
        while True:
            found = revise(
                assembly,
                mistake.done,
                tuple(mistake.redo),
                tuple(mistake.again),
                others=others,
                order=mistake.order,
                skipped=mistake.skipped,
            )
            out = found.mend.undo if found.mend is not None else ()
            known = {*out, *mistake.redo, *mistake.again}
            cleaning = cleaning_for(self.assembly, self.turns, out)
            more = [one for one in cleaning if one.step not in known]
            if not more:
                return mistake, found
            mistake = replace(
                mistake,
                again={**mistake.again, **{one.step: one.said for one in reversed(more)}},
                cleaning={**mistake.cleaning, **_wanting(more)},
            )


def _wanting(cleaning: Sequence[Cleaning]) -> dict[str, tuple[str, ...]]:
    """Return the steps that clean, each with those that want it clean."""
    return {
        one.step: tuple(other.coat for other in cleaning if other.step == one.step)
        for one in cleaning
    }


def asked_by_log(output: Output, file: Path | None, named: Path | None) -> Asked:
    """Return what a mend starts from by a log, or tell what is wrong with it and exit.

    Parameters
    ----------
    output : Output
        This run's way of telling.
    file : Path or None
        The model as it is now; None for the one that lies beside the log under the name that it
        was logged with, or else for the copy in the log.
    named : Path or None
        The log; None for the one beside `file`, or else for the only one in this folder.
    """
    if named is None and file is not None:
        named = log_beside(file)
        if not named.is_file():
            raise click.UsageError(
                f"say what was done: with --done, or with --log (there is no {named})"
            )
    opened = Opened(named, as_json=output.as_json)
    reading, assembly = opened.reading, opened.assembly
    path = file or opened.path.parent / opened.state.model.file
    if file is not None or path.is_file():
        reading, assembly = output.read(path, opened.state.model.settings)
    if assembly.assembly != opened.state.model.assembly:
        other = _other_model(opened, assembly)
        output.finish(NOT_OK, {"ok": False}, reading, [other])
    findings = (*opened.findings, *reading.problems)
    mistake, known = mistake_in(opened, assembly), {step.id for step in assembly.steps}
    turns = tuple(step for step in opened.state.running.order if step in known)
    return Asked(path, reading, assembly, mistake, findings, turns, opened.path)


def _other_model(opened: Opened, assembly: Assembly) -> Problem:
    return Problem(
        "other-model",
        "error",
        f"`{assembly.assembly}` is another model than `{opened.state.model.assembly}`, "
        f"which {opened.path} tells of",
        why="what was done on the one says nothing about the other",
        fix="name the log of this model with --log",
    )


def mistake_in(opened: Opened, assembly: Assembly) -> Mistake:
    """Return what a log tells of a mistake, as the model is now.

    Parameters
    ----------
    opened : Opened
        The log.
    assembly : Assembly
        The model as it is now; steps done by an earlier one are held against it.
    """
    from sequencer.model.fingerprint import fingerprint

    was = Paper(opened.state.model.issue, opened.state.model.fingerprint)
    now = Paper(assembly.issue, fingerprint(assembly))
    state = opened.state if was == now else state_of(opened.log.entries, assembly)
    told = mending(state)
    order, numbered_by = _printed(opened, assembly, was, now)
    changes = tuple(_changes(state, assembly, now))
    redo = _whys(changes, "redo") | dict(told.redo)
    again = _whys(changes, "again") | dict(told.again)
    return Mistake(
        done=_in_turn(assembly, told),
        order=order,
        was=was,
        now=now,
        numbered_by=numbered_by,
        redo={step: redo[step] for step in state.done if step in redo},
        again={step: again[step] for step in state.done if step in again and step not in redo},
        skipped=told.skipped,
        begun=told.unfinished,
        awaited={part: getattr(entry.what, "until", "") for part, entry in state.short.items()},
        spoiled=told.spoiled,
        cleaning=_wanting(told.cleaning),
        signed=frozenset(state.signed),
        unit=state.unit,
        findings=(
            *(_lowered(change) for change in changes if change.kind == "ask"),
            *standing_out(state),
            *(_untimed(one) for one in state.running.untimed() if one.least),
            *_gone(opened, assembly),
        ),
    )


def _printed(
    opened: Opened, assembly: Assembly, was: Paper, now: Paper
) -> tuple[tuple[str, ...], Paper]:
    """Return the printed order, and which packet has it.

    That is the packet in hand, unless the model now has other steps.
    """
    from sequencer.planning.plan import plan

    in_hand = opened.state.model.order
    if was == now:
        return in_hand, was
    order = plan(assembly).order or tuple(step.id for step in assembly.steps)
    return (in_hand, was) if set(order) == set(in_hand) else (order, now)


def _in_turn(assembly: Assembly, told: Mending) -> tuple[str, ...]:
    """Return the steps done, and among them what was left out with leave, where its turn came."""
    from sequencer.planning.compiling import compile_network
    from sequencer.planning.in_turn import in_turn

    if not told.skipped:
        return told.done
    return in_turn(compile_network(assembly), told.done, told.skipped)


def _changes(state: State, assembly: Assembly, now: Paper) -> Iterator[Change]:
    """Yield what has become of each step since the model by which it was done last."""
    from sequencer.planning.mending import changed_steps

    models = [entry for entry in state.entries if isinstance(entry.what, Model)]
    for entry, until in zip(models, [*models[1:], None], strict=True):
        done = {step for step in state.done if _is_between(state.done_by[step], entry, until)}
        model = entry.what
        if not done or not isinstance(model, Model) or model.fingerprint == now.fingerprint:
            continue
        before = copy_of(model).assembly
        if before is not None:
            yield from (one for one in changed_steps(before, assembly) if one.step in done)


def _is_between(entry: Entry, first: Entry, until: Entry | None) -> bool:
    return first.number < entry.number and (until is None or entry.number < until.number)


def _whys(changes: tuple[Change, ...], kind: str) -> dict[str, str]:
    return {
        change.step: "; ".join(fact.text for fact in change.facts)
        for change in changes
        if change.kind == kind
    }


def _lowered(change: Change) -> Problem:
    return Problem(
        "torque-lowered",
        "warning",
        f"`{change.step}` is done, and its torque was changed otherwise than by raising it",
        change.step,
        ("steps", change.step),
        change.facts,
        why="whether it may stay as it is, only the maker can say",
        fix=f"ask the maker; then give --again {change.step}, or --redo {change.step}, if it must "
        "be tightened afresh",
    )


def _untimed(one: Untimed) -> Problem:
    return Problem(
        "time-unknown",
        "warning",
        f"`{one.since}` and `{one.until}` {one.said}",
        one.until,
        why="if it was too late, it has to be done afresh, and nothing here reckons with that",
        fix=f"ask whoever did it; then give --redo {one.since}, or record the times with --at",
    )


def _gone(opened: Opened, assembly: Assembly) -> Iterator[Problem]:
    """Yield a finding for each step that was done, and that the model has no more."""
    known = {step.id for step in assembly.steps}
    gone: dict[str, None] = {}
    for entry in opened.state.entries:
        if isinstance(entry.what, Done):
            gone |= dict.fromkeys(step for step in entry.what.steps if step not in known)
        elif isinstance(entry.what, Undone):
            gone = {step: None for step in gone if step not in entry.what.steps}
    for step in gone:
        yield Problem(
            "step-gone",
            "warning",
            f"`{step}` was done, and the model has no such step now",
            why=f"what it did is in the unit, and is not reckoned with here{_out(opened, step)}",
            fix="ask whoever changed the model whether it has to come out",
        )


def _out(opened: Opened, step: str) -> str:
    """Say what comes out with a step by the last model that had it; nothing if none had it."""
    from sequencer.planning.mending import revise

    for entry in reversed(opened.state.entries):
        model = entry.what
        if not isinstance(model, Model):
            continue
        before = copy_of(model).assembly
        if before is None:
            continue
        done = state_of(opened.log.entries, before).done
        if step in done:
            mend = revise(before, done, [step]).mend
            if mend is None:
                return f"; by model {model.fingerprint}, which has it, it cannot come out"
            out = ", ".join(f"`{one}`" for one in mend.undo)
            return f"; by model {model.fingerprint}, which has it, what would come out is: {out}"
    return ""
