"""`sequencer revise`: the list of what was done, the JSON contract, and what a builder reads."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.commands.jobs import job_of
from tests.commands.running import HOIST, HUB, run, run_json
from tests.planning.test_mended_cases import HEAD
from tests.sheets.pages import holds

CASES = Path(__file__).resolve().parent.parent / "models" / "cases"
CHEST = str(CASES / "gasket-on-dry-faces.yaml")
PASTE = str(CASES / "paste-between-the-halves.yaml")
RAIL = str(CASES / "runners-in-a-rail.yaml")


def test_revise_keeps_the_contract() -> None:
    told = run_json("revise", RAIL, "--done", "rail-up,left-bracket,right-bracket")
    why = told.pop("why")
    assert told == {
        "ok": True,
        "undo": ["right-bracket"],
        "do": ["runners-in", "right-bracket"],
        "minutes": 10.0,
        "spoiled": [],
        "fasteners": [],
        "made": {"back": 5.0, "once_more": 5.0, "in_place": 0.0, "parts": 0.0, "money": 0.0},
        "in_place": [],
        "renew": {},
        "prepare": [],
        "waits": [],
        "void": [],
        "proved": True,
        "gap": 0.0,
        "others": [],
        "findings": [],
    }
    assert list(why) == ["right-bracket"]
    assert (why["right-bracket"]["file"], why["right-bracket"]["line"]) == (RAIL, 25)


def test_others_are_whole_mends_of_their_own() -> None:
    told = run_json("revise", RAIL, "--done", "rail-up,left-bracket,right-bracket", "--other", "3")
    assert [other["undo"] for other in told["others"]] == [["left-bracket"]]
    assert set(told["others"][0]) == {
        *("undo", "do", "minutes", "spoiled", "fasteners", "made", "in_place"),
        *("renew", "prepare", "waits", "void", "why"),
    }


def test_nothing_done_yet_is_a_fair_question() -> None:
    told = run_json("revise", HUB, "--done", "")
    assert (told["undo"], told["minutes"], len(told["do"])) == ([], 0, 6)
    assert "nothing has to come out" in run("revise", HUB, "--done", "").stdout


def test_ranges_count_in_the_printed_order(tmp_path: Path) -> None:
    named = run_json("revise", RAIL, "--done", "rail-up,left-bracket,right-bracket")
    assert run_json("revise", RAIL, "--done", "1-2,4") == named, "the runners are printed third"
    listed = tmp_path / "done.txt"
    listed.write_text("1–2\nright-bracket\n", encoding="utf-8")
    assert run_json("revise", RAIL, "--done", f"@{listed}") == named


@pytest.mark.parametrize("done", ["0-2", "3-1", "1-5", "1-2,left-bracket", "1,1", "@no-such-file"])
def test_wrong_list_exits_with_two(done: str) -> None:
    run("revise", RAIL, "--done", done, exit_code=2)


def test_list_of_what_was_done_has_to_be_given() -> None:
    assert "--done" in run("revise", RAIL, exit_code=2).stderr
    run("revise", RAIL, "--done", "1", "--redo", "rail-up,rail-up", exit_code=2)


def test_strange_steps_and_steps_not_done_exit_with_one() -> None:
    told = run_json("revise", RAIL, "--done", "rail-up,x", "--redo", "runners-in", exit_code=1)
    assert [finding["code"] for finding in told["findings"]] == ["unknown", "not-done"]
    assert (told["ok"], told["undo"], told["do"], told["minutes"]) == (False, [], [], None)


def test_builder_reads_what_comes_out_and_what_that_means() -> None:
    told = run("revise", CHEST, "--done", "1-4", "--redo", "gasket-laid")
    assert told.stderr == ""
    assert told.stdout == (
        """\
4 steps must come out; it costs 43 min (16 min to take out, 21 min to do again, \
6.00 EUR for parts, as 6 min)

