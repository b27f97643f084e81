"""Entries as lines: what is written is what is read, and what is no entry is told."""

from __future__ import annotations

import dataclasses
import re
from pathlib import Path

import pytest
from hypothesis import given, settings

from sequencer.records.entries import KINDS, Done, Entry, PartDone, Reading, Start, Stop
from sequencer.records.lines import LineError, from_line, to_line
from tests.records.making import TIME, entries

DEVELOPERS = (Path(__file__).resolve().parent.parent.parent / "DEVELOPERS.md").read_text("utf-8")


@settings(max_examples=200, deadline=None)
@given(entries())
def test_a_line_reads_back_as_the_entry_it_was(entry: Entry) -> None:
    line = to_line(entry)
    assert line.endswith(b"\n")
    assert line.count(b"\n") == 1
    assert from_line(line[:-1]) == entry
    assert from_line(line) == entry


WRITTEN = [
    (
        Done(steps=("clean", "lock")),
        '{"entry": 7, "time": "2031-05-02T14:05:09+02:00", "kind": "done", '
        '"steps": ["clean", "lock"], "by": "Ada"}\n',
    ),
    (
        PartDone(step="head", pass_=2, count=8, of=3),
        '{"entry": 7, "time": "2031-05-02T14:05:09+02:00", "kind": "part-done", '
        '"step": "head", "pass": 2, "count": 8, "of": 3, "by": "Ada"}\n',
    ),
    (
        Reading(check="float", value="0.04 mm", place="3 o'clock"),
        '{"entry": 7, "time": "2031-05-02T14:05:09+02:00", "kind": "reading", '
        '"check": "float", "value": "0.04 mm", "place": "3 o\'clock", "by": "Ada"}\n',
    ),
    (
        Stop(),
        '{"entry": 7, "time": "2031-05-02T14:05:09+02:00", "kind": "stop", "by": "Ada"}\n',
    ),
]


@pytest.mark.parametrize(("what", "line"), WRITTEN, ids=lambda one: type(one).__name__)
def test_the_format_of_a_line_stays(what: Done, line: str) -> None:
    entry = Entry(number=7, time=TIME, what=what, by="Ada")
    assert to_line(entry).decode() == line


def test_letters_outside_ascii_stand_as_they_are() -> None:
    model = Start(
        file="ü.yaml", text="Ø 40\n", assembly="a", issue="A", fingerprint="7f3a·c91e", order=("ö",)
    )
    line = to_line(Entry(number=1, time=TIME, what=model)).decode("utf-8")
    for piece in ("ü.yaml", r"Ø 40\n", "7f3a·c91e", '"ö"'):
        assert piece in line


def test_the_format_is_written_down_field_by_field() -> None:
    rows = re.findall(r"^\| `([a-z-]+)` \|(.*)\|$", DEVELOPERS, re.MULTILINE)
    told = {kind: re.findall(r"`([a-z_]+)`", fields) for kind, fields in rows}
    for kind, cls in KINDS.items():
        names = [field.name.rstrip("_") for field in dataclasses.fields(cls)]
        assert set(told[kind]) == (set(names) if kind != "issue" else {"unit"})


REFUSED = [
    ('{"entry": 1, "time": "x", "kind": "no', "is torn or overwritten: it is no JSON object"),
    ("\x00\x00\x00", "is torn or overwritten: it is no JSON object"),
    ("[" * 100_000, "is torn or overwritten: it is no JSON object"),
    ("[1]", "is no JSON object"),
    ("7", "is no JSON object"),
    (
        '{"entry": 1, "time": "x", "kind": "painted"}',
        'is of a kind that this version does not know: "painted"',
    ),
    ('{"entry": 1, "time": "x"}', "is of a kind that this version does not know: null"),
    ('{"entry": 1, "kind": "stop"}', "lacks the field `time`"),
    ('{"time": "x", "kind": "stop"}', "has no number of its own"),
    ('{"entry": 0, "time": "x", "kind": "stop"}', "has no number of its own"),
    ('{"entry": true, "time": "x", "kind": "stop"}', "has no number of its own"),
    ('{"entry": 1, "time": "x", "kind": "done"}', "lacks the field `steps`"),
    (
        '{"entry": 1, "time": "x", "kind": "done", "steps": "lock"}',
        "has a field that holds what does not belong there: `steps`",
    ),
    (
        '{"entry": 1, "time": "x", "kind": "done", "steps": ["lock", 7]}',
        "has a field that holds what does not belong there: `steps`",
    ),
    (
        '{"entry": 1, "time": "x", "kind": "start", "file": "", "text": "", "assembly": "", '
        '"issue": "", "fingerprint": "", "order": [], "used": {"a.yaml": "", "b.yaml": 7}}',
        "has a field that holds what does not belong there: `used`",
    ),
    (
        '{"entry": 1, "time": "x", "kind": "stop", "colour": "red"}',
        'has a field that this version does not know: "colour"',
    ),
]


@pytest.mark.parametrize(("line", "why"), REFUSED)
def test_what_is_no_entry_is_refused_with_the_reason(line: str, why: str) -> None:
    with pytest.raises(LineError) as refused:
        from_line(line.encode())
    assert str(refused.value) == why
