"""The handover sheet and the as-built record, as views and as printed."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from sequencer.model.assembly import Assembly
from sequencer.planning.results import Plan
from sequencer.problem import Problem
from sequencer.reading import read_text
from sequencer.records.entries import (
    Accept,
    Correct,
    Done,
    Fitted,
    Note,
    PartDone,
    Reading,
    Short,
    Sign,
    Skip,
    Spoiled,
    Stop,
    Torque,
    Undone,
    What,
)
from sequencer.records.state import State
from sequencer.sheets.as_built import as_built_view
from sequencer.sheets.handover import Handover, handover_view
from sequencer.sheets.job import Job, Ref, job_of
from sequencer.sheets.packet import document_html
from tests.commands.log_runs import PINION
from tests.records.making import state
from tests.sheets.pages import Printed, holds

GOLDEN = Path(__file__).resolve().parent.parent / "golden" / "sheets"


def _model(text: str = PINION) -> Assembly:
    reading = read_text(text, "pinion.yaml")
    assert reading.assembly is not None, reading.problems
    return reading.assembly


MODEL = _model()


def job(sheet: str, model: Assembly = MODEL) -> Job:
    plan = Plan(tuple(step.id for step in model.steps))
    return job_of(model, plan, fingerprint="7f3a·c91e", sheets=(sheet,))


def handover(*whats: What | str) -> Handover:
    told = state(MODEL, *whats, Stop())
    return handover_view(job("handover"), told, told.open[:3])


def topics(view: Handover) -> dict[str, list[str]]:
    return {
        topic.title: [
            "".join(f"step {p.number}" if isinstance(p, Ref) else p for p in line)
            for line in topic.lines
        ]
        for topic in view.topics
    }


DEEP = Reading(check="depth", value="12.04 mm")
EARLY = ("chock-on race-in measure", DEEP, "sleeve-on")


def test_an_interrupted_movement_an_aid_and_a_state_are_handed_over() -> None:
    view = handover(*EARLY, "guard-on")
    assert not view.is_rest
    assert topics(view) == {
        "Half done": ["one movement is begun; still to be done: step 6, step 7"],
        "Locks and states that last": [
            "“chocked” since step 1, ends in step 12, keep the unit as it lies"
        ],
        "Aids still in the unit": ["Seal guard, comes off in step 7"],
    }
    assert view.clear[0] == "loose"
    assert "aids still in the unit" not in view.clear


def test_everything_that_can_be_amiss_is_handed_over() -> None:
    view = handover(
        *EARLY,
        "guard-on seal-on guard-off",
        Done(steps=("nut-on",)),
        Reading(check="drag", value="3.9 N·m"),
        Done(steps=("cover-on",), wet_until="18:30"),
        PartDone(step="cover-tight", pass_=2, count=6, of=3),
        Short(part="cover", until="2031-05-12"),
        Spoiled(part="seal"),
    )
    assert topics(view) == {
        "Half done": [
            "step 10: Tighten the cover screws crosswise in three passes. Left in pass 2 of 3 "
            "after 6 fasteners: begin pass 2 again at the first fastener."
        ],
        "Loose": ["left in step 9: Set the cover on."],
        "Wet": ["step 9, until 18:30"],
        "Locks and states that last": [
            "“chocked” since step 1, ends in step 12, keep the unit as it lies"
        ],
        "Checks not passed": [
            "Turning torque of the pinion in step 8: 3.9 N·m: above the limit (1.7 to 3.4 N·m): "
            "renew. Do not go on: renew Crush sleeve"
        ],
        "To be redone": [
            "step 4: check drag failed: 3.9 N·m, above the limit (1.7 to 3.4 N·m)",
            "step 6: seal was spoiled (entry 11)",
        ],
        "Hold points not signed": ["step 8, to be signed by: inspector"],
        "Parts awaited": ["Cover, until 2031-05-12, goes in in step 9"],
        "Parts spoiled, to get anew": ["Pinion seal", "Crush sleeve"],
    }
    assert view.leave == ("Lay a sheet over the open cover.",)
    assert view.clear == ("aids still in the unit", "readings not recorded")


def test_readings_that_are_missing_are_handed_over() -> None:
    assert topics(handover("chock-on race-in measure"))["Readings not recorded"] == [
        "Seat depth of the race in step 3"
    ]


def test_a_rest_point_says_so_and_what_is_done() -> None:
    free = _model(PINION.replace(", keep: position", ""))
    told = state(free, "chock-on", "race-in", Skip(step="measure", allowed_by="Jo"), Stop())
    view = handover_view(job("handover", free), told, ("sleeve-on",))
    assert view.is_rest
    assert view.done == ("2 of 12: 1, 2; left out: 3",)
    assert [step.number for step in view.coming] == [4]


BUILT = (
    "chock-on race-in measure",
    Reading(check="depth", value="11.20 mm", gauge="depth gauge 2"),
    Undone(steps=("measure", "race-in")),
    "race-in measure",
    Reading(check="depth", value="12.10 mm", round=2),
    "sleeve-on guard-on seal-on guard-off",
    Fitted(part="sleeve", number="44-01", serial="S-9", pack="0.50+0.20"),
    "nut-on",
    Sign(role="inspector"),
    "nut-on",
    Reading(check="drag", value="2.1 N·m"),
    Sign(role="inspector"),
    "cover-on cover-tight",
    Torque(joint="cover-screws", value="30 N·m", wrench="W7", place="3"),
    "look chock-off",
    Reading(check="marks", value="bad"),
    Accept(check="marks"),
    Correct(corrects=18, why="typed in twice"),
    Note(text="Lamp broken <b>.", step="measure"),
    Note(text="Tea & cake."),
    Reading(check="girth", value="3 mm"),
    Sign(role="owner"),
)


def built() -> State:
    return state(MODEL, *BUILT)


def test_the_record_lists_deviations_first() -> None:
    told = [row.what for row in as_built_view(job("as-built"), built()).deviations]
    assert told == [
        "check “Seat depth of the race”: 11.20 mm: below the limit (at least 12.00 mm): again",
        "steps 3, 2 taken back",
        "this signature for step 8 became void later",
        "joint Cover screws: 30 N·m: above the figure (20 to 24 N·m): out of limit",
        "check “Marks on the teeth”: bad: at an edge: needs a signature",
        "entry 18 does not count: typed in twice",
        "check girth: 3 mm: the model has no such check: cannot be told",
        "Not passed when this was printed: check “Marks on the teeth” and check girth.",
    ]


def test_the_record_fills_the_packet_in() -> None:
    view = as_built_view(job("as-built"), built())
    rows = {row.number: row for run in view.runs for row in run.rows}
    assert [row.how for row in rows.values()] == ["done"] * 12
    lines = {at: [f"{o.label}: {o.found}" for o in row.lines] for at, row in rows.items()}
    assert lines[3] == [
        "Seat depth of the race: 11.20 mm, with depth gauge 2: "
        "below the limit (at least 12.00 mm): again",
        "Seat depth of the race: 12.10 mm, round 2: accept",
        "Note: Lamp broken <b>.",
    ]
    assert lines[4] == ["Crush sleeve: no. 44-01, serial S-9, pack 0.50+0.20"]
    assert lines[8] == [
        "Turning torque of the pinion: 2.1 N·m: accept",
        "Hold point: signed, 2031-05-02 14:05",
    ]
    assert lines[10] == [
        "Cover screws: 30 N·m at 3, wrench W7: above the figure (20 to 24 N·m): out of limit"
    ]
    assert view.unplaced == (
        "2031-05-02 14:05: Tea & cake.",
        "2031-05-02 14:05: check girth: 3 mm",
        "entry 22 names check girth, which the model does not have",
    )
    assert view.roles == (("owner", "", "2031-05-02 14:05"),)


def test_the_record_shows_what_is_missing() -> None:
    told = state(MODEL, "chock-on race-in measure", PartDone(step="cover-tight", pass_=1, count=3))
    view = as_built_view(job("as-built"), told)
    rows = [row for run in view.runs for row in run.rows]
    assert [row.is_open for row in rows] == [False] * 3 + [True] * 9
    assert rows[2].lines[0].found == "not recorded"
    assert rows[2].lines[0].is_open
    assert rows[9].how == (
        "left in pass 1 after 3 fasteners: begin pass 1 again at the first fastener"
    )
    assert view.deviations[-1].what == "Not done when this was printed: steps 4 to 12."


def test_a_torque_belongs_to_the_step_done_last_before_it() -> None:
    model = _model(
        PINION.replace(
            "  chock-off: {do", "  again: {do: Again., tighten: cover-screws}\n  chock-off: {do"
        )
    )
    torque = Torque(joint="cover-screws", value="22 N·m")
    told = state(
        model, "cover-tight", torque, "again", Torque(joint="cover-screws", value="23 N·m")
    )
    view = as_built_view(job("as-built", model), told)
    found = {
        row.number: [line.found for line in row.lines]
        for run in view.runs
        for row in run.rows
        if row.lines
    }
    assert found == {
        10: ["22 N·m: accept (asked: 20 to 24 N·m)"],
        12: ["23 N·m: accept (asked: 20 to 24 N·m)"],
    }


def body(page: str) -> str:
    return page[page.index("<body") :].replace("> <", ">\n<")


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    """Both sheets of one log, as HTML."""
    told = state(MODEL, *EARLY, "guard-on", Short(part="seal", until="2031-05-12"), Stop())
    first, second = job("handover"), job("as-built")
    left = handover_view(first, told, told.open[:3])
    return {
        "handover": document_html(first, [("handover", left)]),
        "as-built": document_html(second, [("as-built", as_built_view(second, built()))]),
    }


FEET = [
    ("", "unit no. ______________ · model 7f3a·c91e · 1 of 1"),
    ("0042", "unit no. 0042 · model 7f3a·c91e · 1 of 1"),
    ("WWMN-2031/00WMW42", "unit no. …MN-2031/00WMW42 · model 7f3a·c91e · 1 of 1"),
]


@pytest.mark.parametrize(("unit", "foot"), FEET)
def test_foot_of_each_page_names_the_unit_on_one_line(unit: str, foot: str) -> None:
    views = [("handover", handover(*EARLY))]
    (page,) = Printed.of(document_html(job("handover"), views, unit=unit)).pages
    assert page.splitlines()[-1] == f"{MODEL.notice} {foot}"


@pytest.mark.parametrize("sheet", ["handover", "as-built"])
def test_the_sheet_is_as_kept(
    sheet: str, pages: dict[str, str], golden: Callable[[Path, str], None]
) -> None:
    golden(GOLDEN / f"{sheet}.html", body(pages[sheet]))


def test_the_foot_of_every_page_names_the_unit_where_it_is_known() -> None:
    told = job("as-built")
    view = as_built_view(told, built())
    printed = Printed.of(document_html(told, [("as-built", view)], unit="0018 of the second lot"))
    assert len(printed.pages) == 2
    assert all(holds(page, "unit no. …the second lot · model 7f3a·c91e") for page in printed.pages)


def test_what_leaves_no_order_points_to_the_change_sheet() -> None:
    stuck = Problem("dead-end", "warning", "nothing fits `race-in`", why="it has to come out first")
    late = Problem("wait", "warning", "step 3 (`measure`) waits", why="the paste is wet")
    told = state(MODEL, "chock-on")
    view = handover_view(job("handover"), told, (), (stuck, late))
    assert view.held_up == (
        "nothing fits race-in: it has to come out first; ask for the change sheet",
        "step 3 waits",
    )


@pytest.mark.parametrize("sheet", ["handover", "as-built"])
def test_the_printed_sheet_holds_every_word(sheet: str, pages: dict[str, str]) -> None:
    printed = Printed.of(pages[sheet])
    assert printed.logged == ()
    assert len(printed.pages) == {"handover": 1, "as-built": 2}[sheet]
    words = re.sub(r"<[^>]+>", "\n", body(pages[sheet]))
    missing = [
        line
        for line in html.unescape(words).splitlines()
        if line.strip() and not holds(printed.text, line)
    ]
    assert missing == []
    for words in ("7f3a·c91e", MODEL.notice, "issue B"):
        assert holds(printed.text, words)
