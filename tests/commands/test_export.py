"""`sequencer export`: tables that a spreadsheet leaves as they are, and `import` reads again."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sequencer.commands import main
from sequencer.reading import read_file

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "assemblies" / "hoist-head.yaml"
MODEL = """\
assembly: x
parts:
  "0010": {name: =Arm, number: 12E4, quantity: 2, price: 2.5}
  1-2: {name: "-lower, left"}
steps:
  s: {do: "@ the bench: fit it.", fits: ["0010", 1-2]}
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "x.yaml").write_text(MODEL, encoding="utf-8")
    return tmp_path


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exit_code == exit_code, result.output
    return result


def test_what_a_spreadsheet_would_change_is_guarded() -> None:
    assert run("export", "x.yaml", "kit").stdout == (
        "id,number,name,quantity,spare,mass,price,renew,once,aid,matched,serial,bag,on_hand,bought_as,in_steps\n"
        "'0010,'12E4,'=Arm,2,0,,2.5,,,,,,,,,1\n"
        "'1-2,,\"'-lower, left\",1,0,,,,,,,,,,,1\n"
    )
    assert "'@ the bench: fit it." in run("export", "x.yaml", "steps").stdout


def test_separator_and_decimal_mark_may_be_chosen() -> None:
    told = run("export", "x.yaml", "kit", "--separator", "semicolon", "--decimal", ",").stdout
    assert told.splitlines()[1] == "'0010;'12E4;'=Arm;2;0;;2,5;;;;;;;;;1"


def test_a_file_begins_with_the_mark_of_its_encoding(folder: Path) -> None:
    assert run("export", "x.yaml", "kit", "--into", "kit.csv").stdout == "kit.csv: 2 rows\n"
    assert (folder / "kit.csv").read_bytes().startswith(b"\xef\xbb\xbfid,")


def test_a_model_with_errors_has_no_table(folder: Path) -> None:
    (folder / "x.yaml").write_text(
        "assembly: x\nsteps:\n  a: {do: A., after: b}\n  b: {do: B., after: a}\n", encoding="utf-8"
    )
    result = run("export", "x.yaml", "steps", "--into", "steps.csv", exit_code=1)
    assert result.stdout == "no table: x.yaml has errors, see `sequencer check x.yaml`\n"
    assert "error[circle]" in result.stderr
    assert not (folder / "steps.csv").exists()


def test_a_file_that_cannot_be_written_is_told(folder: Path) -> None:
    (folder / "file").write_text("", encoding="utf-8")
    told = run("export", "x.yaml", "kit", "--into", "file/kit.csv", exit_code=1).stderr
    assert told.startswith("error[not-written]: cannot write file/kit.csv: ")


def test_the_demo_comes_back_as_it_went_out(folder: Path) -> None:
    for table in ("kit", "steps"):
        run("export", str(DEMO), table, "--into", f"{table}.csv")
    run("import", "--as", "parts", "kit.csv", "--into", "again.yaml")
    run("import", "--as", "steps", "steps.csv", "--into", "again.yaml")
    demo, again = read_file(DEMO).assembly, folder / "again.yaml"
    text = again.read_text(encoding="utf-8").replace("assembly: again\n", "assembly: again\n")
    checks = {check.id for check in demo.checks} if demo else set()
    assert demo is not None
    assert checks
    parts = {part.id: replace(part, at_start="", largest=None, inspect=()) for part in demo.parts}
    steps = {step.id: step for step in demo.steps}
    text += "joints:\n" + "".join(f"  {joint.id}: {{count: 1}}\n" for joint in demo.joints)
    text += "checks:\n" + "".join(f"  {name}: {{look: It, good: so}}\n" for name in checks)
    again.write_text(text, encoding="utf-8")
    reading = read_file(again)
    assert reading.assembly is not None, [problem.message for problem in reading.problems]
    for part in reading.assembly.parts:
        assert replace(part, largest=None) == parts[part.id]
    for step in reading.assembly.steps:
        kept = steps[step.id]
        assert (step.do, step.section, step.caution, step.hold) == (
            kept.do,
            kept.section,
            kept.caution,
            kept.hold,
        )
        assert [fit.part for fit in step.fits] == [fit.part for fit in kept.fits]
        assert [link.to for link in step.after] == [link.to for link in kept.after]
        assert [link.to for link in step.tighten] == [link.to for link in kept.tighten]
