"""Problems as text, with the lines they rest on, and as JSON."""

from __future__ import annotations

import json
from textwrap import dedent
from typing import TYPE_CHECKING

import pytest

from sequencer.problem import Fact, Place, Problem
from sequencer.report import LONGEST_LINE, MOST_WINDOWS, as_json, as_text

if TYPE_CHECKING:
    from collections.abc import Sequence

FILE = "gear.yaml"
LINES = {
    FILE: (
        "assembly: gear",
        "steps:",
        "  press:",
        "    do: Press it on.",
        "    after: [clip]",
        "  clip:",
        "    do: Clip it.",
        "    after: {step: press, why: it turns}",
        "\tnote: tab",
        "  a: 日本語, e\u0301, 🔧 and more",
    )
}


def at(line: int, column: int, width: int = 1, file: str = FILE) -> Place:
    return Place(file, line, column, width)


def text(*problems: Problem, lines: dict[str, tuple[str, ...]] | None = None) -> str:
    return as_text(problems, LINES if lines is None else lines)


def test_a_problem_with_its_line_why_and_fix() -> None:
    problem = Problem(
        "figure", "error", "`x` is not a time", place=at(4, 9, 5), why="so it is", fix="mend it"
    )
    assert text(problem) == dedent(
        """\
        gear.yaml:4:9: error[figure]: `x` is not a time
        4 |     do: Press it on.
          |         ^^^^^
          = why: so it is
          = fix: mend it"""
    )


def test_a_problem_without_a_place_has_no_window() -> None:
    assert text(Problem("no-file", "error", "there is no file")) == (
        "error[no-file]: there is no file"
    )


def test_each_fact_has_its_line_its_sentence_and_its_reason() -> None:
    problem = Problem(
        "circle",
        "error",
        "2 steps wait for each other",
        place=at(5, 13, 4),
        facts=(
            Fact("`press` waits for `clip`", place=at(5, 13, 4)),
            Fact("`clip` waits for `press`", place=at(8, 19, 5), why="it turns"),
        ),
    )
    assert text(problem) == dedent(
        """\
        gear.yaml:5:13: error[circle]: 2 steps wait for each other
        5 |     after: [clip]
          |             ^^^^ `press` waits for `clip`
          ...
        8 |     after: {step: press, why: it turns}
          |                   ^^^^^ `clip` waits for `press`
          |                         because: it turns"""
    )


def test_the_place_of_the_problem_comes_before_facts_elsewhere() -> None:
    problem = Problem(
        "x",
        "warning",
        "two are alike",
        place=at(6, 3, 4),
        facts=(Fact("the first", place=at(3, 3, 5)),),
    )
    assert text(problem) == dedent(
        """\
        gear.yaml:6:3: warning[x]: two are alike
        6 |   clip:
          |   ^^^^
          ...
        3 |   press:
          |   ^^^^^ the first"""
    )


def test_lines_next_to_each_other_are_not_parted_and_one_line_is_shown_once() -> None:
    problem = Problem(
        "x",
        "note",
        "see here",
        place=at(3, 3, 5),
        facts=(
            Fact("one", place=at(3, 3, 5)),
            Fact("other", place=at(4, 5, 2)),
            Fact("again", place=at(4, 9, 5)),
        ),
    )
    assert text(problem) == dedent(
        """\
        gear.yaml:3:3: note[x]: see here
        3 |   press:
          |   ^^^^^ one
        4 |     do: Press it on.
          |     ^^ other
          |         ^^^^^ again"""
    )


def test_line_numbers_of_different_length_stand_in_one_column() -> None:
    lines = {FILE: tuple(f"line {n}" for n in range(1, 120))}
    problem = Problem(
        "x", "error", "m", place=at(9, 1, 4), facts=(Fact("far", place=at(110, 6, 3)),)
    )
    assert text(problem, lines=lines) == dedent(
        """\
        gear.yaml:9:1: error[x]: m
          9 | line 9
            | ^^^^
            ...
        110 | line 110
            |      ^^^ far"""
    )


def test_facts_in_another_file_name_it() -> None:
    lines = {**LINES, "pump.yaml": ("assembly: pump",)}
    problem = Problem(
        "x",
        "error",
        "m",
        place=at(1, 11, 4),
        facts=(Fact("there", place=at(1, 11, 4, "pump.yaml")),),
    )
    assert text(problem, lines=lines) == dedent(
        """\
        gear.yaml:1:11: error[x]: m
        1 | assembly: gear
          |           ^^^^
          in pump.yaml:
        1 | assembly: pump
          |           ^^^^ there"""
    )


def test_facts_without_a_line_to_show_are_sentences() -> None:
    problem = Problem(
        "x",
        "error",
        "m",
        facts=(
            Fact("said nowhere", why="so"),
            Fact("said elsewhere", place=at(7, 2, file="gone.yaml")),
        ),
    )
    assert text(problem) == dedent(
        """\
        error[x]: m
          - said nowhere, because: so
          - said elsewhere (gone.yaml:7:2)"""
    )


