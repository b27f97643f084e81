"""What the model file will hold but does not yet: refused by name, never ignored.

To support a field, declare it in the dataclass and delete its entry here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.checking import Check
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Mapping as MappingType


def _names(names: str) -> frozenset[str]:
    return frozenset(names.split())


FIELDS: MappingType[type, frozenset[str]] = {
    Part: _names("picture"),
    Step: _names("picture"),
    Check: _names("picture"),
}
"""For each record, the names of fields that are not supported yet."""


def not_yet(what: str) -> Problem:
    """Return the problem of something that the model file will hold, but not yet."""
    return Problem(
        "not-yet-supported",
        "error",
        f"{what} is not supported yet",
        why="a model that leaned on it would be planned and printed without it",
        fix="leave it out for now, and write what the builder must know in a `note`",
    )
