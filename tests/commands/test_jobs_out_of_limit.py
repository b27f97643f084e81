"""Whole jobs in which a check fails or was never taken, from the log to what has to be redone."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from sequencer.commands.log_csv import COLUMNS
from sequencer.records.logfile import read_log
from tests.commands.jobs import MODELS, Job, job_of

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    Begin = Callable[..., Job]


@pytest.fixture
def begin(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Begin:
    """Begin a job by a model in a file or as a text, with pieces of it changed."""

    def beginning(model: str, *changes: tuple[str, str]) -> Job:
        text = model if "\n" in model else (MODELS / f"{model}.yaml").read_text(encoding="utf-8")
        return job_of(text, tmp_path, monkeypatch, *changes)

    return beginning


HEAT = "undo: {do: Warm the hub until the screw turns., time: 20 min}"
LOCKED = (
    ("bad: light at any flank\n", "bad: light at any flank\n    else: {again_from: align}\n"),
    ("    after:\n      - {check: true-run", f"    {HEAT}\n    after:\n      - {{check: true-run"),
    ("    after: lock-first\n", f"    after: lock-first\n    {HEAT}\n"),
)


def test_screws_locked_too_soon_are_let_go_with_heat_cleaned_and_locked_anew(begin: Begin) -> None:
    """A pulley locked in the wrong place: heat, clean, new compound, and its time to set."""
    job = begin("cases/chain-aligned-before-the-locker", *LOCKED)
    job.log("done sprocket-on chain-on")
    assert job.refused("done clean lock-first") == [
        "`lock-first` comes after `align`, which is not done"
    ]
    assert (
        job.log("done align") == "step 3 (`align`) done; still to be recorded: reading true-run=…"
    )
    assert job.refused("done clean lock-first") == [
        "no reading of check `true-run` of step 3 (`align`) is recorded"
    ], "it is locked once the check has passed, not once it was looked at"
    job.log("reading true-run=good", "done clean", "done lock-first", "done lock-second")
    assert job.log("reading true-run=bad") == (
        "true-run bad: light at any flank: again; do not go on: start again from `align`"
    )
    told = job.revise()
    assert told["undo"] == ["lock-second", "lock-first", "align"]
    assert told["do"] == ["align", "clean", "lock-first", "lock-second", "run"]
    assert (told["prepare"], told["in_place"]) == (["clean"], ["clean"])
    (wait,) = told["waits"]
    assert wait == {"step": "run", "after": "lock-second", "minutes": 20, "compound": "locker"}
    assert told["minutes"] == 20 + 20 + 3 * 5 + 5
    assert job.run("revise").stdout.count("how: Warm the hub until the screw turns.") == 2
    job.log("undone lock-second lock-first align", "done align", "reading true-run=good")
    assert job.refused("done lock-first") == [
        "step 5 (`lock-first`) puts `locker` on once more, and step 4 (`clean`) was done before "
        "the first time"
    ]
    job.at("2031-05-02 07:10")
    job.log("done clean lock-first --at 06:50", "done lock-second --at 07:00")
    job.at("2031-05-02 07:18")
    assert job.refused("done run")[0] == (
        "step 7 (`run`) not before 07:20: 20 min after step 6 (`lock-second`)"
    )
    job.at("2031-05-02 07:21")
    job.log("done run")


CAPS = """\
assembly: three-caps
parts:
  crank: Crank
{parts}
checks:
{checks}
steps:
  crank-in: {{do: Lay the crank in., fits: crank}}
{steps}
  side-on: {{do: Screw the side plate on., after: [cap-1, cap-2, cap-3]}}
