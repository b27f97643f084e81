"""`sequencer tidy`: what it prints, what it writes, and when it leaves a file alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.running import run

BROKEN = (
    "# mine\nassembly: x\nsteps:\n  a: Note: use oil  # so\n  b: {do: In, then out, note: 0012}\n"
)
TIDY = (
    '# mine\nassembly: x\nsteps:\n  a: "Note: use oil"  # so\n'
    '  b: {do: "In, then out", note: "0012"}\n'
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(folder: Path, text: str) -> Path:
    file = folder / "x.yaml"
    file.write_bytes(text.encode())
    return file


def test_a_broken_file_is_quoted_and_each_edit_told(folder: Path) -> None:
    file = write(folder, BROKEN)
    assert run("tidy", "x.yaml").stdout == (
        "x.yaml: 3 texts put in quotation marks\n"
        '  4: "Note: use oil"\n  5: "In, then out"\n  5: "0012"\n'
    )
    assert file.read_bytes() == TIDY.encode()
    assert run("tidy", "x.yaml").stdout == "x.yaml: nothing to quote\n"
    assert [left.name for left in folder.iterdir()] == ["x.yaml"]


def test_check_only_tells(folder: Path) -> None:
    file = write(folder, BROKEN)
    told = run("tidy", "--check", "x.yaml", exit_code=1).stdout
    assert told.startswith("x.yaml: 3 texts to put in quotation marks\n  4:")
    assert file.read_bytes() == BROKEN.encode()


def test_json_holds_every_edit(folder: Path) -> None:
    write(folder, BROKEN)
    changes = json.loads(run("tidy", "--json", "x.yaml").stdout)["changes"]
    assert changes[0] == {
        "line": 4,
        "column": 6,
        "before": "Note: use oil",
        "after": '"Note: use oil"',
    }


def test_what_is_left_for_a_person_is_told(folder: Path) -> None:
    write(folder, "assembly: x\nsteps:\n  a: no\n  b: {do: Go., tume: 5}\n")
    result = run("tidy", "x.yaml", exit_code=2)
    assert '3: "no"' in result.stdout
    assert "error[unknown-field]: `tume` is not a field of a step" in result.stderr


def test_the_rights_of_the_file_and_a_link_to_it_are_kept(folder: Path) -> None:
    file = write(folder, BROKEN)
    file.chmod(0o640)
    (folder / "link.yaml").symlink_to("x.yaml")
    run("tidy", "link.yaml")
    assert (folder / "link.yaml").is_symlink()
    assert file.read_bytes() == TIDY.encode()
    assert file.stat().st_mode & 0o777 == 0o640


def test_a_file_that_is_no_text_is_left_alone(folder: Path) -> None:
    file = folder / "x.yaml"
    file.write_bytes("assembly: x\ntitle: 60 °C: warm\n".encode("cp1252"))
    before = file.read_bytes()
    assert "is not UTF-8" in run("tidy", "x.yaml", exit_code=2).stderr
    assert file.read_bytes() == before
    assert "cannot be opened" in run("tidy", "y.yaml", exit_code=2).stderr


def test_a_file_that_cannot_be_written_is_told(folder: Path) -> None:
    write(folder, BROKEN)
    (folder / "x.yaml.part").mkdir()
    assert run("tidy", "x.yaml", exit_code=1).stderr.splitlines() == [
        "error[not-written]: cannot write x.yaml: Is a directory",
        "  = why: the file is as it was",
        "  = fix: check the rights of the file and of its folder",
    ]


def test_other_commands_say_what_tidy_would_do(folder: Path) -> None:
    write(folder, BROKEN)
    told = run("check", "x.yaml", exit_code=2).stderr
    assert told.endswith("\n\n`sequencer tidy x.yaml` puts one of these texts in quotation marks\n")


def test_no_choice_is_asked_for_that_no_text_depends_on(folder: Path) -> None:
    write(
        folder,
        "assembly: x\noptions: {seal: {choices: [one, two]}}\n"
        "steps:\n  a: {do: Note: use oil, when: seal == two}\n  b: {do: Turn it.}\n",
    )
    result = run("tidy", "x.yaml")
    assert result.stdout == 'x.yaml: 1 text put in quotation marks\n  4: "Note: use oil"\n'
    assert result.stderr == ""
    assert run("tidy", "x.yaml", "--set", "seal=two").stderr == ""
    assert run("tidy", "x.yaml", "--set", "seal=three", exit_code=2).stderr == (
        "error[unknown]: option `seal` has no choice `three`\n"
        "  = why: the order and the sheets would be those of something else\n"
        "  = fix: use one of `one`, `two`\n"
    )


def test_used_models_are_looked_for_and_left_as_they_are(folder: Path) -> None:
    write(
        folder,
        "assembly: x\nuses: {pump: pump.yaml}\nsteps:\n  a: {do: Note: hang it, fits: pump}\n",
    )
    pump = folder / "pump.yaml"
    pump.write_text("assembly: pump\nsteps: {turn: Turn it.}\n", encoding="utf-8")
    result = run("tidy", "x.yaml")
    assert result.stdout == 'x.yaml: 1 text put in quotation marks\n  4: "Note: hang it"\n'
    assert result.stderr == ""
    broken = "assembly: pump\nsteps:\n  turn: Note: turn it.\n"
    pump.write_text(broken, encoding="utf-8")
    result = run("tidy", "x.yaml", exit_code=2)
    assert result.stdout == "x.yaml: nothing to quote\n"
    assert result.stderr == (
        "pump.yaml:3:13: error[needs-quotes]: the text of `turn` holds a colon, which YAML takes "
        "for a field\n"
        "3 |   turn: Note: turn it.\n"
        "  |             ^\n"
        "  = why: nothing after this line could be read, so other faults may follow\n"
        '  = fix: put quotes round the text: `"Note: turn it."`\n'
    )
    assert pump.read_text(encoding="utf-8") == broken
