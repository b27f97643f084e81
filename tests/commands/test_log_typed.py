"""A ticked sheet typed in line by line, and a table filled in from paper."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pytest

from sequencer.commands.log_csv import COLUMNS
from sequencer.records.entries import Done, Reading, Sign, Torque
from tests.commands.log_runs import SHEET, Bench, bench_in

GOLDEN = Path(__file__).resolve().parent.parent / "golden" / "log"


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    bench = bench_in(tmp_path, monkeypatch)
    bench.run("start pinion.yaml --unit 0017 --by Ada")
    return bench


def test_a_sheet_is_typed_in_with_the_readings_that_its_cards_ask_for(
    bench: Bench, golden: Callable[[Path, str], None]
) -> None:
    typed = (
        "Ada\n1234.abcd\nn\nnone\n1-3\n12.04\n?\n4-8\n2.1\nJo\n12\nn\n9-10\n\ncover-screws=22\n"
        "drag=\n\n"
    )
    result = bench.run("type", typed=typed)
    asked = f"{result.stderr}\n--- and on stdout ---\n{result.stdout}"
    golden(GOLDEN / "typed.expected", asked.replace(bench.fingerprint, "7f3a·c91e"))
    whats = [entry.what for entry in bench.entries[1:]]
    assert whats == [
        Done(steps=("chock-on", "race-in", "measure")),
        Reading(check="depth", value="12.04 mm"),
        Done(steps=("sleeve-on", "guard-on", "seal-on", "guard-off", "nut-on")),
        Reading(check="drag", value="2.1 N·m"),
        Sign(role="inspector", step="nut-on"),
        Done(steps=("cover-on", "cover-tight")),
        Torque(joint="cover-screws", value="22 N·m"),
    ]
    assert {entry.by for entry in bench.entries[2:6]} == {"Ada", "Jo"}


def test_a_blank_filled_in_wrongly_is_asked_once_more(bench: Bench) -> None:
    typed = "1-3\nabout twelve\nn\n?\ndrag=2.0\ndepth = 12.1\n\n"
    result = bench.run(f"type --by Ada {SHEET}", typed=typed)
    assert result.stderr.count("step 3, depth (at least 12.00 mm): ") == 4
    assert result.stdout.count("Enter leaves a blank open.") == 1, "at the blank"
    assert [entry.what for entry in bench.entries[2:]] == [
        Reading(check="drag", value="2.0 N·m"),
        Reading(check="depth", value="12.1 mm"),
    ]


def test_a_line_that_names_nothing_is_told_and_no_more(bench: Bench) -> None:
    result = bench.run(f"type --by Ada {SHEET}", typed=",\n1\n\n")
    assert "no step is named: write its printed number, or its id\n" in result.stderr
    assert [entry.what for entry in bench.entries[1:]] == [Done(steps=("chock-on",))]


def test_the_end_of_what_is_typed_ends_it(bench: Bench) -> None:
    assert "1 entry recorded" in bench.run(f"type --by Ada {SHEET}", typed="1\n").stdout
    assert len(bench.entries) == 2


def filled(bench: Bench, values: dict[tuple[str, str], str], by: str = "") -> None:
    """Fill in the blank table: a value for each kind and name."""
    bench.run("csv sheet.csv --blank")
    table = Path("sheet.csv")
    rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8-sig"), newline="")))
    for row in rows:
        row["value"] = values.get((row["kind"], row["name"]), "")
        row["by"] = by if row["value"] else ""
    made = io.StringIO(newline="")
    writer = csv.DictWriter(made, COLUMNS)
    writer.writeheader()
    writer.writerows(rows)
    table.write_text(made.getvalue(), encoding="utf-8-sig", newline="")


def test_the_blank_table_has_a_row_for_every_tick_and_blank(
    bench: Bench, golden: Callable[[Path, str], None]
) -> None:
    told = bench.run("csv sheet.csv --blank").stdout
    assert told == "sheet.csv: 17 rows to fill in; then `sequencer log csv sheet.csv`\n"
    golden(GOLDEN / "blank.csv", Path("sheet.csv").read_text(encoding="utf-8"))
    again = bench.run("csv sheet.csv --blank", exit_code=2).stderr
    assert "cannot write sheet.csv: File exists" in again


def test_a_table_filled_in_is_recorded_once(bench: Bench) -> None:
    first = {
        ("done", "chock-on"): "x",
        ("done", "race-in"): "X",
        ("done", "measure"): "yes",
        ("reading", "depth"): "12.04",
    }
    filled(bench, first, by="Ada")
    told = bench.run(f"csv sheet.csv {SHEET}").stdout
    assert told == (
        "depth 12.04 mm: accept (at least 12.00 mm)\n"
        "ok: entry 5 in pinion.log.jsonl: 4 rows of sheet.csv\n"
    )
    assert [entry.what for entry in bench.entries[1:]] == [
        Done(steps=("chock-on",)),
        Done(steps=("race-in",)),
        Done(steps=("measure",)),
        Reading(check="depth", value="12.04 mm"),
    ]
    assert {entry.by for entry in bench.entries} == {"Ada"}
    nothing = bench.run("csv sheet.csv").stdout
    assert nothing == "nothing new in sheet.csv: 4 rows are recorded already\n"
    assert len(bench.entries) == 5
    Path("sheet.csv").write_text(
        Path("sheet.csv").read_text(encoding="utf-8-sig") + "done,sleeve-on,,,,x,,,,,\r\n",
        encoding="utf-8",
        newline="",
    )
    told = bench.run("csv sheet.csv").stdout
    assert told == "ok: entry 6 in pinion.log.jsonl: 1 row of sheet.csv, 4 recorded before\n"


def test_the_blank_table_has_what_is_missing_of_steps_that_are_done(bench: Bench) -> None:
    def missing(made: str) -> list[tuple[str, str]]:
        bench.run(f"csv {made} --blank")
        rows = csv.DictReader(io.StringIO(Path(made).read_text(encoding="utf-8-sig"), newline=""))
        return [(row["kind"], row["name"]) for row in rows if int(row["step"]) <= 8]

    bench.run(f"done 1-3 {SHEET}")
    bench.run("reading depth=12.1")
    bench.run("done 4-8")
    assert missing("a.csv") == [("reading", "drag"), ("sign", "inspector")]
    bench.run("reading drag=2.0")
    bench.run("sign inspector --by Jo")
    assert missing("b.csv") == []


def test_a_table_out_of_turn_is_told_once_for_all(bench: Bench) -> None:
    filled(bench, {("done", "nut-on"): "x", ("reading", "drag"): "2"})
    refused = bench.run(f"csv sheet.csv {SHEET}", exit_code=1)
    assert "`nut-on` comes after `guard-off`, which is not done" in refused.stderr
    assert len(bench.entries) == 1
    bench.run(f"csv sheet.csv {SHEET} --anyway")
    assert len(bench.entries) == 3


@pytest.mark.parametrize("mark", [";", "\t"])
def test_other_marks_between_columns_are_understood(bench: Bench, mark: str) -> None:
    rows = ["kind,name,value,at", "done,chock-on,x,05:30", "reading,depth,12.04 mm,", "done,2,,"]
    Path("a.csv").write_text("\n".join(rows).replace(",", mark), encoding="utf-8")
    bench.run(f"csv a.csv {SHEET}")
    assert [entry.at for entry in bench.entries[1:]] == ["2031-05-02T05:30:00+02:00", ""]


def test_rows_that_cannot_be_read_are_all_told_and_nothing_is_recorded(bench: Bench) -> None:
    rows = (
        "kind,name,value,at,round\n"
        "done,chock-on,x,,\n"
        "done,race-in,perhaps,,\n"
        "painted,lid,x,,\n"
        "reading,depth,12,,first\n"
        "done,2,x,noon,\n"
    )
    Path("a.csv").write_text(rows, encoding="utf-8")
    assert bench.run("csv a.csv", exit_code=2).stderr == (
        "a.csv:3:1: error[bad-row]: `perhaps` is no tick: write x where the step is done\n"
        "  = why: nothing of the table was recorded\n"
        "\n"
        "a.csv:4:1: error[bad-row]: `painted` is no kind of row: write one of done, reading, "
        "torque, sign, fitted\n"
        "  = why: nothing of the table was recorded\n"
        "\n"
        "a.csv:5:1: error[bad-row]: `first` is no round: write 1, 2 and so on\n"
        "  = why: nothing of the table was recorded\n"
        "\n"
        "a.csv:6:1: error[bad-row]: 'noon' is no time: write 14:05, or 2031-05-02 14:05\n"
        "  = why: nothing of the table was recorded\n"
    )
    assert len(bench.entries) == 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"step,tick\n1,x\n", "the first row of a.csv lacks kind, name, value"),
        (b"kind,name,value\ndone,\xff,x\n", "a.csv is no UTF-8 text: save it as CSV in UTF-8"),
        (b"", "the first row of a.csv lacks kind, name, value"),
    ],
)
def test_a_file_that_is_no_such_table_is_refused(bench: Bench, data: bytes, words: str) -> None:
    Path("a.csv").write_bytes(data)
    assert words in " ".join(bench.run("csv a.csv", exit_code=2).stderr.split())
    assert "cannot read b.csv" in bench.run("csv b.csv", exit_code=2).stderr