"""
FEEL = "feel: Turn the crank, good: even, bad: tight"
PAIRS = CAPS.format(
    parts="\n".join(
        f"  rod-{n}: {{name: Rod {n}, matched: pair {n}}}\n"
        f"  lid-{n}: {{name: Cap {n}, matched: pair {n}}}"
        for n in (1, 2, 3)
    ),
    checks="\n".join(f"  turn-{n}: {{{FEEL}, else: {{again_from: cap-{n}}}}}" for n in (1, 2, 3)),
    steps="\n".join(
        f"  cap-{n}: {{do: Close cap {n} and turn., fits: [rod-{n}, lid-{n}], onto: crank, "
        f"check: turn-{n}}}"
        for n in (1, 2, 3)
    ),
)


def test_cap_on_another_rod_is_told_from_the_numbers(begin: Begin) -> None:
    """Two caps changed places and the engine locked."""
    job = begin(PAIRS)
    job.log("done crank-in", "fitted rod-1 --serial 1", "fitted lid-1 --serial 1")
    job.log("fitted rod-2 --serial 2", "fitted rod-3 --serial 3")
    assert job.refused("fitted lid-2 --serial 3") == [
        "`lid-2` of the matched set pair 2 is crossed: serial 3 is recorded for `rod-3` of the set "
        "pair 3 (entry 7)"
    ]
    assert job.log("fitted lid-2 --serial 2") == "lid-2: serial 2"


def test_first_cap_that_binds_is_the_only_one_to_come_off(begin: Begin) -> None:
    job = begin(PAIRS)
    job.log("done crank-in cap-1", "reading turn-1=good", "done cap-2")
    assert job.log("reading turn-2=bad") == (
        "turn-2 bad: tight: again; do not go on: start again from `cap-2`"
    )
    assert job.refused("done cap-3") == [
        "check `turn-2` of step 3 (`cap-2`) stands at bad: tight: again"
    ]
    told = job.revise()
    assert (told["undo"], told["do"][:2]) == (["cap-2"], ["cap-2", "cap-3"])


def test_sleeve_crushed_too_far_is_renewed_with_its_nut_and_never_backed_off(
    begin: Begin,
) -> None:
    """Turning torques of a pinion in inch-pounds: 8 and 14 are tightened on, 34 is too far."""
    job = begin("measuring/sleeve-that-crushes")
    job.log("done pinion-in nut-on drag-read")
    for value in (8, 14):
        assert job.log(f"reading drag='{value} in-lb'") == (
            f"drag {value} in-lb: below the limit (15 to 30 in-lb): rework; "
            "Tighten the nut a few degrees more, then check again"
        )
        assert job.revise()["undo"] == []
    assert job.log("reading drag='34 in-lb'") == (
        "drag 34 in-lb: above the limit (15 to 30 in-lb): renew; "
        "do not go on: renew Crush sleeve and Pinion nut, and start again from `pinion-in`"
    )
    assert job.refused("done shafts-in") == [
        "check `drag` of step 3 (`drag-read`) stands at 34 in-lb: above the limit "
        "(15 to 30 in-lb): renew"
    ]
    told = job.revise()
    assert told["undo"] == ["drag-read", "nut-on", "pinion-in"]
    assert told["do"] == ["pinion-in", "nut-on", "drag-read", "shafts-in"]
    assert told["renew"] == {"sleeve": 1, "nut": 1}


SHUT = "“pinion alone” is shut by `half-shafts`"


def test_turning_torque_read_with_the_shafts_in_does_not_count(begin: Begin) -> None:
    job = begin("measuring/sleeve-that-crushes")
    job.log("done pinion-in nut-on drag-read")
    job.insist("done shafts-in")
    assert job.refused("reading drag='20 in-lb'") == [
        f"check `drag` cannot be taken as the unit stands: {SHUT}"
    ]
    assert job.log("reading drag='20 in-lb' --at 06:03") == (
        "drag 20 in-lb: accept (15 to 30 in-lb)"
    ), "it was read before the shafts went in"
    job.insist("reading drag='21 in-lb'")
    told = job.revise()
    assert (told["undo"], told["do"]) == (["shafts-in"], ["drag-read", "shafts-in"])
    assert told["log"]["again"] == {"drag-read": f"check `drag` does not count: read while {SHUT}"}
    job.log("undone shafts-in", "reading drag='21 in-lb'")
    assert job.revise()["do"] == ["shafts-in"]


def test_nut_is_not_slackened_until_the_spindle_stands_or_is_strapped(begin: Begin) -> None:
    job = begin("cases/stands-or-is-strapped")
    told = job.run("log done spacer-in", exit_code=1).stderr
    assert "`spacer-in` comes after `slacken-standing`, which is not done" in told
    assert "= fix: do `slacken-standing` first (or in its place `slacken-strapped`), or" in told
    job.log("done slacken-strapped", "done spacer-in")


def test_low_float_opens_the_stack_again_with_the_spindle_standing(begin: Begin) -> None:
    """A needle bearing dropped and was crushed: the end play reads low."""
    job = begin("cases/stands-or-is-strapped")
    job.log("done slacken-standing spacer-in")
    assert job.refused("done lay-down") == [
        "`lay-down` turns the unit over while what `slacken-standing` left loose is not yet made "
        "fast"
    ]
    job.log("done tighten")
    assert job.log("reading float='0.01 mm'") == (
        "float 0.01 mm: below the limit (0.06 to 0.09 mm): again; "
        "do not go on: change spacer, then start again from `spacer-in`"
    )
    assert job.revise()["undo"] == ["tighten", "spacer-in"]
    job.insist("done lay-down")
    told = job.revise()
    assert told["undo"] == ["lay-down", "tighten", "spacer-in"]
    assert told["do"] == ["spacer-in", "tighten", "lay-down"]


VALVES = """\
assembly: valve-train
parts:
  camshaft: {name: Camshaft, at_start: fitted}
  shim-1: {name: Shim of valve 1}
  shim-2: {name: Shim of valve 2}
