"""The schema accepts whatever the reader accepts, and catches what an editor should."""

from __future__ import annotations

import json
import re
from pathlib import Path
from textwrap import dedent
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from sequencer.commands.schema import schema_text
from sequencer.model.assembly import Assembly
from sequencer.model.fields import Declared, Table, declared, records_of
from sequencer.problem import has_errors
from sequencer.reading import read_text
from sequencer.writing.schema import FILE, FIRST_LINE, schema
from tests.reading.spoiling import MODEL, spoiled_models, values
from tests.writing.seeing import as_an_editor_sees_it

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parent.parent.parent
MODELS = sorted((ROOT / "assemblies").glob("*.yaml"))
GOLDEN = sorted((ROOT / "tests" / "golden" / "reading").glob("*.yaml"))
VALIDATOR = Draft202012Validator(schema())


def faults(held: object) -> list[str]:
    return [
        f"{'/'.join(map(str, error.absolute_path))}: {error.message[:200]}"
        for error in VALIDATOR.iter_errors(held)
    ]


def test_it_is_a_schema() -> None:
    Draft202012Validator.check_schema(schema())


def test_the_schema_beside_the_models_is_this_one(golden: Callable[[Path, str], None]) -> None:
    golden(ROOT / "assemblies" / FILE, schema_text())


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.stem)
def test_every_shipped_model_is_as_the_schema_says_and_names_it(model: Path) -> None:
    text = model.read_text(encoding="utf-8")
    assert faults(as_an_editor_sees_it(text)) == []
    assert text.startswith(f"{FIRST_LINE}\n")


def test_the_model_with_some_of_everything_is_as_the_schema_says() -> None:
    assert faults(as_an_editor_sees_it(MODEL)) == []


@pytest.mark.parametrize("case", GOLDEN, ids=lambda case: case.stem)
def test_a_model_that_is_only_warned_about_is_as_the_schema_says(case: Path) -> None:
    text = case.read_text(encoding="utf-8")
    if not has_errors(read_text(text, case.name).problems):
        assert faults(as_an_editor_sees_it(text)) == []


def test_every_kind_that_a_field_may_have_has_its_schema() -> None:
    every = [field.name for cls in records_of(Assembly) for field in declared(cls)]
    assert set(schema()["properties"]) == {field.name for field in declared(Assembly)}
    assert set(every) <= set(re.findall(r'"(\w+)": {"description"', json.dumps(schema())))


def test_every_field_of_every_record_is_described() -> None:
    described = json.dumps(schema(), ensure_ascii=False)
    for cls in records_of(Assembly):
        for field in declared(cls):
            assert json.dumps(field.doc, ensure_ascii=False) in described


BROKEN = {
    "a misspelt field of a step": ("steps: {a: {do: Go., tume: 5 min}}", "steps/a"),
    "a misspelt section": ("stepps: {a: Go.}\nsteps: {a: Go.}", ""),
    "nothing but a title": ("title: X", ""),
    "a step that says nothing": ("steps: {a: {fits: p}}", "steps/a"),
    "an empty step": ("steps: {a: }", "steps/a"),
    "no steps in steps": ("steps: {}", "steps"),
    "a list of steps": ("steps: [Go.]", "steps"),
    "a word that means nothing": ("steps: {a: {do: Go., leaves: lose}}", "steps/a"),
    "a number of people in words": ("steps: {a: {do: Go., people: two}}", "steps/a"),
    "a time without a figure": ("steps: {a: {do: Go., time: long}}", "steps/a"),
    "a size without a unit": ("parts: {p: {largest: 5}}\nsteps: {a: Go.}", "parts/p"),
    "a yes for a true": ("parts: {p: {once: yes}}\nsteps: {a: Go.}", "parts/p"),
    "none of a part": ("parts: {p: {quantity: 0}}\nsteps: {a: Go.}", "parts/p"),
    "a price below nothing": ("parts: {p: {price: -1}}\nsteps: {a: Go.}", "parts/p"),
    "a list for words": ("steps: {a: {do: [Go.]}}", "steps/a"),
    "a name of two things": ("steps: {a: {do: Go., after: {step: b, section: c}}}", "steps/a"),
    "a reason without a name": ("steps: {a: {do: Go., after: {why: so}}}", "steps/a"),
    "an id with a space": ("parts: {a b: X}\nsteps: {a: Go.}", "parts"),
    "a torque in words": ("steps: {a: {do: Go., torque: hard}}", "steps/a"),
}


