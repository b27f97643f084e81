"""Entries at random, and short ways to make logs and states in tests."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from sequencer.model.fingerprint import fingerprint
from sequencer.records.entries import KINDS, Done, Entry, Start, What
from sequencer.records.gates import Gates
from sequencer.records.replay import state_of

if TYPE_CHECKING:
    from datetime import datetime

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem
    from sequencer.records.state import State

TIME = "2031-05-02T14:05:09+02:00"

_TEXTS = st.text(st.characters(codec="utf-8"), max_size=12)
_VALUES: dict[str, st.SearchStrategy[Any]] = {
    "str": _TEXTS,
    "int": st.integers(1, 10**6),
    "int | None": st.none() | st.integers(1, 10**6),
    "tuple[str, ...]": st.lists(_TEXTS, max_size=3).map(tuple),
    "tuple[tuple[str, str], ...]": st.dictionaries(_TEXTS, _TEXTS, max_size=2).map(
        lambda texts: tuple(texts.items())
    ),
}


@st.composite
def entries(draw: st.DrawFn) -> Entry:
    """An entry of any kind, with any text in it."""
    cls = draw(st.sampled_from(list(KINDS.values())))
    fields: dict[str, Any] = {
        field.name: draw(_VALUES[str(field.type)]) for field in dataclasses.fields(cls)
    }
    return Entry(
        number=draw(st.integers(1, 10**6)),
        time=draw(_TEXTS),
        what=cls(**fields),
        at=draw(_TEXTS),
        by=draw(_TEXTS),
        sheet=draw(_TEXTS),
        despite=draw(_VALUES["tuple[str, ...]"]),
    )


def start_of(model: Assembly, order: tuple[str, ...] = (), unit: str = "") -> Start:
    """The first entry of a log; the text is left out, for what it says is in the model."""
    return Start(
        file="unit.yaml",
        text="",
        assembly=model.assembly,
        issue=model.issue,
        fingerprint=fingerprint(model),
        order=order or tuple(step.id for step in model.steps),
        unit=unit,
    )


def log(model: Assembly, *whats: What | str, by: str = "") -> tuple[Entry, ...]:
    """A log of a model; a text stands for steps done, split by spaces."""
    told = [Done(steps=tuple(what.split())) if isinstance(what, str) else what for what in whats]
    return tuple(
        Entry(number=number, time=TIME, what=what, by=by)
        for number, what in enumerate((start_of(model), *told), start=1)
    )


def state(model: Assembly, *whats: What | str) -> State:
    """What such a log tells."""
    return state_of(log(model, *whats), model)


def gates(told: State, step: str, now: datetime | None = None) -> tuple[Problem, ...]:
    """Why a step is out of turn by such a log."""
    return Gates(told, now).of(step)
