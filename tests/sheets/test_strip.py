"""What the strip packet says, and that the paper says it."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.planning.stripping import strip
from sequencer.reading import read_file
from sequencer.sheets.job import job_of
from sequencer.sheets.loosening import loosening_blocks
from sequencer.sheets.strip import (
    STRIP_SHEETS,
    Noted,
    front_view,
    shopping_view,
    strip_html,
    strip_view,
)
from tests.reading.models import model
from tests.sheets.pages import Printed, holds, squeezed

if TYPE_CHECKING:
    from sequencer.planning.stripping import Strip
    from sequencer.sheets.job import Job
    from sequencer.sheets.strip_cards import StripCard

# Cases A20 and A22 of the collection of open cases in one unit: matched rods and caps, a set screw
# that hides under a bush; with a riveted plate, an aid, a pack, a left-hand nut, things to spoil.
UNIT = """
assembly: engine-end
title: Rear end of a small engine
notice: Invented for demonstration. Not for use on real equipment.
isolation: [{point: Fuel tap, tag: F-1}]
parts:
  block: {name: Block, at_start: fitted}
  rod: {name: Rod, quantity: 2, matched: rods}
  cap: {name: Rod cap, quantity: 2, matched: rods, bag: Caps}
  shims: {name: Shim pack, pack: {sizes: 0.10 mm, at_most: 3, settled_by: float}}
  flywheel: {name: Flywheel, mass: 9 kg, serial: record}
  nut: {name: Flywheel nut, renew: always, bought_as: box of 5, on_hand: 2}
  guide: {name: Guide pin, aid: true}
  casing: Rear casing
  bolts: 6 × Bolt M8 × 30
  gauze: Gauze
  set-screw: Set screw M6
  bush: {name: Bush, once: true}
  plate: Name plate
joints:
  wheel: {name: Flywheel nut, thread: M20×1.5 LH, torque: 150 N·m}
  ends: {name: Casing bolts, thread: M8, count: 6, torque: 25 N·m, pattern: cross}
checks:
  float: {measure: End float of the crank, limit: 0.10 to 0.30 mm, with: Feelers}
steps:
  rods-on: {do: Fit the rods., fits: rod, onto: block, section: Crank}
  caps-on: {do: Fit each cap on its rod., fits: cap, onto: rod}
  pack-in: {do: Lay the pack in., fits: shims, onto: block}
  float-read: {do: Read the float., after: pack-in, check: float}
  wheel-on:
    do: Fit the flywheel.
    fits: {flywheel: mark at the top}
    after: float-read
    caution: It pinches.
  wheel-tight: {do: Tighten its nut., fits: nut, onto: flywheel, tighten: wheel}
  plate-on:
    section: End
    do: Rivet the plate on.
    fits: plate
    undo: {never: The rivets go through the oil way}
  pin-in: {do: Screw the guide pin in., fits: guide}
  casing-on:
    do: Push the casing over the pin.
    fits: [gauze, casing]
    onto: guide
    after: wheel-tight
  pin-out: {do: Screw the pin out., takes_off: guide, after: casing-on}
  bolts-in: {do: Tighten the six bolts., fits: bolts, onto: casing, after: pin-out, tighten: ends}
  screw-in: {do: Run the set screw in., fits: set-screw, onto: casing}
  bush-in:
    do: Press the bush in over it.
    fits: bush
    after: screw-in
    undo: {do: Cut the bush out., spoils: gauze, time: 20 min}
