"""The vocabulary that dataclasses declare their fields in."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.fields import (
    Choices,
    Figure,
    Fitted,
    Links,
    Many,
    Record,
    Table,
    Text,
    Whole,
    declared,
    holds,
    records_of,
)
from sequencer.model.units import UNITS

if TYPE_CHECKING:
    from sequencer.model.fields import Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    id: str
    name: str = holds(Text(), "What it is called.", default="")
    if_: int = holds(Whole(), "A word that Python keeps for itself.", default=1)
    notes: tuple[str, ...] = holds(Many(Text()), "Remarks.")
    above: object = holds(Figure(("length",)), "How high it hangs.")
    must: str = holds(Text(), "What has to be said.", required=True)


RECORDS = records_of(Assembly)


def test_only_declared_fields_are_listed_by_their_names_in_the_file() -> None:
    assert [(field.attribute, field.name) for field in declared(Shelf)] == [
        ("name", "name"),
        ("if_", "if"),
        ("notes", "notes"),
        ("above", "above"),
        ("must", "must"),
    ]


def test_a_field_that_is_left_out_is_none_or_empty() -> None:
    shelf = Shelf(id="a", must="x")
    assert (shelf.name, shelf.if_, shelf.notes, shelf.above) == ("", 1, (), None)


def test_a_required_field_must_be_given() -> None:
    with pytest.raises(TypeError, match="must"):
        Shelf(id="a")


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_field_says_what_it_is_for(record: type) -> None:
    for field in declared(record):
        assert field.doc.endswith(".")
        assert field.doc[0].isupper() or field.doc[0] == "`"


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_every_kind_speaks_of_what_there_is(record: type) -> None:
    tables = {
        field.kind.of.cls.__name__.lower()
        for field in declared(Assembly)
        if isinstance(field.kind, Table)
    }
    for field in declared(record):
        kind = field.kind
        while isinstance(kind, Many | Table):
            kind = kind.of
        if isinstance(kind, Figure):
            assert set(kind.quantities) <= set(UNITS)
        if isinstance(kind, Links | Choices):
            assert set(kind.kinds) <= tables | {"all"}
        if isinstance(kind, Record) and kind.short:
            assert kind.short in {inner.attribute for inner in declared(kind.cls)}


@pytest.mark.parametrize(
    "kind", [Many(Text()), Links(("step",)), Choices(("tool",)), Fitted(), Table(Record(Shelf))]
)
def test_what_holds_several_is_empty_by_default(kind: Kind) -> None:
    made = dataclasses.make_dataclass("Made", [("it", object, holds(kind, "Some."))])
    assert made().it == ()
