"""Mending a mistake: the least that must come out, and what it costs to forget a step."""

from sequencer.planning.mending.changes import Change, changed_steps
from sequencer.planning.mending.fastened import not_among_parts
from sequencer.planning.mending.forgetting import (
    cost_of_forgetting,
    is_dear,
    last_chances,
    with_forgetting,
)
from sequencer.planning.mending.mistake import Mistake, Paper
from sequencer.planning.mending.results import Fasteners, Made, Mend, Revised, Wait
from sequencer.planning.mending.revise import revise

__all__ = [
    "Change",
    "Fasteners",
    "Made",
    "Mend",
    "Mistake",
    "Paper",
    "Revised",
    "Wait",
    "changed_steps",
    "cost_of_forgetting",
    "is_dear",
    "last_chances",
    "not_among_parts",
    "revise",
    "with_forgetting",
]