@pytest.mark.parametrize(("text", "where"), BROKEN.values(), ids=list(BROKEN))
def test_a_broken_model_is_caught_where_it_is_broken(text: str, where: str) -> None:
    whole = text if text.startswith("title") else f"assembly: x\n{text}"
    assert has_errors(read_text(whole, "x.yaml").problems)
    found = faults(as_an_editor_sees_it(whole))
    assert found
    assert all(fault.startswith(f"{where}:") for fault in found), found


FORMS = """\
    assembly: 0012
    title:
    parts:
      housing: {name: no, number: 1.10, quantity: "4", once: True, mass: 1/2 lb, price: "2,5"}
      10: 20 × Ball
      seal:
      nut: {quantity: 04, spare: 0, renew: [ALWAYS], largest: {value: 5 mm, why: 12}}
    joints:
      j: {count: 4, torque: {value: 60 ft-lb, source: }, surface: Dry}
      k: {torque: finger tight}
    steps:
      a: 12
      b:
        do: true
        fits: [housing, {10: up, seal: }, ]
        after: [a, {step: a, why: no}, {section: 7}]
        tools: [[1, {tool: 2}], 3]
        tighten: {joint: j}
        ways_in: {top: seal, side: {opening: 5 mm}, back: }
        note: [1, no, ]
        section: 7
      c: {do: x, tighten: k, people: 02, warning: w, undo: , fits: nut}
    together: []
    states: {}
"""


def test_every_form_that_the_reader_knows_is_as_the_schema_says() -> None:
    text = dedent(FORMS)
    errors = [one for one in read_text(text, "x.yaml").problems if one.severity == "error"]
    assert errors == []
    assert faults(as_an_editor_sees_it(text)) == []


def accepted_alike(text: str, held: object) -> None:
    if read_text(text, "x.yaml").assembly is not None:
        assert faults(held) == []


@settings(max_examples=200, deadline=None)
@given(spoiled_models())
def test_the_schema_accepts_a_spoiled_model_that_the_reader_accepts(text: str) -> None:
    if read_text(text, "x.yaml").assembly is not None:
        accepted_alike(text, as_an_editor_sees_it(text))


TABLES = [field for field in declared(Assembly) if isinstance(field.kind, Table)]
SOUND: dict[str, dict[str, Any]] = {
    "parts": {},
    "steps": {"do": "S."},
    "lines": {"shaft": "a", "ends": {"l": "open"}, "order": [{"part": "b"}]},
    "states": {"begins": "s", "ends": "t"},
    "trials": {"steps": ["s", "t"]},
    "checks": {"look": "It", "good": "so"},
}


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([None, *TABLES]), st.data())
def test_the_schema_accepts_whatever_shape_the_reader_accepts(
    table: Declared | None, data: st.DataObject
) -> None:
    kind = table.kind if table else None
    cls = kind.of.cls if isinstance(kind, Table) else Assembly
    names = [field.name for field in declared(cls)]
    fields = data.draw(st.dictionaries(st.sampled_from(names), values, max_size=2))
    whole: dict[str, Any] = {
        "assembly": "x",
        "parts": {"a": "A", "b": "B"},
        "steps": {"s": "S.", "t": "T."},
    }
    if table is None:
        whole |= fields
    else:
        entry = {**SOUND.get(table.name, {}), **fields}
        whole[table.name] = {**whole.get(table.name, {}), "z": entry}
    accepted_alike(json.dumps(whole), whole)