Out, in this order:
  nuts-tight (step 4)
        why: `nuts-tight` builds on `cover`, which `cover-on` fits
  cover-on (step 3)
        why: `cover-on` builds on `gasket`, which `gasket-laid` fits
  gasket-laid (step 2)
        why: `gasket-laid` itself has to be done again
        how: Scrape what sticks to the faces off.
  faces-wiped (step 1)
        why: `faces-wiped` has to be done afresh once `gasket-laid` is taken back

Spoiled:
  1 Chest gasket, no. 12-8

Have ready new:
  1 Chest gasket, no. 12-8

To prepare again:
  faces-wiped (step 1)

Signatures that no longer hold:
  nuts-tight (step 4), by inspector

Then do, in this order:
  faces-wiped (step 1)
  gasket-laid (step 2)
  cover-on (step 3)
  nuts-tight (step 4)
and then the last step:
  lagging-on
"""
    )


def test_bolts_that_are_a_part_as_well_are_named_once(tmp_path: Path) -> None:
    parts = "parts: {bolt: {name: Head bolt, quantity: 6, once: true}}\nsteps:\n"
    model = HEAD.replace("steps:\n", parts).replace("on., after", "on., fits: bolt, after")
    path = tmp_path / "head.yaml"
    path.write_text(model, encoding="utf-8")
    call = ("revise", str(path), "--done", "1-5", "--redo", "head-on")
    told = run(*call).stdout
    assert (
        """
Spoiled:
  6 Head bolt

Have ready new:
  6 Head bolt

To prepare again:
"""
        in told
    )
    run(*call, "--into", str(tmp_path / "out"))
    reader = PdfReader(tmp_path / "out" / "head-change.pdf")
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    _, _, ready = text.partition("Renew: have ready, or buy, before you begin ")
    assert ready.startswith("6 × Head bolt Time: 15 min to take out")
    path.write_text(model.replace("quantity: 6", "quantity: 4"), encoding="utf-8")
    others = run(*call).stdout
    assert "  4 Head bolt\n  6 × M10, Head bolts; not in the cost\n" in others


def test_builder_reads_of_bolts_that_serve_once_and_of_what_has_to_set(tmp_path: Path) -> None:
    path = tmp_path / "head.yaml"
    path.write_text(HEAD, encoding="utf-8")
    call = ("revise", str(path), "--done", "1-5", "--redo", "head-on")
    assert (
        """
Spoiled:
  6 × M10, Head bolts, turned by an angle

Have ready new:
  6 × M10, Head bolts; not in the cost

To prepare again:
  paste-on (step 1)

To wait once more, not in the cost:
  12 h from head-on (step 2) to fill (step 5), for Jointing paste to set
"""
        in run(*call).stdout
    )
    told = run_json(*call)
    assert told["fasteners"] == [{"joint": "bolts", "step": "turn", "how_many": 6}]
    assert told["waits"] == [
        {"step": "fill", "after": "head-on", "minutes": 720.0, "compound": "paste"}
    ]
    cold = str(tmp_path / "cold.yaml")
    Path(cold).write_text(HEAD.replace("temperature: 20", "temperature: 5"), encoding="utf-8")
    in_the_cold = (call[0], cold, *call[2:])
    waits = """
To wait once more, not in the cost:
  30 min from head-on (step 2) to fill (step 5), for Jointing paste to set
  nobody can say how long from head-on (step 2) to fill (step 5), for Jointing paste to set: \
