"""Parts that belong together: the sets that `matched` names."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.uses import BETWEEN

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.model.parts import Part


class SetName(NamedTuple):
    """What a set is called, and in which used model; that is empty for the model itself."""

    within: str
    name: str


def set_of(part: Part) -> SetName | None:
    """Return the set that a part belongs to; a model used twice has two sets of one name."""
    if not part.matched:
        return None
    return SetName(part.id.rpartition(BETWEEN)[0], " ".join(part.matched.split()))


def matched_sets(assembly: Assembly) -> dict[SetName, tuple[Part, ...]]:
    """Return the parts of each set, as written."""
    found: dict[SetName, tuple[Part, ...]] = {}
    for part in assembly.parts:
        name = set_of(part)
        if name is not None:
            found[name] = (*found.get(name, ()), part)
    return found


def fellows(assembly: Assembly, part: Part) -> tuple[Part, ...]:
    """Return the other parts of the set that a part belongs to."""
    name = set_of(part)
    others = matched_sets(assembly).get(name, ()) if name is not None else ()
    return tuple(other for other in others if other.id != part.id)
