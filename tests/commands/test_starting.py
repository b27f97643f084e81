"""Starting out: `new` and `import`, what they write, and what they leave alone."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
from click.testing import CliRunner

from sequencer.commands import main
from sequencer.commands.schema import schema_text
from sequencer.planning.plan import check
from sequencer.reading import read_file
from tests.commands.running import run

PARTS = "id;name;qty\n0010;Arm;1\n0020;Cap screw;4\n"
STEPS = "id,do,fits\narm-on,Fit the arm.,0010\nscrews-in,Drive the screws home.,0020\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "parts.csv").write_text(PARTS, encoding="utf-8")
    (tmp_path / "steps.csv").write_text(STEPS, encoding="utf-8")
    return tmp_path


def test_a_new_model_checks_clean_and_says_what_is_next(folder: Path) -> None:
    assert run("new", "pump").stdout == (
        "pump.yaml: a small model, to put your own parts and steps in the place of its own\n"
        "assembly.schema.json: the format, for editors that offer the fields of a model\n"
        "\n"
        "next:\n"
        "  sequencer check pump.yaml                    is it sound, and does any order work?\n"
        "  sequencer plan pump.yaml                     "
        "the order, and the last chance for every part\n"
        "  sequencer packet pump.yaml                   the paper for the bench, as a PDF\n"
        "  sequencer import parts.csv --into pump.yaml  parts or steps from a table\n"
    )
    reading = read_file(folder / "pump.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None
    assert reading.assembly.assembly == "pump"
    assert check(reading.assembly) == ()
    assert (folder / "assembly.schema.json").read_text(encoding="utf-8") == schema_text()
    assert run("tidy", "--check", "pump.yaml").stdout == "pump.yaml: nothing to quote\n"


def test_a_file_that_is_there_is_never_overwritten(folder: Path) -> None:
    (folder / "pump.yaml").write_text("mine", encoding="utf-8")
    assert run("new", "pump.yaml", exit_code=1).stderr.splitlines() == [
        "error[exists]: `pump.yaml` is there already",
        "  = why: nothing was written, so nothing of it is lost",
        "  = fix: choose another name, or move that file away",
    ]
    assert (folder / "pump.yaml").read_text(encoding="utf-8") == "mine"
    assert not (folder / "assembly.schema.json").exists()


def test_the_schema_of_an_earlier_model_is_left_alone(folder: Path) -> None:
    (folder / "assembly.schema.json").write_text("mine", encoding="utf-8")
    assert "assembly.schema.json" not in run("new", "pump").stdout
    assert (folder / "assembly.schema.json").read_text(encoding="utf-8") == "mine"


def test_the_schema_can_be_printed() -> None:
    assert run("schema").stdout == schema_text()


@pytest.mark.parametrize("name", ["a b", "-x.y", "a:b", "", "."])
def test_a_name_that_no_model_can_have_is_told(folder: Path, name: str) -> None:
    before = sorted(folder.rglob("*"))
    result = CliRunner().invoke(main, ["new", "--", name])
    assert result.exit_code == 1, result.output
    assert result.stderr.startswith("error[bad-id]: ")  # and no line of a file that is not there
    assert sorted(folder.rglob("*")) == before


def test_tables_become_a_model_on_standard_output() -> None:
    assert run("import", "parts.csv", "steps.csv").stdout == (
        "# yaml-language-server: $schema=assembly.schema.json\n"
        "assembly: parts\n"
        "parts:\n"
        '  "0010": Arm\n'
        '  "0020":\n    name: Cap screw\n    quantity: 4\n'
        "steps:\n"
        '  arm-on:\n    do: Fit the arm.\n    fits: "0010"\n'
        '  screws-in:\n    do: Drive the screws home.\n    fits: "0020"\n'
    )


def test_tables_go_into_a_model_one_after_the_other(folder: Path) -> None:
    assert run("import", "parts.csv", "--into", "unit.yaml").stdout == (
        "unit.yaml: 2 parts put in\n"
        "it is no whole model yet: 1 thing to add or to mend\n"
        "\n"
        "next:\n"
        "  sequencer check unit.yaml  what is still missing, and does any order work?\n"
        "  sequencer plan unit.yaml   the order, and the last chance for every part\n"
    )
    assert run("import", "steps.csv", "--into", "unit.yaml").stdout.startswith(
        "unit.yaml: 2 steps put in\n\nnext:"
    )
    again = run("import", "parts.csv", "steps.csv", "--into", "unit.yaml")
    assert again.stdout.startswith("unit.yaml: 0 parts and 0 steps put in\n")
    assert again.stderr.count("is in the model already") == 4
    assert "the written order works" in run("check", "unit.yaml").stdout
    assert sorted(path.name for path in folder.iterdir()) == ["parts.csv", "steps.csv", "unit.yaml"]


def test_with_an_error_nothing_is_written_and_the_cell_is_shown(folder: Path) -> None:
    (folder / "parts.csv").write_text("id;name;qty\na;Arm;two\n", encoding="utf-8")
    result = run("import", "parts.csv", "--into", "unit.yaml", exit_code=1)
    assert result.stdout == ""
    assert result.stderr.splitlines() == [
        "parts.csv:2:7: error[cell]: `two` is not a whole number from 1 to 999999",
        "2 | a;Arm;two",
        "  |       ^^^",
        "  = why: it could not be counted with, nor printed",
        "  = fix: write it in digits, without a unit or separators",
    ]
    assert not (folder / "unit.yaml").exists()


def test_what_the_caller_says_goes_before_what_is_found(folder: Path) -> None:
    (folder / "list.txt").write_bytes("no\tdescription\n1\tÖse\n".encode("cp1252"))
    options = ("--as", "steps", "--separator", "tab", "--encoding", "windows-1252")
    assert "steps:\n  1: Öse\n" in run("import", "list.txt", *options).stdout
    for strange in ("dot", "a", '"', "\n", ""):
        told = run("import", "list.txt", "--separator", strange, exit_code=2).stderr
        assert "give one sign" in told
    for strange in ("morse", "rot13", "idna", "a\0b"):
        told = run("import", "list.txt", "--encoding", strange, exit_code=2).stderr
        assert "try utf-8" in told


def test_a_table_that_is_not_there_is_told() -> None:
    told = run("import", "none.csv", exit_code=1).stderr
    assert told.startswith("error[no-file]: `none.csv` cannot be opened: no such file or directory")


def test_a_model_that_cannot_be_read_is_left_as_it_is(folder: Path) -> None:
    (folder / "unit.yaml").write_text("assembly: x\nparts: {a: A}\n", encoding="utf-8")
    told = run("import", "parts.csv", "--into", "unit.yaml", exit_code=1).stderr
    assert "unit.yaml:2:1: error[layout]: `parts` is not written with each entry" in told
    assert (folder / "unit.yaml").read_text(encoding="utf-8") == "assembly: x\nparts: {a: A}\n"


def test_a_new_user_comes_to_a_printed_packet_by_what_the_program_says(folder: Path) -> None:
    said = run("new", "pump").stdout.partition("next:\n")[2]
    commands = [line.strip().partition("   ")[0] for line in said.splitlines()]
    assert [command.split()[:2] for command in commands[:3]] == [
        ["sequencer", name] for name in ("check", "plan", "packet")
    ]
    *_, printed = [run(*command.split()[1:3]).stdout for command in commands[:3]]
    pages = pypdf.PdfReader(folder / printed.strip()).pages
    text = "".join(page.extract_text() for page in pages)
    assert "Belt tensioner, new bearing" in text
    assert "2.5 N·m" in text
