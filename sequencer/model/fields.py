"""What a field of the model file may hold: the vocabulary that dataclasses declare their fields in.

The reader reads by these, and anything else that must know the format (a schema, a listing of
fields) is made from them, so that a field is declared in one place. A dataclass field is declared
with `holds`; its name in the file is its Python name without a trailing underscore.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True, slots=True)
class Text:
    """Words for the person at the bench, kept as typed."""


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number, at least `least`."""

    least: int = 1


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number of nothing or more, without a unit, such as a price."""


@dataclass(frozen=True, slots=True)
class Flag:
    """`true` or `false`."""


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words; where `or_a` names a kind of thing, the id of such a thing too."""

    words: tuple[str, ...]
    or_a: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with a unit of one of the quantities; none named means any."""

    quantities: tuple[str, ...] = ()
    limits: bool = False


@dataclass(frozen=True, slots=True)
class TorqueText:
    """A torque, a torque then an angle, or `finger tight`."""


@dataclass(frozen=True, slots=True)
class PassText:
    """What one pass tightens to: a share such as `30 %`, a torque, an angle, or an angle back."""


@dataclass(frozen=True, slots=True)
class Points:
    """Where fasteners sit: a list of pairs of figures, right and up, all in one unit or none."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes at hand: figures, and runs such as `1.00 to 2.00 mm step 0.05 mm`."""


@dataclass(frozen=True, slots=True)
class ByTemperature:
    """A length of time, or a table of such by temperature."""


@dataclass(frozen=True, slots=True)
class Links:
    """Names of other things: kinds in the order in which a plain name is tried.

    Where `one` holds, several are refused.
    """

    kinds: tuple[str, ...]
    one: bool = False


@dataclass(frozen=True, slots=True)
class Choices:
    """A list of names of other things, where a list in the list names alternatives."""

    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EndText:
    """How the end of a line is: `open`, `shut`, or a size that has to be passed."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Parts that a step fits: names, with a count or the way round where that matters."""


@dataclass(frozen=True, slots=True)
class Many:
    """A list of things of one kind; a list of one needs no brackets."""

    of: Kind


@dataclass(frozen=True, slots=True)
class Record:
    """A mapping of the fields of `cls`; a plain value stands for the field `short`."""

    cls: type
    short: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A mapping from names to records; the name becomes the field `key` of the record."""

    of: Record
    key: str = "id"


Kind = (
    Text
    | Whole
    | Number
    | Flag
    | Word
    | Figure
    | TorqueText
    | PassText
    | Points
    | Sizes
    | ByTemperature
    | Links
    | Choices
    | EndText
    | Fitted
    | Many
    | Record
    | Table
)


_SEVERAL = Many | Table | Links | Choices | Fitted | Points | Sizes


def holds(kind: Kind, doc: str, *, required: bool = False, **options: Any) -> Any:
    """Declare a dataclass field that the file may hold.

    Parameters
    ----------
    kind : Kind
        What may stand there.
    doc : str
        What the field is for, in one sentence.
    required : bool
        Whether the reader insists on it.
    **options
        `default` or `default_factory`, as in `dataclasses.field`.
    """
    if not required and not options:
        options = {"default": () if isinstance(kind, _SEVERAL) else None}
    return dataclasses.field(metadata={"kind": kind, "doc": doc, "required": required}, **options)


@dataclass(frozen=True, slots=True)
class Declared:
    """One declared field: its name in Python and in the file, its kind, and whether it must be."""

    attribute: str
    name: str
    kind: Kind
    doc: str
    required: bool


def declared(cls: type) -> Iterator[Declared]:
    """Yield the fields of a dataclass that the file may hold, as declared."""
    for field in dataclasses.fields(cls):
        if "kind" in field.metadata:
            yield Declared(
                field.name,
                field.name.rstrip("_"),
                field.metadata["kind"],
                field.metadata["doc"],
                field.metadata["required"],
            )


@cache
def records_of(cls: type) -> tuple[type, ...]:
    """Return a record and every one that it may hold, at any depth, outermost first."""
    found = [cls]
    for record in found:
        found += [inner for inner in _inner(record) if inner not in found]
    return tuple(found)


def _inner(cls: type) -> Iterator[type]:
    for field in declared(cls):
        kind = field.kind
        while isinstance(kind, Many | Table):
            kind = kind.of
        if isinstance(kind, Record):
            yield kind.cls
