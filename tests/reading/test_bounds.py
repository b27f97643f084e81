"""Files that are no text, too large, too deep or too long: told at once, never a crash."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
import yaml

from sequencer.problem import Place, Problem
from sequencer.reading import nodes, read_file, read_text
from sequencer.reading.decoding import LARGEST_FILE, text_of_file
from sequencer.reading.model_file import MOST_STEPS
from sequencer.reading.syntax import DEEPEST

if TYPE_CHECKING:
    from pathlib import Path

GOOD = "assembly: x\nsteps:\n  a: Do it.\n"


def only(problems: tuple[Problem, ...]) -> Problem:
    (problem,) = problems
    return problem


@pytest.mark.parametrize(
    ("data", "code", "message", "line", "column"),
    [
        (
            "assembly: x\nsteps:\n  a: Warm to 60 °C\n".encode("cp1252"),
            "encoding",
            "byte 36 of the file, 0xB0 (`°` in Windows-1252), is not UTF-8",
            3,
            17,
        ),
        (
            "assembly: x\r\ntitle: 5 µm – fine\r\n".encode("cp1252"),
            "encoding",
            "byte 23 of the file, 0xB5 (`µ` in Windows-1252), is not UTF-8",
            2,
            10,
        ),
        (
            b"assembly: x\ntitle: \x81\n",
            "encoding",
            "byte 20 of the file, 0x81, is not UTF-8",
            2,
            8,
        ),
        (
            b"assembly: x\ntitle: a\0b\n",
            "hidden-character",
            "an unseen character stands here: U+0000",
            2,
            9,
        ),
        (
            b"assembly: x\ntitle: a\x07\n",
            "hidden-character",
            "an unseen character stands here: U+0007",
            2,
            9,
        ),
        (
            "assembly: x\u2028steps: y\n".encode(),
            "hidden-character",
            "an unseen character stands here: line separator (U+2028)",
            1,
            12,
        ),
    ],
)
def test_what_is_no_text_is_told_with_its_place(
    tmp_path: Path, data: bytes, code: str, message: str, line: int, column: int
) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes(data)
    problem = only(read_file(file).problems)
    assert (problem.code, problem.message) == (code, message)
    assert problem.place == Place(str(file), line, column, 1)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_wide_encodings_are_named(tmp_path: Path, encoding: str) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes(GOOD.encode(encoding))
    problem = only(read_file(file).problems)
    assert problem.code == "encoding"
    assert "UTF-16" in problem.message


def test_a_wrongly_encoded_line_can_be_shown(tmp_path: Path) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes("assembly: x\ntitle: 60 °C\n".encode("cp1252"))
    assert read_file(file).lines[str(file)][1] == "title: 60 °C"


@pytest.mark.parametrize("text", ["", "\n\n", "# only a remark\n", "---\n", "\ufeff", "{}", "[]"])
def test_an_empty_file_holds_no_model(text: str) -> None:
    reading = read_text(text, "x.yaml")
    assert reading.assembly is None
    assert only(reading.problems).code == "empty-file"


@pytest.mark.parametrize("name", ["nowhere.yaml", "", "a\0b"])
def test_a_file_that_cannot_be_opened_is_told(tmp_path: Path, name: str) -> None:
    problem = only(read_file(tmp_path / name).problems)
    assert problem.code == "no-file"
    assert problem.place is None


def test_a_lone_surrogate_is_told() -> None:
    problem = only(read_text("assembly: a\ud800\n", "x.yaml").problems)
    assert problem.code == "hidden-character"


def test_a_file_full_of_unseen_characters_is_told_briefly() -> None:
    problems = read_text("\0a" * 10_000, "x.yaml").problems
    assert 1 < len(problems) < 100


def test_a_file_over_the_limit_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes(b"#" * LARGEST_FILE)
    assert len(text_of_file(file, "x.yaml")) == LARGEST_FILE
    file.write_bytes(b"#" * (LARGEST_FILE + 1))
    assert only(read_file(file).problems).code == "too-large"
    assert only(read_text("#" * (LARGEST_FILE + 1), "x.yaml").problems).code == "too-large"


@pytest.mark.parametrize("nested", ["[" * 1500, "[" * 1500 + "]" * 1500, "{a: " * 1500])
def test_deep_nesting_is_refused_before_it_is_walked(nested: str) -> None:
    problem = only(read_text(f"{GOOD}title: {nested}\n", "x.yaml").problems)
    assert problem.code == "too-deep"
    assert problem.place is not None
    assert problem.place.line == 4


def test_the_deepest_that_is_allowed_is_walked() -> None:
    inner = DEEPEST - 1
    reading = read_text(f"{GOOD}title: {'[' * inner}{']' * inner}\n", "x.yaml")
    assert [problem.code for problem in reading.problems] == ["wrong-kind"]


def test_steps_over_the_limit_are_refused() -> None:
    text = "assembly: x\nsteps:\n" + "".join(f"  s{n}: Do.\n" for n in range(MOST_STEPS + 1))
    problem = only(read_text(text, "x.yaml").problems)
    assert (problem.code, problem.place) == ("too-many", Place("x.yaml", 2, 1, 5))
    assert "20,001 steps" in problem.message


def test_values_over_the_limit_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nodes, "MOST_NODES", 20)
    reading = read_text(f"{GOOD}title: [{'a, ' * 50}]\n", "x.yaml")
    assert only(reading.problems).code == "too-many"


def test_a_bomb_of_aliases_is_refused_plainly() -> None:
    lines = ["a0: &a0 [x, x]", *(f"a{n}: &a{n} [{f'*a{n - 1}, ' * 9}]" for n in range(1, 9))]
    reading = read_text("\n".join(lines), "x.yaml")
    codes = [problem.code for problem in reading.problems]
    assert codes.count("anchor") == 9
    assert codes.count("alias") == 72


def test_a_list_that_holds_itself_is_refused_plainly() -> None:
    reading = read_text(f"{GOOD}title: &a [*a]\n", "x.yaml")
    assert [problem.code for problem in reading.problems] == ["anchor", "alias"]


def test_many_faults_are_all_told() -> None:
    text = "assembly: x\nsteps:\n" + "".join(
        f"  s{n}: {{do: Do., after: t{n}, tume: 5 min}}\n" for n in range(2000)
    )
    assert len(read_text(text, "x.yaml").problems) == 4000


@pytest.fixture
def slow_parser(monkeypatch: pytest.MonkeyPatch) -> None:
    """Read with the parser that is there where the quick one is not."""
    monkeypatch.setattr(nodes, "LOADER", yaml.SafeLoader)


@pytest.mark.usefixtures("slow_parser")
def test_the_slow_parser_reads_alike() -> None:
    reading = read_text(GOOD, "x.yaml")
    assert reading.problems == ()
    assert reading.place_of(("steps", "a")) == Place("x.yaml", 3, 6, 6)


def test_a_lost_character_in_quotes_is_only_a_warning() -> None:
    reading = read_text('assembly: x\nsteps:\n  a: "Warm to 60 \ufffdC"\n', "x.yaml")
    assert only(reading.problems).severity == "warning"
    assert reading.assembly is not None


@pytest.mark.parametrize("escape", ["\\x07", "\\0", "\\L"])
def test_an_unseen_character_written_as_an_escape_is_refused(escape: str) -> None:
    reading = read_text(f'assembly: x\nsteps:\n  a: "Do {escape} it"\n', "x.yaml")
    assert only(reading.problems).code == "hidden-character"


@pytest.mark.parametrize("loader", [nodes.LOADER, yaml.SafeLoader])
@pytest.mark.parametrize("escape", ["\\U00110000", "\\Uffffffff", "\\ud800"])
def test_an_escape_that_stands_for_nothing_is_refused(
    monkeypatch: pytest.MonkeyPatch, loader: type, escape: str
) -> None:
    monkeypatch.setattr(nodes, "LOADER", loader)
    problem = only(read_text(f'assembly: x\nsteps:\n  a: "Do {escape} it"\n', "x.yaml").problems)
    assert problem.place is not None
    assert problem.place.line == 3