look it up
"""
    assert waits in run(*in_the_cold).stdout
    assert [one["minutes"] for one in run_json(*in_the_cold)["waits"]] == [30, None]
    head = HEAD.replace("head\n", "head\ntitle: Head\nissue: A\nnotice: Invented for a test.\n", 1)
    path.write_text(head, encoding="utf-8")
    run(*call, "--into", str(tmp_path / "out"))
    reader = PdfReader(tmp_path / "out" / "head-change.pdf")
    text = "\n".join(page.extract_text() for page in reader.pages)
    for words in (
        "SCRAP 6 × M10, Head bolts: not used again.",
        "Wait once more: 12 h from step 2 to step 5, for Jointing paste to set.",
        "Why: step 4 tightens Head bolts, which serve once and are spoiled when step 3 is taken",
    ):
        assert holds(text, words), words


def test_compound_opened_again_is_cleaned_off_and_laid_anew_without_a_log_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The paste that `screws-in` closes is the author's to lay and ours to think of."""
    done = ["lower-in", "wipe", "bead", "layshaft-in", "upper-on", "sort", "screws-in"]
    told = run_json("revise", PASTE, "--done", ",".join(done), "--redo", "layshaft-in")
    assert told["undo"] == ["screws-in", "upper-on", "layshaft-in", "bead"]
    assert told["do"] == ["wipe", "bead", "layshaft-in", "upper-on", "screws-in", "oil-in"]
    assert (told["in_place"], told["prepare"]) == (["wipe"], ["wipe", "bead"])
    laid_not_closed = ("--done", ",".join(done[:-1]), "--redo", "layshaft-in")
    assert run_json("revise", PASTE, *laid_not_closed)["undo"] == ["upper-on", "layshaft-in"]

    begun = job_of(Path(PASTE).read_text(encoding="utf-8"), tmp_path, monkeypatch)
    begun.at("2031-05-02 12:00")
    times = ("07:50", "08:00", "08:05", "08:09", "08:14", "08:15", "08:19")
    begun.log(*(f"done {step} --at {at}" for step, at in zip(done, times, strict=True)))
    by_log = begun.revise("--redo layshaft-in")
    assert (by_log["undo"], by_log["do"]) == (told["undo"], told["do"])
    assert by_log["prepare"] == told["prepare"]


def test_builder_reads_why_a_cleaning_is_done_afresh() -> None:
    done = ("--done", "lower-in,wipe,bead", "--redo", "bead")
    assert (
        """
To prepare again:
  wipe (step 2): `bead` is to put `paste` on anew: what is left of it comes off
"""
        in run("revise", PASTE, *done).stdout
    )


def test_builder_reads_the_next_best_and_what_was_forgotten() -> None:
    told = run("revise", RAIL, "--done", "1,2,4", "--other", "1").stdout
    assert told.endswith(
        """\
Then do, in this order:
  runners-in (step 3), not done yet
  right-bracket (step 4)

Next best, 2nd:
1 step must come out; it costs 10 min (5 min to take out, 5 min to do again)

Out, in this order:
  left-bracket (step 2)
        why: `left-bracket` fits `bracket-l`, which shuts “left end”, a way in of `runners-in`

Then do, in this order:
  runners-in (step 3), not done yet
  left-bracket (step 2)
"""
    )


def test_point_of_no_return_is_told_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "unit.yaml"
    path.write_text(
        "assembly: tank\n"
        "steps:\n"
        "  baffle-in: {do: Set the baffle., fits: baffle}\n"
        "  lid-on:\n"
        "    do: Solder the lid.\n"
        "    after: baffle-in\n"
        "    undo: {never: The solder runs into the tank}\n",
        encoding="utf-8",
    )
    told = run("revise", str(path), "--done", "lid-on", exit_code=1)
    assert told.stdout == "nothing mends this\n"
    assert "error[no-return]: `lid-on` would have to come out, and cannot be undone" in told.stderr
    assert "`lid-on` is marked: The solder runs into the tank" in told.stderr
    facts = run_json("revise", str(path), "--done", "lid-on", exit_code=1)["findings"][0]["facts"]
    assert [fact["line"] for fact in facts] == [6, 7]


def test_plan_says_what_forgetting_costs_only_when_asked() -> None:
    assert "forget_minutes" not in run_json("plan", HOIST)["steps"]["wipe"]
    steps = run_json("plan", HOIST, "--forget")["steps"]
    assert steps["drip-look"]["forget_minutes"] == 0
    assert steps["magnet-in"]["forget_minutes"] > 60
    told = run("plan", RAIL, "--forget").stdout
    assert "            last chance for runners-in (3)" in told, "10 min are not worth a STOP"
    assert "STOP" not in told
    assert "forgotten, and found at the end: 10 min" in told
    assert "STOP  last chance for runners-in (3)" in run("plan", RAIL).stdout
    run("plan", RAIL, "--forget", "--from", "rail-up", exit_code=2)