"""


@pytest.fixture(scope="module")
def job() -> Job:
    unit = model(UNIT)
    return job_of(unit, strip(unit).plan, fingerprint="7f3a·c91e", sheets=STRIP_SHEETS)


@pytest.fixture(scope="module")
def found() -> Strip:
    return strip(model(UNIT))


@pytest.fixture(scope="module")
def cards(job: Job, found: Strip) -> dict[str, StripCard]:
    made = [card for run in strip_view(job, found).runs for card in run.cards]
    return dict(zip(found.order or (), made, strict=True))


def test_hidden_fixings_come_first_and_the_steps_are_counted_anew(
    found: Strip, cards: dict[str, StripCard]
) -> None:
    assert " ".join(found.order or ()) == (
        "bush-in screw-in bolts-in pin-out casing-on pin-in wheel-tight wheel-on pack-in caps-on "
        "rods-on"
    )
    assert [card.number for card in cards.values()] == list(range(1, 12))
    assert cards["bush-in"].built_in == 13


def test_the_author_says_how_or_it_follows_from_what_comes_off(cards: dict[str, StripCard]) -> None:
    assert cards["bush-in"].do == "Cut the bush out."
    assert cards["bolts-in"].do == "Loosen Casing bolts and take off Bolt M8 × 30."
    assert cards["pin-out"].do == "Put Guide pin on for a time."
    assert cards["pin-out"].first_on == ()
    assert cards["pin-in"].off[0].fate == "aid, back to the shelf"


def test_every_part_is_kept_in_a_bag_or_is_scrap(cards: dict[str, StripCard]) -> None:
    fates = {off.name: (off.fate, off.is_scrap) for card in cards.values() for off in card.off}
    assert fates["Rod cap"] == ("BAG Caps", False)
    assert fates["Bolt M8 × 30"] == ("BAG 11", False)
    assert fates["Flywheel nut"] == ("a new one goes in", True)
    assert fates["Bush"] == ("a new one goes in", True)
    assert cards["bush-in"].spoils == "Gauze"
    assert fates["Gauze"] == ("a new one goes in", True)


def test_marks_are_made_and_readings_taken_before_it_is_too_late(
    job: Job, found: Strip, cards: dict[str, StripCard]
) -> None:
    assert [off.marks for off in cards["caps-on"].off] == [
        ("Mark 1 to 2 on each. Matched set rods: each with Rod of the same mark",)
    ]
    assert [off.marks for off in cards["wheel-on"].off] == [
        ("Mark which way round: mark at the top", "Read its serial number: ______________")
    ]
    assert cards["pack-in"].off[0].marks == ("Keep the pack together, and measure it:",)
    assert cards["pack-in"].off[0].blanks == ("", "+", "+")
    (read,) = cards["pack-in"].reads
    assert (read.what, read.limit, read.gauge, read.blanks) == (
        "End float of the crank",
        "0.10 to 0.30 mm (0.0040 to 0.0118 in)",
        "Feelers",
        ("as found",),
    )
    assert front_view(job, found).noted[:3] == (
        Noted("Flywheel: Mark which way round: mark at the top", 8),
        Noted("Flywheel: Read its serial number", 8),
        Noted("Read: End float of the crank", 9),
    )


def test_first_page_counts_every_piece_that_has_to_be_renewed(job: Job, found: Strip) -> None:
    bought = replace(found, buy={"bush": 2, "nut": 1})
    assert "3 parts to renew" in front_view(job, bought).counts


def test_a_circle_of_bolts_is_loosened_in_the_order_of_tightening_turned_round(job: Job) -> None:
    step = job.by_id["bolts-in"]
    (block,) = loosening_blocks(job, step, ["ends"])
    worked = job.bench.worked(job.joints["ends"], step)
    assert block.picture is not None
    turns = [spot.turn for spot in block.picture.spots]
    order = sorted(range(1, 7), key=lambda fastener: turns[fastener - 1])
    assert tuple(order) == tuple(reversed(worked.order))
    assert block.picture.drawing.says == "Loosen in the order of the numbers"
    (nut,) = loosening_blocks(job, job.by_id["wheel-tight"], ["wheel"])
    assert (nut.is_left_hand, nut.rule, nut.picture) == (True, "", None)


def test_a_point_of_no_return_stops_where_it_is_met(cards: dict[str, StripCard]) -> None:
    (stop,) = cards["wheel-tight"].stops
    assert (stop.number, stop.why) == (7, "The rivets go through the oil way")
    assert stop.stays == "Name plate"


def test_to_buy_is_what_is_scrap(job: Job, found: Strip) -> None:
    rows = shopping_view(job, found).buying.rows
    assert [(row.buy, row.name, row.why) for row in rows] == [
        ("1", "Bush", "taking it off spoils it"),
        ("1", "Gauze", "spoiled in step 1"),
    ]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_paper_says_all_of_it(
    job: Job, found: Strip, cards: dict[str, StripCard], paper: str
) -> None:
    printed = Printed.of(strip_html(job, found, paper=paper))
    assert printed.logged == ()
    marks = printed.bookmarks()
    heads = [title for depth, title, _ in marks if depth == 0]
    assert heads == ["Strip", "Isolation", "Taking apart", "Bag labels", "What to buy"]
    steps = [title for depth, title, _ in marks if depth == 2]
    assert [title.split()[0] for title in steps] == [str(n) for n in range(1, 12)]
    for card in cards.values():
        at = next(p for d, t, p in marks if d == 2 and t.split()[0] == str(card.number))
        text = "".join(map(squeezed, printed.pages[at - 1 : at + 1]))
        for words in (card.do, *(s.text for s in card.signals), *(o.name for o in card.off)):
            assert squeezed(words) in text
    for page in printed.pages:
        assert "7f3a·c91e" in page
        assert holds(page, "Invented for demonstration. Not for use on real equipment.")
    first = printed.pages[0]
    assert "licensed practice come first" in first.replace("\n", " ")


def test_sheets_come_as_asked(job: Job, found: Strip) -> None:
    html = strip_html(replace(job, sheets=("buy", "labels")), found)
    assert html.index('class="sheet labels"') < html.index('class="sheet buy"')
    assert 'class="sheet strip' not in html


def test_a_label_names_the_card_on_which_its_part_comes_off(
    job: Job, found: Strip, cards: dict[str, StripCard]
) -> None:
    html = strip_html(replace(job, sheets=("labels",)), found)
    (told,) = re.findall(r'"where">([^<]*)</p>\n<p[^>]*>Set screw M6<', html)
    assert told.startswith(f"off: {cards['screw-in'].number} ")


SHIPPED = sorted(
    file
    for file in (Path(__file__).resolve().parents[2] / "assemblies").glob("*.yaml")
    if "mistakes" not in file.stem
)


@pytest.mark.parametrize("file", SHIPPED, ids=lambda file: file.stem)
def test_every_demo_comes_apart_to_the_last_part(file: Path) -> None:
    unit = read_file(file).assembly
    assert unit is not None
    apart = strip(unit)
    off = {part for taken in apart.steps.values() for part in taken.comes_off}
    passing = {link.to for step in unit.steps for link in step.takes_off}
    stay = {part.id for part in unit.parts if part.at_start} | passing
    chosen = {
        fit.part
        for name in apart.plan.order or ()
        for fit in next(step for step in unit.steps if step.id == name).fits
    }
    in_trials = {link.to for trial in unit.trials for link in trial.steps}
    tried = {fit.part for step in unit.steps if step.id in in_trials for fit in step.fits}
    assert chosen - stay - tried <= off
    made = job_of(unit, apart.plan, fingerprint="f", sheets=("front", "strip", "buy"))
    html = strip_html(made, apart)
    assert html.count('class="card') == len(apart.order or ())


def test_what_an_author_writes_is_printed_as_written() -> None:
    hostile = "Pull </p><style>*{display:none}</style> {{ 7*7 }} AT&T &copy; <M8>"
    unit = model(
        UNIT.replace("Cut the bush out.", f"'{hostile}'").replace(
            "name: Bush", f"name: '{hostile}'"
        )
    )
    apart = strip(unit)
    made = job_of(unit, apart.plan, fingerprint="f", sheets=("strip", "labels", "buy"))
    text = squeezed(Printed.of(strip_html(made, apart)).text)
    assert text.count(squeezed(hostile)) >= 2
