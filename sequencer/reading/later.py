"""What the model file will hold but does not yet: refused by name, never ignored.

To support a field, declare it in the dataclass and delete its entry here.
"""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.assembly import Assembly, Defaults
from sequencer.model.checking import Check
from sequencer.model.common import Link
from sequencer.model.fastening import Joint, Torque
from sequencer.model.fields import Word, declared
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.problem import Problem
from sequencer.reading.nodes import Mapping, Node, Scalar, items_of
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from collections.abc import Mapping as MappingType

    _Finder: TypeAlias = Callable[[Node], Iterator[tuple[Node, str]]]


def _names(names: str) -> frozenset[str]:
    return frozenset(names.split())


FIELDS: MappingType[type, frozenset[str]] = {
    Assembly: _names("compounds surfaces isolation"),
    Part: _names("inspect matched serial bag on_hand pack bought_as picture"),
    Step: _names("apply cleans closes loads unattended hazards heat each picture"),
    Link: _names("wait within"),
    Check: _names("readings compute results go no_go each picture"),
    Joint: _names("places pattern at passes length grip hole into adapter drag align"),
    Torque: _names("also because surface grade"),
}
"""For each record, the names of fields that are not supported yet."""


def _words(field: str, *words: str) -> _Finder:
    """Find these words as values of a field."""

    def find(node: Node) -> Iterator[tuple[Node, str]]:
        for item in items_of(node):
            if isinstance(item, Scalar) and item.text.strip() in words:
                yield item, f"`{field}: {item.text.strip()}`"

    return find


def _compound(node: Node) -> Iterator[tuple[Node, str]]:
    """Find a surface that is none of the plain ones, nor a slip for one: a compound's id."""
    (surface,) = (field.kind for field in declared(Joint) if field.name == "surface")
    if not isinstance(node, Scalar) or not node.text.strip() or not isinstance(surface, Word):
        return
    if not difflib.get_close_matches(node.text.strip()[:40], surface.words):
        yield node, f"a compound (`{shortened(node.text)}`) as a surface"


def _own_strength(node: Node) -> Iterator[tuple[Node, str]]:
    if isinstance(node, Mapping):
        yield node, "a strength of one's own (`{proof: …}`)"


VALUES: MappingType[tuple[type, str], _Finder] = {
    (Step, "leaves"): _words("leaves", "clean", "dry"),
    (Joint, "surface"): _compound,
    (Joint, "grade"): _own_strength,
    (Defaults, "surface"): _compound,
    (Defaults, "grade"): _own_strength,
}
"""For a field that is supported, what finds the values of it that are not yet."""


def not_yet(what: str) -> Problem:
    """Return the problem of something that the model file will hold, but not yet."""
    return Problem(
        "not-yet-supported",
        "error",
        f"{what} is not supported yet",
        why="a model that leaned on it would be planned and printed without it",
        fix="leave it out for now, and write what the builder must know in a `note`",
    )


def later_values(cls: type, field: str, node: Node) -> Iterator[tuple[Node, Problem]]:
    """Yield the pieces of a field's value that are not supported yet."""
    finder = VALUES.get((cls, field))
    for piece, what in finder(node) if finder else ():
        yield piece, not_yet(what)
