"""Fields of the format that are not built yet are refused by name, never ignored."""

from __future__ import annotations

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.reading import read_text
from sequencer.reading.fields import fields_of
from sequencer.reading.later import FIELDS

# Where a record of each class stands in a model, with room for one more field.
WHERE = {
    Assembly: "assembly: x\nsteps: {{s: S.}}\n{}: 1\n",
    Part: "assembly: x\nparts: {{p: {{{}: 1}}}}\nsteps: {{s: S.}}\n",
    Step: "assembly: x\nsteps: {{s: {{do: S., {}: 1}}}}\n",
    Check: (
        "assembly: x\nchecks: {{c: {{look: at it, {}: 1}}}}\nsteps: {{s: {{do: S., check: c}}}}\n"
    ),
}


@pytest.mark.parametrize(
    ("record", "name"),
    [(record, name) for record, names in FIELDS.items() for name in sorted(names)],
    ids=lambda value: value if isinstance(value, str) else value.__name__,
)
def test_a_later_field_is_refused_by_name(record: type, name: str) -> None:
    text = WHERE[record].format(name)
    (problem,) = read_text(text, "x.yaml").problems
    assert problem.code == "not-yet-supported"
    assert problem.message == f"`{name}` is not supported yet"
    assert problem.place is not None
    shown = text.splitlines()[problem.place.line - 1][problem.place.column - 1 :]
    assert shown.startswith(f"{name}:")


@pytest.mark.parametrize("record", FIELDS, ids=lambda record: record.__name__)
def test_no_field_is_both_declared_and_refused(record: type) -> None:
    assert not FIELDS[record] & set(fields_of(record))


def test_a_refused_field_brings_no_other_faults() -> None:
    text = """
assembly: x
parts:
  p: {name: P, picture: p.png}
steps:
  s: {do: S., fits: p, picture: s.png}
"""
    codes = {problem.code for problem in read_text(text, "x.yaml").problems}
    assert codes == {"not-yet-supported"}