checks:
  cold: {measure: Clearance, each: [1, 2, 3, 4, 5, 6, 7, 8], limit: 0.15 to 0.25 mm}
steps:
  read: {do: Read the clearances., check: cold}
  camshaft-off: {do: Take the camshaft off., after: read, takes_off: camshaft}
  shims-in: {do: Change the shims by the figures., fits: [shim-1, shim-2], after: camshaft-off}
  camshaft-on: {do: Put the camshaft back., fits: camshaft, after: shims-in}
"""


def test_camshaft_stays_on_until_the_last_of_eight_clearances_is_read(begin: Begin) -> None:
    job = begin(VALVES)
    job.log("done read", *(f"reading cold.{n}='0.20 mm'" for n in (1, 2, 3, 4, 6, 7, 8)))
    missing = "readings of check `cold` of step 1 (`read`) are missing: 5"
    assert job.refused("done camshaft-off") == [missing]
    assert job.status()["half_read"] == {"cold": ["5"]}
    job.log("reading cold.5='0.21 mm'", "done camshaft-off")
    job.log("fitted shim-1 --number 2.45 --serial K1")
    assert job.refused("fitted shim-2 --number 2.45 --serial K1") == [
        "serial K1 is recorded for `shim-1` already (entry 13)"
    ], "one shim has one place"
    job.log("fitted shim-1 --serial K3", "fitted shim-2 --serial K1")


def test_camshaft_taken_off_too_soon_goes_back_in_to_be_measured(begin: Begin) -> None:
    job = begin(VALVES)
    assert job.insist("done camshaft-off") == [
        "`camshaft-off` comes after `read`, which is not done"
    ]
    told = job.revise()
    assert (told["undo"], told["do"][:2]) == (["camshaft-off"], ["read", "camshaft-off"])


def test_depth_that_is_short_says_seat_it_again_and_keeps_the_bolts_out(begin: Begin) -> None:
    """A converter stood 0.50 in deep where 1.00 in is the least, and was drawn in by its bolts."""
    job = begin("measuring/coupling-seated-first")
    job.log("done coupling-in depth-read")
    assert job.log("reading seated='0.50 in'") == (
        "seated 0.50 in: below the limit (at least 1.00 in): again; do not go on: change how the "
        "dogs stand by turning it while you push, then start again from `coupling-in`"
    )
    out = "check `seated` of step 2 (`depth-read`) stands at 0.50 in: below the limit "
    assert job.refused("done housing-up") == [f"{out}(at least 1.00 in): again"]
    assert job.revise()["undo"] == ["depth-read", "coupling-in"]
    job.insist("done housing-up")
    told = job.revise()
    assert told["undo"] == ["housing-up", "depth-read", "coupling-in"]
    assert told["do"] == ["coupling-in", "depth-read", "housing-up"]
    job.log("undone housing-up depth-read coupling-in", "done coupling-in depth-read")
    job.log("reading seated='1.06 in'", "done housing-up")
    assert job.revise()["do"] == []


def test_good_reading_is_asked_about_where_no_step_was_done_again(begin: Begin) -> None:
    job = begin("measuring/coupling-seated-first")
    job.log("done coupling-in depth-read", "reading seated='0.50 in'")
    assert job.run("log reading seated='1.06 in'", exit_code=1).stderr == (
        "warning[nothing-done]: check `seated` failed with 0.50 in (entry 4: again), and step 1 "
        "(`coupling-in`) was not done again since\n"
        "  = why: a fault does not go by being measured once more: one of the readings may be "
        "wrong\n"
        "  = fix: record what was done: `sequencer log done coupling-in`; if the failed reading "
        "was misread: `sequencer log correct 4`\n"
        "record it all the same? [y/N]: \n"
        "not recorded (--anyway records it without asking)\n"
    )
    assert job.refused("reading seated='0.60 in' seated='1.06 in'") == job.refused(
        "reading seated='1.06 in' --round 2"
    ), "a number of a round says nothing of what was done"
    job.log("done coupling-in", "reading seated='1.06 in'")
    assert job.revise()["do"] == ["housing-up"]


def test_reading_taken_though_nothing_was_done_stays_with_its_objection(begin: Begin) -> None:
    job = begin("measuring/coupling-seated-first")
    job.log("done coupling-in depth-read", "reading seated='0.50 in'")
    objections = job.insist("reading seated='1.06 in'")
    assert objections == [
        "check `seated` failed with 0.50 in (entry 4: again), and step 1 (`coupling-in`) was not "
        "done again since"
    ]
    assert list(read_log(job.folder / "unit.log.jsonl").entries[-1].despite) == objections
    assert job.log("reading seated='1.05 in'").startswith("seated 1.05 in: accept")


def test_table_with_a_good_reading_after_a_failed_one_is_asked_about(begin: Begin) -> None:
    job = begin("measuring/coupling-seated-first")
    job.log("done coupling-in depth-read", "reading seated='0.50 in'")
    table = ",".join(COLUMNS) + "\nreading,seated,1,,,1.06 in,,,,,\n"
    (job.folder / "sheet.csv").write_text(table, encoding="utf-8")
    assert job.refused("csv sheet.csv") == [
        "check `seated` failed with 0.50 in (entry 4: again), and step 1 (`coupling-in`) was not "
        "done again since"
    ]


def test_misread_failure_that_is_put_right_asks_nothing(begin: Begin) -> None:
    job = begin("measuring/coupling-seated-first")
    job.log("done coupling-in depth-read", "reading seated='0.50 in'", "correct 4 --why misread")
    assert job.log("reading seated='1.06 in'").startswith("seated 1.06 in: accept")


def test_bolts_to_be_renewed_are_asked_for_before_they_read_right(begin: Begin) -> None:
    job = begin(TURNED)
    job.log("done 1-2", "reading turned.1=122 turned.2=115", "note Looked at the bolts.")
    assert job.refused("reading turned.2=123") == [
        "check `turned` failed at 2 with 115 N·m (entry 5: renew), and step 1 (`cap-on`) was not "
        "done again since"
    ]
    job.log("reading turned.1=123")  # it had not failed
    job.log("undone tight cap-on", "done cap-on tight", "reading turned.1=122 turned.2=123")


def test_part_that_no_step_fits_is_renewed_by_being_fitted(begin: Begin) -> None:
    bolts = ("fits: [cap, bolts]", "fits: cap")
    job = begin(
        TURNED.replace("steps:\n", "steps:\n  bolts-out: {do: Lay out., fits: bolts}\n"), bolts
    )
    job.log("done 2-3", "reading turned.1=122 turned.2=115")
    assert job.refused("reading turned.2=123") == [
        "check `turned` failed at 2 with 115 N·m (entry 5: renew), and `bolts` was not fitted anew "
        "since"
    ]
    job.log("fitted bolts --batch 12", "reading turned.2=123")


def test_rework_that_nobody_tells_of_is_asked_for(begin: Begin) -> None:
    job = begin("measuring/sleeve-that-crushes")
    job.log("done pinion-in nut-on drag-read", "reading drag='8 in-lb'")
    assert job.run("log reading drag='20 in-lb'", exit_code=1).stderr == (
        "warning[nothing-done]: check `drag` failed with 8 in-lb (entry 4: rework), and nothing "
        "that was done about it is recorded since\n"
        "  = why: a fault does not go by being measured once more: one of the readings may be "
        "wrong\n"
        "  = fix: note what was done: `sequencer log note …`; if the failed reading was misread: "
        "`sequencer log correct 4`\n"
        "record it all the same? [y/N]: \n"
        "not recorded (--anyway records it without asking)\n"
    )
    job.log("note Nut tightened ten degrees more.", "reading drag='20 in-lb'")


# Two bolts at 88 N·m and then 90°, after which the torque has to be at least 122 N·m, or the bolt
# is replaced: the figures are those of a case collected for this project.
TURNED = """\
assembly: big-end
parts: {cap: Cap, bolts: {name: Cap bolt, quantity: 2}, sump: Sump}
joints: {cap-bolts: {thread: M10, count: 2, torque: 88 N·m then 90°}}
checks:
  turned:
    measure: Torque after the turn
    each: [1, 2]
    limit: at least 122 N·m
    else: renew bolts
