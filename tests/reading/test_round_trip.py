"""Words and ids come back as they were written, however a program quotes and folds them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.reading import read_text
from sequencer.reading.names import id_problem

if TYPE_CHECKING:
    from collections.abc import Callable

# Everything that can be printed: no control characters, line separators or halves of pairs.
words = st.text(
    st.characters(exclude_categories=["Cc", "Cs", "Zl", "Zp"], exclude_characters="\ufffd\ufeff"),
    min_size=1,
    max_size=60,
).filter(lambda text: text.strip() and "\ufffe" not in text and "\uffff" not in text)
ids = st.from_regex(r"[a-zA-Z0-9][a-zA-Z0-9_.:/+#-]{0,12}", fullmatch=True).filter(
    lambda text: id_problem(text) is None and text != "all"
)


@st.composite
def models(draw: st.DrawFn) -> dict[str, Any]:
    """Make the plain values of a small model: parts, and steps that fit them one after another."""
    parts = draw(st.lists(ids, min_size=1, max_size=4, unique_by=str.casefold))
    steps = draw(st.lists(ids, min_size=len(parts), max_size=len(parts), unique_by=str.casefold))
    return {
        "assembly": "made",
        "title": draw(words),
        "parts": {part: {"name": draw(words), "number": draw(words)} for part in parts},
        "steps": {
            step: {
                "do": draw(words),
                "fits": [part],
                "after": [{"step": before, "why": draw(words)}] if before else [],
                "note": draw(st.lists(words, max_size=2)),
            }
            for step, before, part in zip(steps, [None, *steps], parts, strict=False)
        },
    }


def as_json(values: object) -> str:
    return json.dumps(values, ensure_ascii=False)


def as_blocks(values: object) -> str:
    return yaml.safe_dump(values, allow_unicode=True, sort_keys=False)


def as_escapes(values: object) -> str:
    return yaml.safe_dump(values, width=40, default_flow_style=True, sort_keys=False)


@pytest.mark.parametrize("write", [as_json, as_blocks, as_escapes])
@settings(max_examples=60, deadline=None)
@given(values=models())
def test_what_a_program_writes_is_read_again(
    write: Callable[[object], str], values: dict[str, Any]
) -> None:
    reading = read_text(write(values), "made.yaml")
    assembly = reading.assembly
    assert assembly is not None, reading.problems
    assert assembly.title == values["title"].strip()
    assert {part.id: (part.name, part.number) for part in assembly.parts} == {
        part: (fields["name"].strip(), fields["number"].strip())
        for part, fields in values["parts"].items()
    }
    for step, (name, fields) in zip(assembly.steps, values["steps"].items(), strict=True):
        assert (step.id, step.do) == (name, fields["do"].strip())
        assert step.note == tuple(note.strip() for note in fields["note"])
        assert [fit.part for fit in step.fits] == fields["fits"]
        assert [(link.to, link.why) for link in step.after] == [
            (link["step"], link["why"].strip()) for link in fields["after"]
        ]
