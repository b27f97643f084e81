"""The format of models told to a person: what may stand under a field, each on a line."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Many, Table, Word, records_of
from sequencer.reading.fields import fields_of, record_in, record_of, short_field
from sequencer.writing.schema import such_as

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fields import Declared, Kind


class Listing(NamedTuple):
    """What may stand under a field: what it is, and its own fields with what each is for."""

    head: str
    rows: tuple[tuple[str, str], ...]


def names_listed() -> list[str]:
    """Return the fields under which others stand, the file itself (``"model"``) first."""
    return ["model", *dict.fromkeys(field.name for field, _ in _holding())]


def listings(name: str) -> tuple[Listing, ...]:
    """Return what may stand under a field of this name, once for each sort of it.

    Examples
    --------
    >>> [[name for name, _ in listing.rows] for listing in listings("uses")]
    [['file', 'name', 'options', 'when']]
    >>> listings("way_out")
    ()
    """
    if name == "model":
        return (_listing(name, Assembly, None),)
    records = {record: field.kind for field, record in _holding() if field.name == name}
    return tuple(_listing(name, record, kind) for record, kind in records.items())


def _holding() -> Iterator[tuple[Declared, type]]:
    for holder in records_of(Assembly):
        for field in fields_of(holder).values():
            record = record_in(field)
            if record is not None:
                yield field, record


def _listing(name: str, record: type, kind: Kind | None) -> Listing:
    head = f"{name}: {(record.__doc__ or '').partition(chr(10))[0]}"
    if isinstance(kind, Table):
        head += " Each has an id of its own, and its fields below that."
    elif isinstance(kind, Many):
        head += " A list of them, or one."
    inner = record_of(kind) if kind is not None else None
    short = short_field(inner) if inner is not None else None
    if short is not None:
        head += f" A plain value stands for its `{short.name}`."
    rows = tuple((field.name, _said(field)) for field in fields_of(record).values())
    return Listing(head, rows)


def _said(field: Declared) -> str:
    """Return what a field is for, examples, and where to find the fields that it has itself."""
    said = [field.doc]
    kind = field.kind.of if isinstance(field.kind, Many) else field.kind
    if isinstance(kind, Word):
        others = f", or the id of a {kind.or_a}" if kind.or_a else ""
        said.append(f"One of: {', '.join(kind.words)}{others}.")
    elif "such as" not in field.doc and (examples := such_as(kind)):
        said.append(f"Such as {examples}.")
    inner = record_in(field)
    if inner is not None:
        said.append(f"Its fields: `sequencer schema {field.name}`.")
    return ("Needed. " if field.required else "") + " ".join(said)