steps:
  cap-on: {do: Fit the cap., fits: [cap, bolts], leaves: loose}
  tight: {do: Tighten and turn., tighten: cap-bolts, secures: cap-on, check: turned}
  sump-on: {do: Fit the sump., fits: sump, after: tight}
"""


def test_bolt_that_turns_too_easily_is_replaced(begin: Begin) -> None:
    job = begin(TURNED)
    job.log("done 1-2")
    said = job.run("log reading turned.1=122 turned.2=115").stdout
    assert "turned 122 N·m at 1: accept (at least 122 N·m); " in said
    assert said.endswith(
        "turned 115 N·m at 2: below the limit (at least 122 N·m): renew; "
        "do not go on: renew Cap bolt\n"
    )
    assert job.refused("done sump-on") == [
        "check `turned` of step 2 (`tight`) stands at 115 N·m at 2: below the limit "
        "(at least 122 N·m): renew"
    ]
    told = job.revise()
    assert (told["undo"], told["renew"]) == (["tight", "cap-on"], {"bolts": 2})


def test_box_is_not_potted_before_the_side_is_confirmed_and_signed(begin: Begin) -> None:
    """Stand-offs on the wrong face, noticed once every switch was soldered."""
    job = begin("cases/side-confirmed-before-potting")
    shut = "`pot` would leave no way for `confirm`, which is not done yet"
    assert job.refused("done posts-in board-in pot") == [shut]
    job.log("done posts-in board-in", "done confirm")
    held = "the hold point of step 3 (`confirm`) is not signed: inspector"
    assert job.refused("done pot") == [held]
    job.log("reading posts-up='the bare face'", "sign inspector --by Jo")
    stands = "stands at the bare face: stop"
    assert job.refused("done pot") == [f"check `posts-up` of step 3 (`confirm`) {stands}"]
    told = job.revise()
    assert [(one["code"], one["message"], one["why"]) for one in told["findings"]] == [
        (
            "check-out",
            f"check `posts-up`, taken in `confirm`, {stands}",
            "stop, and tell: foreman",
        )
    ], "a mend that says nothing of it would send the builder on"
    job.log("reading posts-up='the printed face'", "done pot")
    assert job.revise()["findings"] == []


def test_box_potted_too_soon_comes_open_and_costs_its_resin(begin: Begin) -> None:
    job = begin("cases/side-confirmed-before-potting")
    job.log("done posts-in board-in")
    job.insist("done pot")
    told = job.revise()
    assert (told["undo"], told["do"]) == (["pot"], ["confirm", "pot", "lid-on"])
    assert (told["spoiled"], told["renew"]) == (["resin"], {"resin": 1})


def test_box_potted_for_good_is_a_point_of_no_return(begin: Begin) -> None:
    never = ("Fill the box with resin.", "Fill the box., undo: {never: It sets like stone}")
    job = begin("cases/side-confirmed-before-potting", never)
    job.log("done posts-in board-in")
    job.insist("done pot")
    told = job.revise(exit_code=1)
    assert (told["ok"], told["undo"]) == (False, [])
    assert [one["message"] for one in told["findings"]] == [
        "`pot` would have to come out, and cannot be undone"
    ]