def test_a_long_chain_of_facts_is_numbered_in_sentences() -> None:
    facts = tuple(
        Fact(f"fact {n}", place=at(n, 1), why="so" if n == 1 else "")
        for n in range(1, MOST_WINDOWS + 2)
    )
    problem = Problem("x", "error", "m", place=at(2, 1, 5), facts=facts)
    assert text(problem) == dedent(
        """\
        gear.yaml:2:1: error[x]: m
        2 | steps:
          | ^^^^^
          1. fact 1, because: so (line 1)
          2. fact 2 (line 2)
          3. fact 3 (line 3)
          4. fact 4 (line 4)
          5. fact 5 (line 5)
          6. fact 6 (line 6)"""
    )


def carets(place: Place, lines: Sequence[str] = LINES[FILE]) -> list[str]:
    """Return the shown line and the carets under it, without the gutter."""
    shown = as_text([Problem("x", "error", "m", place=place)], {FILE: lines}).split("\n")[1:]
    return [line.split("| ", 1)[1] for line in shown]


def test_wide_characters_take_two_columns_and_combining_ones_none() -> None:
    line = LINES[FILE][9]
    assert carets(at(10, line.index("本") + 1, 2)) == [line, f"{7 * ' '}^^^^"]
    assert carets(at(10, line.index("e\u0301") + 1, 2))[1] == f"{13 * ' '}^"
    assert carets(at(10, line.index("🔧") + 1))[1] == f"{16 * ' '}^^"


def test_tabs_are_copied_so_that_the_carets_stay_below() -> None:
    assert carets(at(9, 8, 3)) == ["\tnote: tab", "\t      ^^^"]


@pytest.mark.parametrize("column", [1, 30, 99, 500, 995])
def test_a_long_line_is_cut_so_that_the_carets_stay_in_view(column: int) -> None:
    line = "".join(chr(ord("a") + n % 26) for n in range(1000))
    shown, marks = carets(at(1, column, 3), [line])
    start = marks.index("^")
    assert len(shown) <= LONGEST_LINE + 2
    assert shown[start : start + 3] == line[column - 1 : column + 2]
    assert len(marks) == start + 3


def test_a_place_at_the_end_of_a_line_has_one_caret() -> None:
    assert carets(at(2, 7)) == ["steps:", "      ^"]


def test_a_place_past_the_file_has_no_window() -> None:
    assert text(Problem("x", "error", "m", place=at(99, 1))) == "gear.yaml:99:1: error[x]: m"


def test_characters_that_steer_a_terminal_are_made_visible() -> None:
    line = "a: \x1b[31m\u202ered\x07\ud800 no\u00adw"
    problem = Problem("x", "error", f"`{line}`", fix="\x1b[2J", place=at(1, 4, 1))
    shown = as_text([problem], {FILE: (line,)})
    assert "\x1b" not in shown
    assert "\u202e" not in shown
    assert "␛[31m�red␇� no" in shown
    shown.encode()


@pytest.mark.parametrize(
    ("count", "limit", "shown", "rest"),
    [
        (3, None, 3, ""),
        (20, 20, 20, ""),
        (25, 20, 20, "not shown: 5 more (5 errors)"),
        (2, 1, 1, "not shown: 1 more (1 error)"),
    ],
)
def test_only_so_many_are_shown_and_the_rest_counted(
    count: int, limit: int | None, shown: int, rest: str
) -> None:
    told = as_text([Problem("x", "error", "m")] * count, {}, limit)
    assert told.count("error[x]: m") == shown
    assert told.split("\n")[-1] == (rest or "error[x]: m")


def test_what_is_not_shown_is_counted_by_severity() -> None:
    problems = [
        *(Problem("x", "error", "m") for _ in range(3)),
        Problem("x", "warning", "m"),
        *(Problem("x", "note", "m") for _ in range(2)),
    ]
    assert as_text(problems, {}, 1).endswith("not shown: 5 more (2 errors, 1 warning and 2 notes)")


def test_nothing_to_tell_is_no_text() -> None:
    assert as_text([], {}) == ""


def test_json_has_the_keys_that_were_agreed_on() -> None:
    problem = Problem(
        "not-yet",
        "error",
        "`a` is done too early",
        step="a",
        place=at(3, 3, 5),
        facts=(Fact("it comes after `b`", why="it turns", place=at(5, 13)), Fact("so")),
        why="w",
        fix="f",
    )
    assert as_json(problem) == {
        "code": "not-yet",
        "severity": "error",
        "step": "a",
        "message": "`a` is done too early",
        "facts": [
            {
                "text": "it comes after `b`",
                "why": "it turns",
                "file": FILE,
                "line": 5,
                "column": 13,
            },
            {"text": "so", "why": "", "file": None, "line": None, "column": None},
        ],
        "file": FILE,
        "line": 3,
        "column": 3,
        "why": "w",
        "fix": "f",
    }
    json.dumps(as_json(problem))
