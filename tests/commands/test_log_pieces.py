"""Matched pieces and serial numbers at the bench: what is asked, told and kept in the record."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import plan
from sequencer.sheets.as_built import as_built_view
from sequencer.sheets.job import job_of
from tests.commands.log_runs import bench_in
from tests.reading.models import model
from tests.records.making import state

if TYPE_CHECKING:
    from pathlib import Path

    from tests.commands.log_runs import Bench

UNIT = """\
assembly: unit
parts:
  rod: {name: Rod, quantity: 8, matched: rods}
  cap: {name: Rod cap, quantity: 8, matched: rods}
  pump: {name: Pump, serial: record}
steps:
  rods-in: {do: Lower the rods in., fits: rod}
  caps-on: {do: Fit each cap on its rod., fits: cap, after: rods-in}
  pump-on: {do: Bolt the pump on., fits: pump, after: caps-on}
"""


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    made = bench_in(tmp_path, monkeypatch)
    (tmp_path / "pinion.yaml").write_text(UNIT, encoding="utf-8")
    made.run("start pinion.yaml")
    return made


def test_cap_3_on_rod_5_is_told_and_stays_told(bench: Bench) -> None:
    """Case A20 of the collection of open cases."""
    crossed = "`cap` of the matched set rods is crossed: mark 3 on `rod` of mark 5"
    bench.run("done rods-in --sheet none")
    assert bench.run("fitted cap --mark 3 --with 5", exit_code=1).stderr == (
        f"error[crossed]: {crossed}\n"
        "  = why: what ran in with one piece binds or leaks on another\n"
        "  = fix: read both marks again; if they do differ, take it off and put each with its own\n"
        "record it all the same? [y/N]: \n"
        "not recorded (--anyway records it without asking)\n"
    )
    assert bench.run("fitted cap --mark 3 --with 3").stdout == (
        "ok: entry 3 in pinion.log.jsonl: cap: mark 3, on mark 3\n"
    )
    bench.run("fitted cap --mark 4 --with 5 --anyway")
    assert (
        "crossed: `cap` of the matched set rods is crossed: mark 4 on `rod` of mark 5 (entry 4)"
        in (bench.run("status").stdout.splitlines())
    )


def test_a_serial_number_is_asked_for_until_it_is_recorded(bench: Bench) -> None:
    assert bench.run("done 1-3 --sheet none").stdout == (
        "ok: entry 2 in pinion.log.jsonl: steps 1 to 3 done; still to be recorded: "
        "fitted pump --serial …\n"
    )
    assert bench.json("status")["serials_missing"] == {"pump": 1}
    typed = bench.run("type", typed="Ada\n3\ny\nP 441\n\n")
    assert "step 3, pump: serial no.: " in typed.stderr
    assert "ok: entry 4 in pinion.log.jsonl: pump: serial P 441\n" in typed.stdout
    assert bench.json("status")["serials_missing"] == {}


def test_the_blank_table_has_a_row_for_a_serial_number(bench: Bench) -> None:
    bench.run("csv blank.csv --blank")
    table = bench.folder / "blank.csv"
    (row,) = [one for one in table.read_text("utf-8-sig").splitlines() if "fitted" in one]
    assert row == "fitted,pump,3,Pump,serial no.,,,,,,"


def test_the_as_built_record_says_which_serial_number_it_lacks() -> None:
    unit = model(UNIT)
    job = job_of(unit, plan(unit), fingerprint="f", sheets=())
    view = as_built_view(job, state(unit, "rods-in caps-on pump-on"))
    (line,) = view.runs[0].rows[2].lines
    assert (line.label, line.asked, line.found, line.is_open) == (
        "Pump",
        "serial no.",
        "not recorded",
        True,
    )
