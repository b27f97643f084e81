"""Whatever a file holds, reading it ends in a model or in problems with places, never a crash."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.problem import Place, has_errors
from sequencer.reading import Reading, nodes, read_text
from sequencer.report import as_json, as_text
from tests.reading.spoiling import (
    FIELDS,
    LINE_FIELDS,
    MODEL,
    STEP_FIELDS,
    spoiled_models,
    values,
)

if TYPE_CHECKING:
    from collections.abc import Iterator


def places(reading: Reading) -> Iterator[Place]:
    for problem in reading.problems:
        assert problem.place is not None
        yield problem.place
        yield from (fact.place for fact in problem.facts if fact.place is not None)


def check(reading: Reading) -> None:
    lines = reading.lines["x.yaml"]
    assert (reading.assembly is None) == has_errors(reading.problems)
    for place in places(reading):
        assert place.file == "x.yaml"
        assert 1 <= place.line <= len(lines)
        assert 1 <= place.column <= len(lines[place.line - 1]) + 1
        assert place.width >= 1
    order = [
        (problem.place.line, problem.place.column) for problem in reading.problems if problem.place
    ]
    assert order == sorted(order)
    as_text(reading.problems, reading.lines, None).encode()
    json.dumps([as_json(problem) for problem in reading.problems])


def test_the_model_itself_is_sound() -> None:
    reading = read_text(MODEL, "x.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None


@settings(max_examples=300, deadline=None)
@given(spoiled_models())
def test_a_spoiled_model_is_read_or_told_why_not(text: str) -> None:
    check(read_text(text, "x.yaml"))


@settings(max_examples=60, deadline=None)
@given(spoiled_models())
def test_a_spoiled_model_is_no_matter_for_the_slow_parser(text: str) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(nodes, "LOADER", yaml.SafeLoader)
        check(read_text(text, "x.yaml"))


@settings(max_examples=200, deadline=None)
@given(st.text())
def test_any_text_is_read_or_told_why_not(text: str) -> None:
    check(read_text(text, "x.yaml"))


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(FIELDS), values, min_size=1))
def test_values_of_any_shape_are_read_or_told_why_not(fields: dict[str, object]) -> None:
    check(read_text(json.dumps(fields), "x.yaml"))


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from(STEP_FIELDS), values, min_size=1))
def test_step_fields_of_any_shape_are_read_or_told_why_not(fields: dict[str, object]) -> None:
    check(read_text(json.dumps({"assembly": "x", "steps": {"a": fields}}), "x.yaml"))


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.sampled_from(LINE_FIELDS), values, min_size=1))
def test_line_fields_of_any_shape_are_read_or_told_why_not(fields: dict[str, object]) -> None:
    model = {"assembly": "x", "parts": {"a": "A"}, "lines": {"l": fields}, "steps": {"s": "S."}}
    check(read_text(json.dumps(model), "x.yaml"))
