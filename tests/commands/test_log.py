"""`sequencer log`: whole sessions as told, and what each command records."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sequencer.commands import main
from sequencer.commands.log_paper import spelt
from sequencer.records.entries import (
    Accept,
    Arrived,
    Correct,
    Done,
    Fitted,
    Issue,
    Note,
    PartDone,
    Reading,
    Short,
    Sign,
    Skip,
    Spoiled,
    Start,
    Stop,
    Torque,
    Undone,
)
from tests.commands.log_runs import PINION, SHEET, Bench, bench_in

GOLDEN = Path(__file__).resolve().parent.parent / "golden" / "log"


@pytest.fixture
def empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    return bench_in(tmp_path, monkeypatch)


@pytest.fixture
def bench(empty: Bench) -> Bench:
    """A bench with a log begun, and the paper named."""
    empty.run("start pinion.yaml --unit 0017 --by Ada")
    empty.run(f"done chock-on {SHEET} --by Ada")
    return empty


# Whole sessions; kept as told, so that every message is looked at.
SESSIONS = {
    "a-good-day": (
        "start pinion.yaml --unit 0017 --by Ada",
        f"done 1 2 {SHEET} --by Ada",
        "done 3",
        "reading depth=12.04",
        "fitted sleeve --number 44-01 --serial S-9",
        "done 4-7",
        "done 8",
        "reading drag='2.1 N·m' --gauge 'wrench 3'",
        "sign inspector --by Jo",
        "done 9 10",
        "torque cover-screws='22 N·m' --wrench W7",
        "done 11-12",
        "reading marks=good",
        "status",
        "next",
    ),
    "seat-again": (
        "start pinion.yaml",
        f"done 1-3 {SHEET}",
        "reading depth='11.20 mm'",
        "status",
        "next",
        "done 4",
        "undone 3 2",
        "done 2 3",
        "done 4",
        "reading depth='12.10 mm' --round 2",
        "done 4",
        "status",
    ),
    "a-sleeve-crushed-too-far": (
        "start pinion.yaml",
        f"done 1-3 {SHEET}",
        "reading depth='12.04 mm'",
        "done 4-8",
        "reading drag='3.9 N·m'",
        "sign inspector --by Jo",
        "done 9",
        "status",
        "accept drag --by Jo",
    ),
    "out-of-turn": (
        "start pinion.yaml",
        f"done 1 {SHEET}",
        "done 4",
        "done 12",
        "done 2 polish 99",
        "done 9 --anyway --by Bo",
        "status",
    ),
    "paper": (
        "start pinion.yaml",
        "done 1",
        "done 1 --sheet 1234.abcd",
        "done 1 --sheet 1234.abcd --anyway",
        "done 2",
        "done 2 --sheet none",
        "done 3",
    ),
    "parts": (
        "start pinion.yaml",
        "short seal --until 2031-05-12",
        "next",
        f"done 1-3 {SHEET}",
        "reading depth='12.04 mm'",
        "done 4-6",
        "arrived nut",
        "arrived seal",
        "fitted sleeve --number 44-02 --serial S-9",
        "fitted race --serial S-9",
        "spoiled race",
        "spoiled spring",
        "status",
    ),
    "corrections": (
        "start pinion.yaml",
        f"done 1-3 {SHEET}",
        "reading depth='1.204 mm'",
        "correct 3 --value '12.04 mm' --why 'a slip of the point'",
        "correct 2 --step measure",
        "correct 1",
        "correct 2 --value 3",
        "correct 2 --step polish",
        "correct 99",
        "correct 4 --value 3 --step 1",
        "status",
    ),
    "one-more-and-one-less": (
        "start pinion.yaml",
        f"done 1 {SHEET}",
        "done 1",
        "undone 5",
        "skip look --allowed-by Jo",
        "skip sleeve-on --allowed-by Jo",
        "sign inspector",
        "sign painter --anyway",
        "reading marks=odd",
        "reading depth=deep",
        "reading depth='12.04 mm' --round 4",
        "reading girth='3 mm'",
        "torque cover-screws='30 N·m'",
        "torque cover-screws='220 N·m'",
        "torque cover-screws='22 ft-lb'",
        "torque cover-screws='22 in-lb'",
        "torque lid=3",
        "accept marks --by Jo",
        "part-done cover-tight --pass 4 --count 12 --of 3",
        "note Lamp broken. --step measure",
        "done 2 --at 23:59",
    ),
}


@pytest.mark.parametrize("name", SESSIONS)
def test_a_session_is_told_whole(
    name: str, empty: Bench, golden: Callable[[Path, str], None]
) -> None:
    golden(GOLDEN / f"{name}.expected", empty.told(*SESSIONS[name]))


def test_a_shift_changes_in_pass_two_of_three(
    bench: Bench, golden: Callable[[Path, str], None]
) -> None:
    """The early shift leaves in pass 2 after 6 of 10 screws; the late one begins it again."""
    for line in ("done 2-3", "reading depth='12.04 mm'", "done 4-8", "reading drag='2 N·m'"):
        bench.run(line)
    bench.run("sign inspector --by Jo")
    told = bench.told(
        "done 9 --wet-until 18:30",
        "part-done cover-tight --pass 2 --count 6 --of 3 --by Ada",
        "stop --by Ada",
        "status",
        "part-done cover-tight --pass 3 --count 0 --of 3 --by Bo",
        "done cover-tight --by Bo",
        "status",
    )
    golden(GOLDEN / "a-shift-change.expected", told)
    sheet = PdfReader("out/pinion-handover.pdf").pages[0].extract_text()
    for words in (
        f"unit no. 0017 · model {bench.fingerprint} · 1 of 1",
        "NO REST POINT",
        "Left in pass 2 of 3 after 6 fasteners: begin pass 2 again at the first fastener.",
        "step 9, until 18:30",
        "Lay a sheet over the open cover.",
        "“chocked” since step 1, ends in step 12, keep the unit as it lies",
    ):
        assert "".join(words.split()) in "".join(sheet.split())


RECORDED = [
    ("done 2 3 --by Bo", Done(steps=("race-in", "measure"))),
    ("done race-in, --wet-until 18:30", Done(steps=("race-in",), wet_until="18:30")),
    ("undone chock-on", Undone(steps=("chock-on",))),
    (
        "part-done 10 --pass 2 --count 8 --of 3 --anyway",
        PartDone(step="cover-tight", pass_=2, count=8, of=3),
    ),
    ("skip 11 --allowed-by Jo", Skip(step="look", allowed_by="Jo")),
    (
        "reading depth=12.04 --round 2 --place left --gauge 'gauge 3'",
        Reading(check="depth", value="12.04 mm", round=2, place="left", gauge="gauge 3"),
    ),
    ("reading depth=12.04 mm", Reading(check="depth", value="12.04 mm")),
    (
        "torque cover-screws=22 --wrench W7 --place 3",
        Torque(joint="cover-screws", value="22 N·m", wrench="W7", place="3"),
    ),
    (
        "fitted sleeve --number 44-01 --serial S --batch B --pack 0.50+0.20",
        Fitted(part="sleeve", number="44-01", serial="S", batch="B", pack="0.50+0.20"),
    ),
    ("spoiled race --step 2", Spoiled(part="race", step="race-in")),
    ("short seal --until 2031-05-12", Short(part="seal", until="2031-05-12")),
    ("arrived seal", Arrived(part="seal")),
    ("accept depth --by Jo --anyway", Accept(check="depth")),
    ("sign inspector --step 8 --anyway", Sign(role="inspector", step="nut-on")),
    ("correct 2 --why slip", Correct(corrects=2, why="slip")),
    ("note The lamp is broken. --step 3", Note(text="The lamp is broken.", step="measure")),
    ("stop --no-sheet", Stop()),
]


@pytest.mark.parametrize(("line", "what"), RECORDED, ids=[line.split()[0] for line, _ in RECORDED])
def test_what_was_said_is_what_is_recorded(bench: Bench, line: str, what: object) -> None:
    result = bench.run(line)
    assert result.stdout.startswith("ok: entry 3 in pinion.log.jsonl: ")
    assert bench.entries[-1].what == what


def test_who_when_and_which_paper_are_recorded(bench: Bench) -> None:
    bench.run("done 2 --by Bo --at 05:10 --sheet none")
    entry = bench.entries[-1]
    assert (entry.by, entry.at, entry.sheet) == ("Bo", "2031-05-02T05:10:00+02:00", "none")
    assert entry.time == "2031-05-02T06:05:00+02:00"
    bench.run("done 3 --at '2031-05-01 22:40'")
    assert bench.entries[-1].at == "2031-05-01T22:40:00+02:00"
    assert "14:05" in bench.run("done 4 --at noon", exit_code=2).stderr


def test_the_copy_of_the_model_is_the_file_word_for_word(bench: Bench) -> None:
    start = bench.entries[0].what
    assert isinstance(start, Start)
    assert start.text == PINION
    assert start.unit == "0017"
    assert start.order[:2] == ("chock-on", "race-in")
    Path("pinion.yaml").unlink()
    assert bench.json("status")["done"] == ["chock-on"]  # the log needs nothing but itself


OPTION = """\
options: {seals: {choices: [standard, hot], default: standard}}
"""


def with_option() -> str:
    """The model with a step that is there only by choice."""
    return PINION.replace("parts:\n", OPTION + "parts:\n", 1).replace(
        "  look: {do",
        "  hot-look: {do: Look at the hot seal., after: seal-on, when: seals == hot}\n  look: {do",
    )


def test_a_build_goes_on_by_the_choices_that_it_was_begun_with(empty: Bench) -> None:
    Path("pinion.yaml").write_text(with_option(), encoding="utf-8")
    empty.run("start pinion.yaml --unit 0017 --set seals=hot")
    start = empty.entries[0].what
    assert isinstance(start, Start)
    assert start.taken == ("seals=hot",)
    assert "hot-look" in start.order
    empty.run("done chock-on --sheet none")
    status = empty.json("status")
    assert "hot-look" in status["open"]
    assert [one["code"] for one in status["findings"]] == []  # the file is no other model
    empty.run("issue pinion.yaml")
    issue = empty.entries[-1].what
    assert isinstance(issue, Issue)
    assert issue.taken == ("seals=hot",)
    found = CliRunner().invoke(main, ["revise", "pinion.yaml", "--json"])
    assert "hot-look" in json.loads(found.stdout)["do"]


def test_a_model_that_changed_meanwhile_is_told(bench: Bench) -> None:
    Path("pinion.yaml").write_text(PINION.replace("20 to 24 N·m", "25 N·m"), encoding="utf-8")
    (finding,) = bench.json("status")["findings"]
    assert finding["code"] == "model-changed"
    assert finding["severity"] == "note"
    bench.run("issue pinion.yaml")
    assert bench.json("status")["findings"] == []
    issue = bench.entries[-1].what
    assert isinstance(issue, Issue)
    assert "25 N·m" in issue.text
    told = bench.run("done 2", exit_code=1).stderr
    assert "model at the foot of the page" in told  # the new paper is asked for once


def test_an_objection_is_confirmed_by_typing_yes(bench: Bench) -> None:
    refused = bench.run("done 4", exit_code=1, typed="n\n")
    assert refused.stderr.endswith("not recorded (--anyway records it without asking)\n")
    assert len(bench.entries) == 2
    bench.run("done 4", typed="y\n")
    entry = bench.entries[-1]
    assert entry.what == Done(steps=("sleeve-on",))
    assert entry.despite == ("`sleeve-on` comes after `measure`, which is not done",)


def test_the_paper_is_asked_for_once(empty: Bench) -> None:
    fingerprint = empty.json("start pinion.yaml")["fingerprint"]
    asked = "model at the foot of the page, such as 7f3a·c91e (Enter: there is no paper)"
    assert asked in empty.run("done 1", typed=f"{fingerprint.replace('·', '.').upper()}\n").stderr
    assert empty.entries[-1].sheet == fingerprint
    assert asked not in empty.run("done 2").stderr
    assert asked not in empty.run("note Tea.").stderr


@pytest.mark.parametrize(
    "typed", ["7f3a·c91e", "7F3A.C91E", "7f3ac91e", "7f3a c91e", "model 7f3a-c91e"]
)
def test_a_fingerprint_may_be_typed_without_its_dot(typed: str) -> None:
    assert spelt(typed) in ("7f3a·c91e", typed)
    assert spelt(typed.removeprefix("model ")) == "7f3a·c91e"


def test_a_spoiled_part_names_the_steps_that_fit_it_and_no_others(bench: Bench) -> None:
    bench.run("done 2-3")
    bench.run("reading depth=11.2")
    assert list(bench.json("status")["redo"]) == ["race-in"]
    told = "ok: entry 5 in pinion.log.jsonl: seal spoiled, nothing to be redone\n"
    assert bench.run("spoiled seal").stdout == told
    told = "race spoiled, step 2 (`race-in`) to be redone: see `sequencer revise`\n"
    assert bench.run("spoiled race").stdout.endswith(told)


def test_an_entry_that_does_not_count_is_not_corrected_once_more(bench: Bench) -> None:
    bench.run("done 2-3")
    bench.run("correct 3 --step 3")
    again = bench.run("correct 3 --step 3", exit_code=2).stderr
    assert "entry 3 does not name the step `measure`" in again
    bench.run("correct 3")
    void = "entry 3 does not count any more (entry 5): to have it back, take back that"
    for line in ("correct 3", "correct 3 --step 2"):
        assert void in bench.run(line, exit_code=2).stderr
    bench.run("correct 5")
    assert bench.json("status")["done"] == ["chock-on", "race-in"]


def test_json_tells_the_same(bench: Bench) -> None:
    told = bench.json("done 2")
    assert told == {"ok": True, "log": "pinion.log.jsonl", "entry": 3, "findings": []}
    refused = bench.json("done 4", exit_code=1)
    assert (refused["ok"], refused["entry"]) == (False, None)
    assert [finding["code"] for finding in refused["findings"]] == ["not-yet"]
    judged = bench.json("reading depth=11.2")
    assert judged["verdicts"] == {"depth": "again"}
    status = bench.json("status")
    assert status["out"] == [
        {
            "check": "depth",
            "step": None,
            "value": "11.2 mm",
            "place": "",
            "verdict": "again",
            "why": "below the limit (at least 12.00 mm)",
            "follow": "do not go on: change the drift, then start again from `race-in`",
        }
    ]
    assert status["done"] == ["chock-on", "race-in"]
    assert status["redo"] == {
        "race-in": "check `depth` failed: 11.2 mm, below the limit (at least 12.00 mm)"
    }
    assert status["lasting"] == ["chocked"]
    assert status["rest_point"] is False
    assert set(status) == {
        *("ok", "log", "assembly", "issue", "fingerprint", "unit", "done", "skipped", "open"),
        *("part_done", "next", "dead_end", "waiting", "out", "unread", "half_read"),
        *("serials_missing", "crossed", "redo", "again", "time_unknown"),
        *("spoiled", "rest_point", "loose", "begun", "lasting", "aids", "strange", "findings"),
    }
    assert bench.json("next")["next"] == status["next"]


def test_the_log_is_the_only_one_in_the_folder_or_named(bench: Bench) -> None:
    shutil.copy("pinion.log.jsonl", "other.log.jsonl")
    several = bench.run("done 2", exit_code=2).stderr
    assert "name one with --log (other.log.jsonl, pinion.log.jsonl)" in several
    bench.run("done 2 --log other.log.jsonl")
    bench.run("done 2 3 --log pinion.yaml")  # the log beside that model
    assert len(bench.entries) == 3
    for path in Path().glob("*.jsonl"):
        path.unlink()
    told = "there is no log (*.log.jsonl) in this folder: name it with --log"
    begin = ", or begin one with `sequencer log start MODEL`"
    assert f"{told}{begin}" in bench.run("status", exit_code=2).stderr
    Path("shop").mkdir()
    Path("shop/a.log.jsonl").touch()
    assert f"{told} (shop/a.log.jsonl){begin}" in bench.run("status", exit_code=2).stderr


def test_a_log_is_begun_only_once_and_only_by_a_model_that_works(empty: Bench) -> None:
    empty.run("start pinion.yaml")
    again = empty.run("start pinion.yaml", exit_code=1)
    assert "error[log-exists]: there is a log at `pinion.log.jsonl` already" in again.stderr
    Path("bad.yaml").write_text(
        "assembly: x\nsteps:\n  a: {do: A., after: b}\n  b: {do: B., after: a}\n", encoding="utf-8"
    )
    refused = empty.run("start bad.yaml", exit_code=1)
    assert "no log was begun: no order works" in refused.stdout
    assert "error[circle]" in refused.stderr
    assert "error[no-file]" in empty.run("start none.yaml", exit_code=2).stderr
    assert not Path("bad.log.jsonl").exists()


def test_steps_are_numbered_as_the_packet_numbers_them(empty: Bench) -> None:
    told = empty.run("start pinion.yaml --without seal --log a.log.jsonl")
    assert "12 steps" in told.stdout
    runner = CliRunner().invoke(main, ["plan", "pinion.yaml", "--without", "seal", "--json"])
    split = json.loads(runner.stdout)
    first = json.loads(Path("a.log.jsonl").read_text(encoding="utf-8").splitlines()[0])
    assert first["order"] == [*split["now"], *split["then"]]
    empty.run("start pinion.yaml --without sael --log b.log.jsonl", exit_code=1)


def test_a_file_that_is_no_log_is_told(empty: Bench) -> None:
    Path("x.log.jsonl").write_text('{"entry": 1, "time": "", "kind": "stop"}\n', encoding="utf-8")
    told = empty.run("status --log x.log.jsonl", exit_code=2).stderr
    assert "`x.log.jsonl` holds no model: it is no log, or its beginning is lost" in told
    assert "error[no-log]" in empty.run("status --log y.log.jsonl", exit_code=2).stderr


def test_a_torn_line_is_told_and_set_aside(bench: Bench) -> None:
    with bench.log.open("ab") as log:
        log.write(b'{"entry": 3, "time": "2031')
    told = bench.run("status").stderr
    assert told.startswith(
        "warning[torn-line]: the last line of `pinion.log.jsonl` is torn, and does not count"
    )
    recorded = bench.run("done 2")
    assert "has been set aside in `pinion.log.jsonl.torn`" in recorded.stderr
    assert recorded.stdout.startswith("ok: entry 3")
    assert Path("pinion.log.jsonl.torn").read_bytes() == b'{"entry": 3, "time": "2031\n'
    assert bench.run("status").stderr == ""


def test_nothing_is_told_ok_on_a_full_disk(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int, __: bytes) -> int:
        raise OSError(28, "No space left on device")

    whole = bench.log.read_bytes()
    monkeypatch.setattr("os.write", full)
    result = CliRunner().invoke(main, ["log", "done", "2"])
    monkeypatch.undo()
    assert result.exit_code == 1
    assert result.stdout == ""
    assert result.stderr == (
        "error[not-recorded]: cannot write `pinion.log.jsonl`: No space left on device\n"
        "  = why: nothing of it was recorded; what stood in the log before is untouched\n"
        "  = fix: make room on the disk, or free the file, and give the command again\n"
    )
    assert (bench.folder / "pinion.log.jsonl").read_bytes() == whole


def test_a_sheet_that_cannot_be_printed_does_not_hide_that_work_stopped(bench: Bench) -> None:
    Path("out").write_text("a file stands in the way", encoding="utf-8")
    result = bench.run("stop --into out/sheets", exit_code=1)
    assert result.stdout == "ok: entry 3 in pinion.log.jsonl: work stops\n"
    assert "error[not-written]" in result.stderr
    assert bench.entries[-1].what == Stop()
    assert "error[not-written]" in bench.run("print --into out/sheets", exit_code=1).stderr


def test_an_issue_taken_over_by_mistake_is_taken_back(bench: Bench) -> None:
    before = bench.json("status")["fingerprint"]
    Path("pinion.yaml").write_text(PINION.replace("issue: B", "issue: C"), encoding="utf-8")
    bench.run("issue pinion.yaml")
    assert bench.json("status")["issue"] == "C"
    bench.run("correct 3")
    status = bench.json("status")
    assert (status["issue"], status["fingerprint"]) == ("B", before)


def test_the_as_built_record_is_printed(bench: Bench) -> None:
    told = bench.json("print")
    assert told["file"] == "out/pinion-as-built.pdf"
    page = PdfReader(told["file"]).pages[0].extract_text()
    assert "As built" in page
    assert f"unit no. 0017 · model {bench.fingerprint} · 1 of 1" in page


def test_every_entry_is_listed_with_its_number(bench: Bench) -> None:
    bench.run("reading depth=12.04 --by Bo")
    bench.run("correct 3 --value 12.40 --why 'read again'")
    fingerprint = bench.fingerprint
    assert bench.run("list").stdout == (
        f"   1  2031-05-02 06:01  begun by issue B, model {fingerprint}, unit 0017  (Ada)\n"
        "   2  2031-05-02 06:02  step 1 done  (Ada)\n"
        "   3  2031-05-02 06:03  check depth: 12.04 mm  (Bo)  [corrected by entry 4]\n"
        "   4  2031-05-02 06:04  entry 3 counts as 12.40 mm: read again\n"
    )


def test_text_from_a_wrong_terminal_cannot_spoil_the_log(bench: Bench) -> None:
    bench.run("note caf\udce9")
    note = bench.entries[-1].what
    assert isinstance(note, Note)
    assert note.text == "caf?"
    bench.run("status")


def test_what_is_wrongly_called_is_refused_with_what_to_write(bench: Bench) -> None:
    for line, words in (
        ("reading depth", "write the check, `=`, and what was read"),
        ("torque 22", "write the joint, `=`, and the figure"),
        ("fitted sleeve --pack thick", "write the thicknesses with + between"),
        ("accept depth", "--by is wanted"),
        ("type --json", "`type` asks and answers"),
        ("done ''", "no step is named: write its printed number, or its id"),
        ("undone ,", "no step is named"),
        ("skip ' ' --allowed-by Jo", "no step is named"),
        ("note Hello. --step ' '", "no step is named"),
    ):
        assert words in " ".join(bench.run(line, exit_code=2).stderr.split())
    assert len(bench.entries) == 2
