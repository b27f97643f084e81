"""Whole jobs with something that sets, waits or is left half done, from the log to the mend."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from tests.commands.jobs import MODELS, Job, job_of
from tests.sheets.pages import holds

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Begin = Callable[..., Job]


@pytest.fixture
def begin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Begin:
    """Begin a job by a model in a file or as a text, with pieces of it changed."""

    def beginning(model: str, *changes: tuple[str, str]) -> Job:
        text = model if "\n" in model else (MODELS / f"{model}.yaml").read_text(encoding="utf-8")
        job = job_of(text, tmp_path, monkeypatch, *changes)
        job.at("2031-05-02 12:00")
        return job

    return beginning


# Two case halves in paste that stays open for 15 minutes and cures in 24 hours; by its record it
# was closed after 20 minutes, or after 14. The figures are those of a case collected for this
# project.
PASTE = "cases/paste-between-the-halves"
SAID = "`paste` stays open for 15 min and was closed after 20 min, 5 min too late: "
SAID += "strip it and do it afresh"


def beaded(begin: Begin, closed: str) -> Job:
    job = begin(PASTE)
    job.log("done lower-in wipe --at 08:00", "done bead --at 08:05", "done layshaft-in --at 08:09")
    job.log("done upper-on --at 08:14", "done sort --at 08:15")
    line = f"done screws-in --at {closed}"
    if closed == "08:25":
        assert job.insist(line) == [
            "step 7 (`screws-in`) closed `paste` of step 3 (`bead`) 5 min too late: "
            "strip it and do it afresh"
        ]
    else:
        job.log(line)
    return job


def test_bead_closed_too_late_is_stripped_cleaned_and_laid_again(begin: Begin) -> None:
    job = beaded(begin, "08:25")
    told = job.revise()
    assert told["log"]["redo"] == {"bead": SAID}
    assert told["undo"] == ["screws-in", "upper-on", "bead"], "the layshaft stays where it is"
    assert told["do"] == ["wipe", "bead", "upper-on", "screws-in", "oil-in"]
    assert told["prepare"] == ["wipe", "bead"]
    assert told["minutes"] == 11 + 3 + 5 + 6 + 8
    cured = {"step": "oil-in", "after": "screws-in", "minutes": 1440, "compound": "paste"}
    assert cured in told["waits"]
    job.run("revise --into out")
    sheet = PdfReader("out/unit-change.pdf")
    text = "\n".join(page.extract_text() for page in sheet.pages)
    for words in (
        "Step 3 has to come out and go in again: Sealing paste stays open for 15 min and was "
        "closed after 20 min",
        "Step 2 has to be done afresh where it is: step 3 is to put Sealing paste on anew",
        "Clean Sealing paste off Face between the halves.",
        "Prepare again: Step 2: Wipe both faces with solvent until the cloth stays white.",
    ):
        assert holds(text, words), words


def test_bead_laid_again_is_cleaned_for_first_and_the_oil_waits_for_it(begin: Begin) -> None:
    job = beaded(begin, "08:25")
    job.log("undone screws-in upper-on bead --at 09:00")
    assert list(job.status()["again"]) == ["wipe"]
    assert job.refused("done bead --at 09:20") == [
        "step 3 (`bead`) puts `paste` on once more, and step 2 (`wipe`) was done before the first "
        "time"
    ]
    assert job.refused("done oil-in --at 09:20")[0] == (
        "`oil-in` comes after `screws-in`, which is not done"
    )
    job.log("done wipe --at 09:10", "done bead --at 09:20", "done upper-on --at 09:26")
    job.log("done screws-in --at 09:34")
    told = job.revise()
    assert (told["undo"], told["do"], told["log"]["redo"]) == ([], ["oil-in"], {})
    cures = "`paste` needs 24 h to cure after step 7 (`screws-in`)"
    assert (
        job.refused("done oil-in")[-1] == f"step 8 (`oil-in`) not before 2031-05-03 09:34: {cures}"
    )
    job.at("2031-05-03 09:40")
    job.log("done oil-in")


def test_bead_closed_within_its_time_stays(begin: Begin) -> None:
    told = beaded(begin, "08:19").revise()
    assert (told["undo"], told["do"], told["findings"]) == ([], ["oil-in"], [])


def test_opening_what_is_sealed_asks_for_a_new_bead(begin: Begin) -> None:
    """A spoiled part behind a seam: the seam is cleaned and laid again, though nobody said so."""
    job = beaded(begin, "08:19")
    job.log("spoiled layshaft")
    told = job.revise()
    assert told["undo"] == ["screws-in", "upper-on", "layshaft-in", "bead"]
    assert told["do"] == ["wipe", "bead", "layshaft-in", "upper-on", "screws-in", "oil-in"]
    assert (told["prepare"], told["renew"]) == (["wipe", "bead"], {"layshaft": 1})
    assert told["why"]["bead"]["text"] == (
        "`bead` has to be done afresh once `screws-in` is taken back"
    )


def test_sheet_typed_in_whole_says_what_it_cannot_tell(begin: Begin) -> None:
    job = begin(PASTE)
    unknown = (
        "step 3 (`bead`) and step 7 (`screws-in`) were recorded in one go, so nobody can tell "
        "whether `paste` was closed within its 15 min; by the model's times it takes 18 min"
    )
    assert job.refused("done 1-7") == [unknown]
    job.insist("done 1-7")
    assert job.status()["time_unknown"] == [unknown]
    told = job.revise()
    assert (told["undo"], [one["code"] for one in told["findings"]]) == ([], ["time-unknown"])
    told = job.revise("--redo bead")
    assert told["do"][:2] == ["wipe", "bead"]


def test_lines_typed_quicker_than_they_are_done_say_no_more_than_one(begin: Begin) -> None:
    job = begin(PASTE)
    job.log("done 1-3", "done 4-6")
    assert [one.split(", so")[0] for one in job.refused("done 7")] == [
        "step 3 (`bead`) and step 7 (`screws-in`) were recorded in one go"
    ]
    job.at("2031-05-02 12:30")
    assert job.log("done 7 --at 12:14") == "step 7 (`screws-in`) done"


def test_table_with_times_is_judged_by_them(begin: Begin) -> None:
    job = begin(PASTE)
    rows = "kind,name,value,at\n" + "".join(
        f"done,{step},x,{at}\n" for step, at in ((1, ""), (2, ""), (3, "08:05"), (4, "08:09"))
    )
    (job.folder / "a.csv").write_text(rows, encoding="utf-8")
    job.log("csv a.csv")
    rows += "done,5,x,08:14\ndone,6,x,08:14\ndone,7,x,08:19\n"
    (job.folder / "a.csv").write_text(rows, encoding="utf-8")
    job.log("csv a.csv")
    assert job.revise()["undo"] == []


# Ten bolts in passes, the figures from a case collected for this project: 29 N·m, 69 N·m, twice
# 180° back, 42 N·m, then 80 to 90° and twice 40 to 45°.
def test_broken_pass_begins_again_at_its_first_bolt(begin: Begin) -> None:
    job = begin("fastening/head-in-passes")
    left = "step 1 (`head`) left in pass 2 of 8 after 6 of 10 fasteners: begin pass 2 again "
    left += "at the first fastener, 1"
    assert job.log("part-done head --pass 2 --count 6") == left
    told = job.revise()
    assert (told["undo"], told["do"]) == ([], ["head"])
    assert told["log"]["begun"] == {"head": left.partition(") ")[2]}
    assert job.status()["rest_point"] is False
    job.log("part-done head --pass 2 --count 10", "part-done head --pass 3 --count 10")
    job.log("part-done head --pass 4 --count 10", "part-done head --pass 5 --count 9")
    assert job.refused("part-done head --pass 6 --count 1") == [
        "pass 6 (80 to 90°) turns by an angle, and only 9 of 10 fasteners have had pass 5 (42 N·m)"
    ]
    job.log("part-done head --pass 5 --count 10", "part-done head --pass 6 --count 1")


def test_pipe_waits_for_the_passes_and_comes_off_again_where_it_did_not(begin: Begin) -> None:
    job = begin("cases/head-in-passes")
    job.log("done gasket-on head-on pass-1", "part-done pass-2 --pass 1 --count 6")
    assert job.refused("done pipe-on") == [
        "`pipe-on` comes after `pass-3`, which is not done",
        "`pipe-on` stands in between `pass-1`, `pass-2` and `pass-3`, which go in together",
    ]
    told = job.revise()
    assert (told["undo"], told["do"]) == ([], ["pass-2", "pass-3", "pipe-on"])
    job.insist("done pipe-on")
    told = job.revise()
    assert (told["undo"], told["do"]) == (["pipe-on"], ["pass-2", "pass-3", "pipe-on"])


COVER = """\
assembly: cover
title: Cover of a mixer
parts: {cover: Cover, plate: Plate}
joints:
  screws: {name: Screws, thread: M8, count: 10, torque: 24 N·m, passes: [8 N·m, 16 N·m, 24 N·m]}
