"""`sequencer export`: tables that a spreadsheet leaves as they are, and `import` reads again."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.fields import declared
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.planning.plan import plan
from sequencer.reading import read_file
from tests.commands.running import run

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


SOUND = [
    *(
        model
        for model in sorted((ROOT / "assemblies").glob("*.yaml"))
        if "mistakes" not in model.stem
    ),
    ROOT / "tests" / "models" / "uses" / "mill.yaml",
]


@pytest.mark.parametrize("file", SOUND, ids=lambda file: file.stem)
def test_every_demo_comes_back_as_it_went_out(folder: Path, file: Path) -> None:
    run("export", str(file), "kit", "--into", "parts.csv")
    run("export", str(file), "steps", "--into", "steps.csv")
    for table in ("parts", "steps"):
        told = run("import", "--as", table, f"{table}.csv", "--into", "again.yaml")
        assert "is left out" not in told.stderr
    demo, again = read_file(file).assembly, folder / "again.yaml"
    assert demo is not None
    on = [f"  {part.id}: {{at_start: fitted}}\n" for part in demo.parts if part.at_start]
    text = again.read_text(encoding="utf-8").replace("parts:\n", f"parts:\n{''.join(on)}")
    again.write_text(text + _named_by(demo), encoding="utf-8")
    reading = read_file(again)
    assert reading.assembly is not None, [problem.message for problem in reading.problems]
    ready = {unit.id for unit in demo.units} | {part.id for part in demo.parts if part.at_start}
    parts = {part.id: _as_in_a_table(part) for part in demo.parts if part.id not in ready}
    assert parts == {
        part.id: _as_in_a_table(part) for part in reading.assembly.parts if part.id not in ready
    }
    order = plan(demo).order
    assert order is not None
    steps = {step.id: step for step in demo.steps}
    assert [step.id for step in reading.assembly.steps] == list(order)
    for step in reading.assembly.steps:
        assert _as_in_a_table(step) == _as_in_a_table(steps[step.id])
        for fit, kept in zip(step.fits, steps[step.id].fits, strict=True):
            assert kept.count in (None, fit.count)


def _named_by(demo: Assembly) -> str:
    """Return what a table of parts or steps does not hold, and its names lead to."""
    tables = {
        "checks": "{look: It, good: so}",
        "joints": "{count: 1}",
        "surfaces": "It",
        "tools": "It",
        "compounds": "It",
        "units": "It",
        "sections": "It",
    }
    text = "".join(
        f"{table}:\n" + "".join(f"  {one.id}: {held}\n" for one in getattr(demo, table))
        for table, held in tables.items()
        if getattr(demo, table)
    )
    states = "".join(
        f"  {one.id}: {{begins: {one.begins[0].to}, ends: {one.ends[0].to}}}\n"
        for one in demo.states
    )
    return text + (f"states:\n{states}" if states else "")


def _as_in_a_table(record: Part | Step) -> dict[str, object]:
    """Return what a record says in the fields that a table has columns for."""
    left_out = {"pack", "undo", "apply", "heat", "ways_in", "time", "at_start", "instead"}
    said = {
        field.name: getattr(record, field.attribute)
        for field in declared(type(record))
        if field.name not in left_out
    }
    said["largest"] = record.largest.value.text if record.largest else ""  # and not whose it is
    if isinstance(record, Step):
        said["time"] = round(record.time.si) if record.time else None
        said["torque"] = record.torque.value.text if record.torque else ""
        said["fits"] = [(fit.part, fit.facing) for fit in record.fits]
    else:
        said["name"] = record.label
        said["mass"] = record.mass.si if record.mass else None
    return said
