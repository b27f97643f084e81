"""`sequencer log tablet` and `packet --html`: what was ticked on the page, checked like typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from sequencer.records.entries import Correct
from sequencer.records.lines import kind_of
from tests.commands.log_runs import Bench, bench_in

FILE = "pinion.tablet.jsonl"


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    made = bench_in(tmp_path, monkeypatch)
    made.run("start pinion.yaml --unit 0017 --by Ada")
    return made


def _at(minute: int) -> str:
    return f"2031-05-02T06:{minute:02}:00+02:00"


def _line(kind: str, name: str, minute: int = 0, **fields: object) -> dict[str, object]:
    return {"id": name, "at": _at(minute), "kind": kind, **fields, "by": "AB"}


def _export(bench: Bench, *lines: dict[str, object], **head: object) -> str:
    first = {"tablet": 1, "fingerprint": bench.fingerprint, "unit": "0017", **head}
    told = "".join(f"{json.dumps(line)}\n" for line in (first, *lines))
    (bench.folder / FILE).write_text(told, encoding="utf-8")
    return FILE


def _steps(*names: str) -> list[dict[str, object]]:
    return [_line("done", f"t-{name}", steps=[name]) for name in names]


def test_entries_keep_their_times_and_come_in_once(bench: Bench) -> None:
    file = _export(
        bench,
        *_steps("chock-on", "race-in", "measure"),
        _line("reading", "r1", check="depth", value="12.05 mm", round=1),
    )
    said = bench.run(f"tablet {file}").output
    assert said == (
        "depth 12.05 mm: accept (at least 12.00 mm)\n"
        f"ok: entry 5 in pinion.log.jsonl: 4 entries of {file}\n"
    )
    assert [entry.at for entry in bench.entries[1:]] == [_at(0)] * 4
    assert [entry.by for entry in bench.entries[1:]] == ["AB"] * 4
    assert [entry.sheet for entry in bench.entries[1:]] == [bench.fingerprint] * 4
    again = bench.run(f"tablet {file}").output
    assert again == f"nothing new in {file}: 4 entries are recorded already\n"
    more = _export(bench, *_steps("chock-on", "race-in", "measure", "sleeve-on"))
    assert bench.json(f"tablet {more}")["recorded"] == 1
    assert bench.json(f"tablet {more}") == {
        "ok": True, "log": "pinion.log.jsonl", "recorded": 0, "findings": [],
    }  # fmt: skip


def test_each_entry_is_checked_by_what_those_before_it_say(bench: Bench) -> None:
    file = _export(
        bench,
        *_steps("chock-on", "race-in", "measure"),
        _line("reading", "r1", check="depth", value="11.50 mm", round=1),
        *_steps("sleeve-on"),
        _line("reading", "r2", check="depth", value="12.01 mm", round=2),
        *_steps("guard-on"),
    )
    refused = bench.run(f"tablet {file}", exit_code=1)
    assert refused.stderr.count("warning[") == 2
    assert "check `depth` of step 3 (`measure`) stands at 11.50 mm" in refused.stderr
    assert len(bench.entries) == 1
    bench.run(f"tablet {file} --anyway")
    despite = {entry.id: entry.despite for entry in bench.entries if entry.despite}
    assert list(despite) == ["t-sleeve-on", "r2"]
    assert despite["r2"] == (
        "check `depth` failed with 11.50 mm (entry 5: again), and step 2 (`race-in`) was not done "
        "again since",
    )
    assert bench.json("status")["out"] == []


def test_what_the_page_objected_to_is_kept_with_the_entry(bench: Bench) -> None:
    told = {**_line("done", "t1", steps=["chock-on"]), "despite": ["still open before it: step 9"]}
    bench.run(f"tablet {_export(bench, told)}")
    assert bench.entries[-1].despite == ("still open before it: step 9",)


def test_a_correction_finds_its_entry_wherever_that_stands(bench: Bench) -> None:
    _export(bench, *_steps("chock-on"))
    bench.run(f"tablet {FILE}")
    bench.run("note meanwhile somebody typed")
    file = _export(
        bench,
        *_steps("chock-on"),
        _line("correct", "c1", corrects="t-chock-on", why="ticked by mistake"),
        _line("done", "t2", steps=["chock-on"]),
        _line("correct", "c2", corrects="t2", why="ticked by mistake"),
    )
    bench.run(f"tablet {file}")
    corrections = [one.what for one in bench.entries if isinstance(one.what, Correct)]
    numbers = {entry.id: entry.number for entry in bench.entries}
    assert [one.corrects for one in corrections] == [numbers["t-chock-on"], numbers["t2"]]
    assert bench.json("status")["done"] == []


def test_a_correction_of_what_nobody_knows_stops_all(bench: Bench) -> None:
    file = _export(bench, *_steps("chock-on"), _line("correct", "c1", corrects="gone", why="x"))
    refused = bench.run(f"tablet {file}", exit_code=2)
    assert refused.stderr == (
        f"error[no-export]: {file}: entry c1 corrects one that is neither in it nor in the log\n"
        "  = why: nothing of it was recorded\n"
        "  = fix: read the first export of that page into this log first\n"
    )
    assert len(bench.entries) == 1


WRONG = [
    ({"unit": "0018"}, "the export says unit 0018, and this log unit 0017"),
    ({"unit": ""}, "the export says no unit, and this log unit 0017"),
    (
        {"fingerprint": "0000·0000"},
        "the page on the tablet is of model 0000·0000, and this log follows model",
    ),
]


@pytest.mark.parametrize(("head", "said"), WRONG)
def test_an_export_of_something_else_has_to_be_confirmed(
    bench: Bench, head: dict[str, object], said: str
) -> None:
    file = _export(bench, *_steps("chock-on"), **head)
    refused = bench.run(f"tablet {file}", exit_code=1)
    assert said in refused.stderr
    assert len(bench.entries) == 1
    bench.run(f"tablet {file} --anyway")
    assert bench.json("status")["done"] == ["chock-on"]


def test_a_page_of_an_issue_that_was_replaced_is_told_with_what_to_do(bench: Bench) -> None:
    old = bench.fingerprint
    file = _export(bench, *_steps("chock-on"))
    model = (bench.folder / "pinion.yaml").read_text(encoding="utf-8")
    changed = model.replace("issue: B", "issue: C") + "scope: Changed.\n"
    (bench.folder / "pinion.yaml").write_text(changed, encoding="utf-8")
    bench.run("issue pinion.yaml --by Ada --anyway")
    refused = bench.run(f"tablet {file}", exit_code=1)
    assert refused.stderr == (
        f"warning[wrong-sheet]: the page on the tablet is of model {old}, which is issue B, "
        "replaced since by issue C\n"
        "  = why: its steps may be numbered otherwise, and its figures may differ\n"
        "  = fix: make the page of this model: `sequencer packet --html`; go on there\n"
        "record it all the same? [y/N]: \n"
        "not recorded (--anyway records it without asking)\n"
    )
    assert len(bench.entries) == 2
    bench.run(f"tablet {file} --anyway")
    assert (bench.entries[-1].sheet, len(bench.entries[-1].despite)) == (old, 1)


def test_a_step_left_out_on_the_page_holds_up_nothing_after_it(bench: Bench) -> None:
    skipped = _line("skip", "s1", step="race-in", allowed_by="C. Dee")
    file = _export(bench, *_steps("chock-on"), skipped, *_steps("measure"))
    refused = bench.run(f"tablet {file}", exit_code=1)
    assert refused.stderr == (
        "warning[left-out]: step 2 (`race-in`) fits `race`: the unit will be without\n"
        "  = why: other steps count on it\n"
        "  = fix: make sure that whoever allows it knows that\n"
        "record it all the same? [y/N]: \n"
        "not recorded (--anyway records it without asking)\n"
    )
    bench.run(f"tablet {file} --anyway")
    assert bench.json("status")["done"] == ["chock-on", "measure"]


def test_a_tablet_whose_clock_is_ahead_is_told(bench: Bench) -> None:
    file = _export(bench, _line("done", "t1", 59, steps=["chock-on"]))
    refused = bench.run(f"tablet {file}", exit_code=1)
    assert "2031-05-02 06:59 on the tablet is still to come here" in refused.stderr


KINDS = "undone part-done torque fitted sign reading accept spoiled short arrived skip note note"


def test_every_kind_that_a_page_records_comes_in(bench: Bench) -> None:
    steps = "chock-on race-in sleeve-on guard-on seal-on guard-off nut-on cover-on cover-tight"
    file = _export(
        bench,
        *_steps(*steps.split()),
        _line("undone", "u1", steps=["cover-tight"]),
        _line("part-done", "p1", step="cover-tight", count=10, of=3, **{"pass": 1}),
        _line("torque", "q1", joint="cover-screws", value="25 N·m", wrench="W-1"),
        _line("fitted", "f1", part="race", serial="S-1"),
        _line("sign", "s1", role="inspector", step="nut-on"),
        _line("reading", "r1", check="depth", value="11.50 mm"),
        _line("accept", "a1", check="depth"),
        _line("spoiled", "p2", part="race", step="race-in"),
        _line("short", "p3", part="seal"),
        _line("arrived", "p4", part="seal"),
        _line("skip", "k1", step="seal-on", allowed_by="C. Dee"),
        _line("note", "n1", text="Tea.", step="nut-on"),
        _line("note", "n2", text="Of a step that nobody knows.", step="dance"),
    )
    said = bench.run(f"tablet {file} --anyway").output
    assert "cover-screws 25 N·m: above the figure (20 to 24 N·m): out of limit" in said
    assert "the model has no step `dance`" in said
    assert [kind_of(entry) for entry in bench.entries[10:]] == KINDS.split()


def test_a_torn_export_is_refused_with_its_line(bench: Bench) -> None:
    file = _export(bench, *_steps("chock-on"))
    whole = (bench.folder / file).read_bytes()
    (bench.folder / file).write_bytes(whole[:-10])
    refused = bench.run(f"tablet {file}", exit_code=2)
    assert refused.stderr == (
        f"{file}:2:1: error[no-export]: line 2 of {file} is torn: it is no JSON object\n"
        "  = why: nothing of it was recorded\n"
        "  = fix: make the export anew on the page, and save or copy it whole\n"
    )
    missing = bench.run("tablet not-there.jsonl", exit_code=2)
    assert "cannot read not-there.jsonl: No such file or directory" in missing.stderr