steps:
  cover-on: {do: Set the cover on., fits: cover, leaves: loose}
  cover-tight: {do: Tighten the screws crosswise., tighten: screws, secures: cover-on}
  plate-on: {do: Fit the plate., fits: plate, after: cover-tight}
"""


def test_shift_that_takes_over_in_pass_two_of_three_begins_it_again(begin: Begin) -> None:
    job = begin(COVER)
    job.log("done cover-on --by Ada", "part-done 2 --pass 2 --count 6 --by Ada")
    job.run("log stop --by Ada")
    sheet = PdfReader("out/unit-handover.pdf").pages[0].extract_text()
    left = "eft in pass 2 of 3 after 6 of 10 fasteners: begin pass 2 again at the first fastener"
    for words in ("NO REST POINT", left, "Set the cover on.", "Tighten the screws crosswise."):
        assert holds(sheet, words), words
    assert left in job.run("log status").stdout
    told = job.revise()
    assert (told["undo"], told["do"]) == ([], ["cover-tight", "plate-on"])
    assert job.refused("part-done 2 --pass 4 --count 1 --by Bo")[0] == "there is no pass 4 of 3"
    job.log("done cover-tight --by Bo")
    assert (job.status()["part_done"], job.status()["rest_point"]) == ({}, True)
    assert job.revise()["do"] == ["plate-on"]


def test_part_that_is_not_there_holds_up_its_step_alone_and_goes_in_by_the_cheaper_way(
    begin: Begin,
) -> None:
    job = begin("cases/strainer-on-order")
    job.log("short strainer --until 2031-05-12", "done rotor-in")
    assert job.refused("done strainer-in") == [
        "step 2 (`strainer-in`) fits Suction strainer, which is awaited until 2031-05-12"
    ]
    told = job.revise()
    assert told["log"]["awaited"] == {"strainer": "2031-05-12"}
    job.log("done foot-on")
    assert job.refused("done lid-on") == [
        "`lid-on` would leave no way for `strainer-in`, which is not done yet"
    ]
    job.insist("done lid-on gauge-on")
    job.log("arrived strainer")
    told = job.revise()
    assert told["undo"] == ["gauge-on", "lid-on"], "20 min, where the foot plate is 24"
    assert told["do"] == ["strainer-in", "lid-on", "gauge-on"]
    assert told["minutes"] == 20
