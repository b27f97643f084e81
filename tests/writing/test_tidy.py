"""Tidying quotes what YAML breaks and leaves the rest: it settles at once, and says what it did."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.problem import has_errors
from sequencer.reading import read_text
from sequencer.reading.mending import without_remark
from sequencer.writing import tidy as tidying
from sequencer.writing.texts import is_changed_by_others, scalar
from sequencer.writing.tidy import tidy
from tests.reading.spoiling import MODEL, spoiled_models

ROOT = Path(__file__).resolve().parent.parent.parent
SHIPPED = sorted((ROOT / "assemblies").glob("*.yaml"))

BROKEN = (
    "Note: use oil",
    "- 2 washers",
    "> 5 mm of play",
    "| to the shaft",
    "& grease well",
    "&grease well",
    "*oil* the lip",
    "*oil",
    "!important step",
    "&grease",
    "!important",
    '&grease 3/4"',
    "%5 of them",
    "@5 mm",
    "`M8` bolt",
    "{{ x }}",
    "[M8]",
    "[M8] bolt",
    '"3/4" bolt',
    "'M8' bolt",
    "Really? then: stop",
    r'"C:\parts\p1"',
    "? or not",
    ", and so on",
)


@pytest.mark.parametrize("text", BROKEN)
@pytest.mark.parametrize(
    "line", ["    do: {}", "    do: {}   # a remark: kept", "    do:   {}  "], ids=len
)
def test_a_text_that_yaml_breaks_is_quoted_word_for_word(line: str, text: str) -> None:
    before = f"# head\nassembly: x\nsteps:\n  a:\n{line.format(text)}\n    people: 2\n"
    tidied = tidy(before, "x.yaml")
    assert tidied.reading.problems == ()
    assert tidied.reading.assembly is not None
    meant = text[1:-1] if text.startswith('"C:') else text
    assert tidied.reading.assembly.steps[0].do == meant
    (change,) = tidied.changes
    assert change.before == text
    assert tidied.text == before.replace(text, change.after)


@pytest.mark.parametrize("text", [*BROKEN[:-1], "in, out", "a, b, and c: all"])
def test_a_text_in_braces_is_quoted_up_to_the_next_field(text: str) -> None:
    before = (
        f"assembly: x\nparts:\n  p: {{name: {text}, quantity: 2}}\nsteps: {{a: Fit., b: Go.}}\n"
    )
    tidied = tidy(before, "x.yaml")
    assembly = tidied.reading.assembly
    assert assembly is not None, tidied.reading.problems
    meant = text[1:-1] if text.startswith('"C:') else text
    assert (assembly.parts[0].name, assembly.parts[0].quantity) == (meant, 2)


@pytest.mark.parametrize(
    ("text", "quoted"),
    [("Fit 5 #10 screws", '"Fit 5 #10 screws"'), ("#10-32", '"#10-32"')],
)
def test_a_text_that_is_cut_off_is_quoted_without_the_remark_behind_it(
    text: str, quoted: str
) -> None:
    tidied = tidy(f"assembly: x\nsteps:\n  a: {text}  # the long ones\n", "x.yaml")
    assert tidied.text == f"assembly: x\nsteps:\n  a: {quoted}  # the long ones\n"
    assert tidied.reading.problems == ()


@pytest.mark.parametrize("text", ["0012", "1.10", "no", "12:30", "1e5", "2024-13-45", "0x10"])
def test_a_text_that_other_programs_would_change_is_quoted(text: str) -> None:
    before = f"assembly: x\nparts:\n  p: {{number: {text}}}\nsteps:\n  a: {{do: Fit., fits: p}}\n"
    tidied = tidy(before, "x.yaml")
    assert tidied.text == before.replace(text, f'"{text}"')
    assert yaml.safe_load(tidied.text)["parts"]["p"]["number"] == text


@pytest.mark.parametrize(
    "value",
    [
        '"3/4" and "1/2"',  # quoted twice, or one text with marks in it
        "'tis tight",  # where it was to end nobody knows
        '"open to the end',
        "Note: goes on\n      in the next line",
        "[a: b: c]",  # a list
        r'"a \" b \q"',
        "'tis tight\n    note: Nobody's hand inside",  # the mark is closed in another line
    ],
)
def test_what_cannot_be_recognised_for_sure_is_left_to_a_person(value: str) -> None:
    before = f"assembly: x\nsteps:\n  a:\n    do: {value}\n    people: 2\n"
    tidied = tidy(before, "x.yaml")
    assert (tidied.text, tidied.changes) == (before, ())
    assert has_errors(tidied.reading.problems)


def test_a_remark_is_what_follows_a_hash_and_a_space_but_no_number() -> None:
    assert without_remark("Fit it # so") == "Fit it"
    assert without_remark("Fit it   #") == "Fit it"
    assert without_remark("Fit # 10 screws") == "Fit # 10 screws"
    assert without_remark("Fit # 10 screws  # so # and so") == "Fit # 10 screws"
    assert without_remark("a" + " " * 300_000 + "b") == "a" + " " * 300_000 + "b"


def test_only_fields_that_hold_words_are_quoted() -> None:
    before = "assembly: x\nsteps:\n  a: {do: Go., time: > 5 min}\n"
    assert tidy(before, "x.yaml").text == before


def test_line_ends_marks_and_missing_last_lines_stay_as_they_are() -> None:
    before = "\ufeffassembly: x\r\n\r\nsteps:  \r\n  a: Note: oil\r  b: 'Go.' # so"
    after = "\ufeffassembly: x\r\n\r\nsteps:  \r\n  a: \"Note: oil\"\r  b: 'Go.' # so"
    assert tidy(before, "x.yaml").text == after


def test_many_slips_in_one_file_are_all_mended() -> None:
    before = "assembly: x\nsteps:\n" + "".join(f"  s{n}: Note: {n}\n" for n in range(100))
    tidied = tidy(before, "x.yaml")
    assert len(tidied.changes) == 100
    assert [change.place.line for change in tidied.changes] == list(range(3, 103))
    assert tidied.reading.problems == ()


def test_a_file_of_nothing_but_slips_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tidying, "MOST_READINGS", 10)
    before = "assembly: x\nsteps:\n" + "".join(f"  s{n}: Note: {n}\n" for n in range(100))
    tidied = tidy(before, "x.yaml")
    assert (tidied.text, tidied.changes, tidied.is_whole) == (before, (), False)


@pytest.mark.parametrize("model", SHIPPED, ids=lambda model: model.stem)
def test_the_models_that_ship_are_tidy(model: Path) -> None:
    text = model.read_text(encoding="utf-8")
    assert tidy(text, model.name).text == text


def only_marks_were_added(before: str, after: str) -> bool:
    """Tell whether the lines are the same but for quotation marks."""
    marks = str.maketrans("", "", "'\"")
    return before.translate(marks) == after.translate(marks)


@settings(max_examples=150, deadline=None)
@given(spoiled_models())
def test_what_is_tidy_stays_as_it_is(text: str) -> None:
    tidied = tidy(text, "x.yaml")
    assert tidy(tidied.text, "x.yaml").text == tidied.text
    assert only_marks_were_added(text, tidied.text)


WORDS = st.one_of(
    st.sampled_from(
        ["0012", "no", "1.10", "12:30", "Note: oil", "[M8]", "x", "~ so", "5 #10", "é"]
    ),
    st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=20),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(WORDS, min_size=3, max_size=3))
def test_a_sound_model_says_the_same_when_tidy(words: list[str]) -> None:
    lines = [f"assembly: x\ntitle: {words[0]}\nsteps:\n  a: {words[1]}\n  b: {{do: {words[2]}}}\n"]
    before = read_text(lines[0], "x.yaml")
    tidied = tidy(lines[0], "x.yaml")
    if before.assembly is not None:
        assert tidied.reading.assembly == before.assembly


def test_a_long_sound_model_says_the_same_when_tidy() -> None:
    assert tidy(MODEL, "x.yaml").reading.assembly == read_text(MODEL, "x.yaml").assembly


PIECES = st.text("0123456789.:-+eExob_nyof ", min_size=1, max_size=8).map(str.strip)


@settings(max_examples=300, deadline=None)
@given(PIECES.filter(bool))
def test_what_is_written_for_a_text_is_that_text_to_any_program(text: str) -> None:
    try:
        held: Any = yaml.safe_load(f"a: {scalar(text)}")["a"]
    except yaml.YAMLError:
        pytest.fail(f"{scalar(text)} cannot be read")
    assert str(held) == text
    assert isinstance(held, str) or not is_changed_by_others(text)


@settings(max_examples=200, deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=20))
def test_what_is_written_for_any_text_is_read_as_that_text(text: str) -> None:
    held: Any = yaml.safe_load(f"a: {scalar(text)}\nb: 1")["a"]
    assert str(held) == text


def test_a_list_of_texts_is_tidied_one_by_one() -> None:
    before = dedent(
        """\
        assembly: x
        steps:
          a:
            do: Go.
            note:
              - no
              - Mind: the lip
              - fine
            after:
              - {step: b, why: 1.10}
          b: Stop.
        """
    )
    tidied = tidy(before, "x.yaml")
    assert [change.after for change in tidied.changes] == ['"no"', '"Mind: the lip"', '"1.10"']
    assert tidied.reading.problems == ()


@pytest.mark.parametrize("character", ["\u0085", "\u2028", "\x07"], ids=ascii)
def test_a_character_at_which_yaml_counts_lines_otherwise_makes_no_edit(character: str) -> None:
    text = f"assembly: x\ntitle: A{character}b\nsteps:\n  a: {{do: Turn it., note: 0012}}\n"
    tidied = tidy(text, "x.yaml")
    assert tidied.is_whole
    assert tidied.changes == ()
    assert [problem.code for problem in tidied.reading.problems] == ["hidden-character"]
