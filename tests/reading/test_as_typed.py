"""What YAML would make numbers, dates and truths of stays as typed where text is meant."""

from __future__ import annotations

import pytest

from sequencer.model.assembly import Assembly
from sequencer.reading import read_text

# Part numbers, ratios, times, dates and words that a YAML loader turns into something else.
AS_TYPED = [
    "0012", "0123", "0189", "007", "00", "08", "09",
    "no", "NO", "on", "off", "Yes", "y", "N",
    "3:1", "41:12", "12:30", "1:30:00",
    "12E4", "1e5", "5319E7", "1_000", "0x10", "0b1", "1.0e+5",
    "1.10", "1.1", "0.050",
    "2024-01-10", "2024-13-45", "12-05-2024", "10-32", "M8x1.25#2",
    "true", "NaN", "=",
]  # fmt: skip
IDS = [text for text in AS_TYPED if text != "="]


def model(text: str) -> Assembly:
    reading = read_text(text, "typed.yaml")
    assert reading.assembly is not None, reading.problems
    return reading.assembly


@pytest.mark.parametrize("text", AS_TYPED)
def test_words_stay_as_typed(text: str) -> None:
    found = model(
        f"assembly: x\nparts:\n  a:\n    name: {text}\n    number: {text}\n"
        f"steps:\n  fit: {text}\n  note:\n    do: Do it.\n    note: [{text}, {text}]\n"
    )
    (part,) = found.parts
    assert (part.name, part.number) == (text, text)
    assert found.steps[0].do == text
    assert found.steps[1].note == (text, text)


@pytest.mark.parametrize("name", IDS)
def test_ids_stay_as_typed_and_are_found_again(name: str) -> None:
    found = model(
        f"assembly: {name}\nparts:\n  {name}: Part\nsteps:\n"
        f"  {name}: {{do: Fit it., fits: [{name}]}}\n"
        f"  last: {{do: Look., after: {name}, onto: [{name}]}}\n".replace(
            f"assembly: {name}", "assembly: x" if ":" in name else f"assembly: {name}"
        )
    )
    assert found.parts[0].id == name
    assert found.steps[0].id == name
    assert found.steps[0].fits[0].part == name
    assert found.steps[1].after[0].to == name
    assert found.steps[1].onto[0].to == name


@pytest.mark.parametrize(("one", "other"), [("1.10", "1.1"), ("007", "7"), ("0x10", "16")])
def test_ids_that_would_be_one_number_are_two(one: str, other: str) -> None:
    found = model(
        f"assembly: x\nparts: {{{one}: One, {other}: Other}}\n"
        f"steps: {{a: {{do: Fit., fits: [{one}, {other}]}}}}\n"
    )
    assert [part.id for part in found.parts] == [one, other]


def test_quotes_make_no_other_name() -> None:
    found = model("assembly: x\nparts: {10: Ten}\nsteps: {a: {do: F., fits: '10'}}")
    assert found.steps[0].fits[0].part == found.parts[0].id == "10"


@pytest.mark.parametrize(
    ("field", "text"),
    [("time", "1_000 s"), ("time", "12:30"), ("people", "0x2"), ("people", "2.0"), ("people", "٢")],
)
def test_numbers_are_read_in_plain_digits_only(field: str, text: str) -> None:
    reading = read_text(f"assembly: x\nsteps: {{a: {{do: D., {field}: '{text}'}}}}", "x.yaml")
    assert reading.assembly is None
    assert len(reading.problems) == 1


@pytest.mark.parametrize(("typed", "flag"), [("true", True), ("True", True), ("false", False)])
def test_true_and_false_are_the_only_truths(typed: str, flag: bool) -> None:
    found = model(f"assembly: x\nparts: {{a: {{once: {typed}}}}}\nsteps: {{s: S.}}")
    assert found.parts[0].once is flag
