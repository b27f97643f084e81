"""What to do next by a log: steps whose turn it is, and what the others wait for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.problem import Problem
from sequencer.records.gates import Gates

if TYPE_CHECKING:
    from sequencer.commands.log_open import Opened
    from sequencer.records.state import State


@dataclass(frozen=True, slots=True)
class Next:
    """Steps to do next, in order; and, where others would come first, what they wait for.

    `dead_end` is true where nothing can be done without taking something out again.
    """

    steps: tuple[str, ...]
    waiting: tuple[Problem, ...]
    dead_end: bool = False


def next_steps(opened: Opened, most: int) -> Next:
    """Return up to `most` steps that can be done next, one after the other.

    They come in an order near the printed one from which the job can be finished. Steps that the
    log holds up are passed over where the others do not need them.
    """
    state = opened.state
    done = list(state.done)
    rest = opened.onward.rest(done)
    if rest is None:
        return Next((), (_dead_end(),), dead_end=True)
    chosen: list[str] = []
    waiting: dict[str, Problem] = {}
    held_up, gates = 0, Gates(state, opened.now())
    for step in rest:
        if len(chosen) == most or (state.holds and waiting):
            break
        reasons = gates.of(step)
        held_up += bool(reasons)
        for reason in reasons if held_up <= most else ():
            waiting.setdefault(reason.message, reason)
        if not reasons and not (waiting and opened.onward.objections(done, [step])):
            chosen.append(step)
            done.append(step)
    return Next(tuple(chosen), tuple(waiting.values()))


def _dead_end() -> Problem:
    return Problem(
        "dead-end",
        "warning",
        "what was done leaves no order for the rest",
        why="something has to come out again first",
        fix="`sequencer revise` finds the least that has to come out",
    )


def labelled(state: State, step: str, width: int = 60) -> str:
    """Return a step as a line: its number, its id, and the start of its text."""
    doing = next((one for one in state.assembly.steps if one.id == step), None)
    text = " ".join(doing.do.split()) if doing else ""
    short = text if len(text) <= width else f"{text[: width - 1].rstrip()}…"
    return f"{state.number.get(step, ''):>4}  {step}  {short}"


def model_changed(opened: Opened) -> tuple[Problem, ...]:
    """Return a note where the model beside the log is not the one that the log holds."""
    from sequencer.model.fingerprint import fingerprint
    from sequencer.reading import read_file

    model = opened.state.model
    path = opened.path.parent / model.file
    if not path.is_file():
        return ()
    found = read_file(path, model.settings).assembly
    if found is None or fingerprint(found) == model.fingerprint:
        return ()
    return (
        Problem(
            "model-changed",
            "note",
            f"`{path}` has changed since: it is model {fingerprint(found)} now, "
            f"and this build follows {model.fingerprint}",
            why="the paper in use says what the log's copy says, not what the file says now",
            fix="`sequencer revise` tells what that changes; `sequencer log issue` takes it over",
        ),
    )
