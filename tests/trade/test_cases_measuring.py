"""Measuring and shimming mistakes that happen at a bench, each in a small model, with the outcome.

The models are in tests/models/measuring; a variant of one is made by changing words of its text.
Figures are from public accounts of such mistakes, or common practice without a source where that
is said.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import check, plan, try_order
from sequencer.trade.basics import Unknown
from sequencer.trade.judging import judge_check
from sequencer.trade.packs import choose_pack, pack_rule, shim_table
from sequencer.trade.spelt import number
from tests.helpers import case

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.trade.judging import Judgement
    from sequencer.trade.packs import Chosen, PackRule

CASES = Path(__file__).resolve().parent.parent / "models" / "measuring"


def model(name: str, *changes: tuple[str, str]) -> Assembly:
    return case(CASES / f"{name}.yaml", *changes)


def rule(unit: Assembly, part: str) -> PackRule:
    """Make ready the pack of a part with the limit of the check that settles it."""
    pack = next(one.pack for one in unit.parts if one.id == part)
    assert pack is not None
    settling = next(one for one in unit.checks if one.id == pack.settled_by[0].to)
    assert settling.limit is not None
    return pack_rule(pack, settling.limit.value)


def packs(unit: Assembly, part: str, measured: str) -> list[tuple[str, str, str]]:
    """List the packs that serve a figure: shims, total and what the figure comes to with it."""
    found = choose_pack(rule(unit, part), Fraction(measured))
    return listed(found)


def listed(found: Chosen) -> list[tuple[str, str, str]]:
    return [
        (" + ".join(map(number, pack.shims)), number(pack.total), number(pack.result))
        for pack in found.choice.packs
    ]


def judged(unit: Assembly, name: str, /, turn: int = 1, **typed: str) -> Judgement:
    """Judge what was typed; a single figure or finding is given as `it`."""
    asked = next(one for one in unit.checks if one.id == name)
    values = {"" if key == "it" else key: text for key, text in typed.items()}
    tools = {tool.id: tool for tool in unit.tools}
    names = {part.id: part.label for part in unit.parts}
    return judge_check(asked, values, tools, turn=turn, names=names)


def said(found: Judgement) -> list[str]:
    return [found.word, found.why, found.follows.words]


# Shims.


def test_two_shims_inside_the_band_are_both_offered() -> None:
    """2.425 in place, 0.25 measured, 0.15 wanted, 0.11 to 0.18 good, shims every 0.05."""
    valve = model("valve-under-a-bucket")
    assert check(valve) == ()
    assert packs(valve, "shim", "0.25") == [("2.5", "2.5", "0.175"), ("2.55", "2.55", "0.125")]
    assert choose_pack(rule(valve, "shim"), Fraction("0.25")).choice.ideal == Fraction("2.525")


def test_the_sign_of_the_effect_is_the_models_own() -> None:
    turned = model("valve-under-a-bucket", ("= -1 mm clearance", "= +1 mm clearance"))
    assert packs(turned, "shim", "0.25") == [("2.3", "2.3", "0.125"), ("2.35", "2.35", "0.175")]


# Start, read, sizes, aim, limit: what is offered, the best first.
FLOATS = [
    ("1.00", "0.32", "1.15 to 1.71 mm step 0.01 mm", "0.05", "0.04 to 0.06", "1.27 1.26 1.28"),
    ("1.00", "0.33", "1.31 to 1.91 mm step 0.02 mm", "-0.13", "-0.14 to -0.12", "1.45 1.47"),
    ("1.10", "0.36", "1.40 to 2.20 mm step 0.05 mm", "-0.33", "-0.34 to -0.32", "1.8"),
]


@pytest.mark.parametrize("case", FLOATS)
def test_float_and_preload_keep_their_sign_and_the_grid_of_sizes(case: tuple[str, ...]) -> None:
    start, read, sizes, aim, limit, offered = case
    stand = model(
        "float-by-the-end-cover",
        ("start: 1.00 mm", f"start: {start} mm"),
        ("1.15 to 1.71 mm step 0.01 mm", sizes),
        ("aim: 0.05", f"aim: {aim}"),
        ("limit: 0.04 to 0.06", f"limit: {limit}"),
    )
    assert [total for _, total, _ in packs(stand, "ring", read)] == offered.split()


def test_a_gap_closed_by_shims_lists_both_packs_that_serve() -> None:
    """0.047 in without shims, 0.010 to 0.020 wanted: 0.025 leaves 0.022, 0.040 leaves 0.007."""
    pump = model("gap-of-a-wear-plate")
    assert packs(pump, "shims", "0.047") == [
        ("0.01 + 0.01 + 0.01", "0.03", "0.017"),
        ("0.01 + 0.01 + 0.01 + 0.005", "0.035", "0.012"),
    ]
    choice = choose_pack(rule(pump, "shims"), Fraction("0.047")).choice
    assert choice.over is not None
    assert choice.short is not None
    assert (number(choice.over.result), number(choice.short.result)) == ("0.022", "0.007")


def test_in_the_other_design_shims_open_the_gap() -> None:
    """Shims under the ring: 0.047 with 0.040 in wants less of them, not more."""
    pump = model(
        "gap-of-a-wear-plate",
        ("= -1 in gap", "= +1 in gap"),
        ("      at_most: 6\n", "      at_most: 6\n      start: 0.040 in\n"),
    )
    assert [(total, gives) for _, total, gives in packs(pump, "shims", "0.047")] == [
        ("0.01", "0.017"),
        ("0.005", "0.012"),
    ]


# Number on the gear, rule of the table, what it comes to, what the table says.
ROUNDED = [
    ("0-2 = 0, 3-7 = 5, 8-9 = 10", "0.53", "0.55", "0.4 + 0.15"),
    ("0-4 = 0, 5-9 = 10", "0.51", "0.5", "0.25 + 0.25"),
]


@pytest.mark.parametrize(("digits", "ideal", "rounded", "pack"), ROUNDED)
def test_the_rounding_of_a_table_is_the_models_own(
    digits: str, ideal: str, rounded: str, pack: str
) -> None:
    gear = model("depth-less-base", ("0-2 = 0, 3-7 = 5, 8-9 = 10", digits))
    found = choose_pack(rule(gear, "shims"), -Fraction(ideal))
    assert found.choice.ideal == Fraction(ideal)
    assert found.rounded is not None
    assert number(found.rounded) == rounded
    assert found.by_table is not None
    assert " + ".join(map(number, found.by_table.shims)) == pack


@pytest.mark.parametrize(("mark", "pack"), [("5", "0.35"), ("-3", "0.43")])
def test_a_pack_is_reckoned_from_its_inputs_and_no_middle_line(mark: str, pack: str) -> None:
    """A worked example prints 0.40 − 0.50 = 0.35 where 0.05 is meant."""
    gear = model("depth-less-base")
    found = judged(gear, "standing", depth="11.70", base="11.30 mm", mark=mark)
    assert found.results[0].figure == f"−{pack} mm"
    assert found.word == "out of limit"


# Readings.


def test_a_difference_of_two_caliper_readings_is_no_verdict() -> None:
    """0.025 to 0.050 mm from two readings, each good to 0.02: told to 0.04, more than the band."""
    bearing = model("clearance-by-caliper")
    assert said(judged(bearing, "clearance", bore="25.04", journal="25.00 mm")) == [
        "cannot be told",
        "0.04 mm is told only to 0.04 mm, and the limit (0.025 to 0.050 mm) is narrower than that",
        "take a finer gauge, or read it finer and type every decimal",
    ]
    by_words = model("clearance-by-caliper", ("with: caliper", "with: two calipers"))
    bore, journal = "25.040 ± 0.020 mm", "25.000 ± 0.020 mm"
    assert said(judged(by_words, "clearance", bore=bore, journal=journal))[:2] == [
        "cannot be told",
        "0.04 mm ± 0.04 mm may lie on either side of the limit (0.025 to 0.050 mm)",
    ]


def test_a_clearance_out_by_more_than_the_gauge_may_be_off_still_fails() -> None:
    bearing = model("clearance-by-caliper")
    assert said(judged(bearing, "clearance", bore="25.14", journal="25.00")) == [
        "renew",
        "0.14 mm is above the limit (0.025 to 0.050 mm)",
        "do not go on: renew Bush",
    ]


def test_a_journal_one_turn_of_the_thimble_too_large_is_measured_again() -> None:
    """0.025 in over size: a worn journal cannot have grown."""
    bearing = model("clearance-by-caliper")
    assert said(judged(bearing, "journal", it="1.0248")) == [
        "measure again",
        "1.0248 in is off by exactly 0.025 in, one turn of an inch thimble: measure again",
        "measure again, and compare the gauge with a setting piece",
    ]
    assert judged(bearing, "journal", it="0.9985").word == "renew"
    assert judged(bearing, "journal", it="0.9996").word == "accept"


def test_feeler_blades_wider_than_the_band_are_no_verdict() -> None:
    bearing = model("clearance-by-caliper")
    assert said(judged(bearing, "collar", it="0.0102"))[:2] == [
        "cannot be told",
        "0.0102 in is told only to 0.001 in, and the limit (0.0100 to 0.0105 in) "
        "is narrower than that",
    ]
    assert judged(bearing, "collar", it="0.014").word == "out of limit"


DRAGS = [
    ("8", "rework", "8 in·lbf is below the limit (15 to 30 in-lb)"),
    ("14", "rework", "14 in·lbf is below the limit (15 to 30 in-lb)"),
    ("22", "accept", "22 in·lbf is within 15 to 30 in-lb"),
    ("34", "renew", "34 in·lbf is above the limit (15 to 30 in-lb)"),
]


@pytest.mark.parametrize(("reading", "word", "why"), DRAGS)
def test_a_crushed_sleeve_is_tightened_on_or_renewed(reading: str, word: str, why: str) -> None:
    found = judged(model("sleeve-that-crushes"), "drag", it=reading)
    assert (found.word, found.why) == (word, why)
    assert "back" not in found.follows.words


def test_a_sleeve_crushed_too_far_takes_a_new_one_and_a_new_nut() -> None:
    follows = judged(model("sleeve-that-crushes"), "drag", it="34").follows
    assert follows.renew == ("sleeve", "nut")
    assert follows.again_from == ("pinion-in",)
    assert follows.words == (
        "do not go on: renew Crush sleeve and Pinion nut, and start again from `pinion-in`"
    )
    low = judged(model("sleeve-that-crushes"), "drag", it="8").follows
    assert low.words == "Tighten the nut a few degrees more, then check again"


def test_drag_is_read_before_the_shafts_add_theirs() -> None:
    axle = model("sleeve-that-crushes")
    assert plan(axle).order == ("pinion-in", "nut-on", "drag-read", "shafts-in")
    (finding,) = try_order(axle, ["pinion-in", "nut-on", "shafts-in", "drag-read"]).findings
    assert (finding.code, finding.severity, finding.step) == ("shut-out", "error", "drag-read")
    assert finding.facts[0].text == (
        "`shafts-in` fits `half-shafts`, which shuts “pinion alone”, "
        "a way in of `drag-read` for check `drag`"
    )


def test_a_drag_read_before_the_shafts_does_not_count_where_they_upset_it() -> None:
    axle = model(
        "sleeve-that-crushes",
        ("needs_open: {pinion alone: half-shafts}", "upset_by: shafts-in"),
        (
            "fits: half-shafts, after: nut-on}",
            "fits: half-shafts, after: drag-read}\n"
            "  shafts-free: {do: Draw the shafts back and turn it again., check: drag}",
        ),
    )
    (note,) = check(axle)
    assert (note.code, note.message) == (
        "stale",
        "`drag-read` takes check `drag` before `shafts-in`, which upsets it: "
        "that reading does not count in the end",
    )


def test_a_coupling_that_is_not_home_is_seated_again_before_any_bolt() -> None:
    """At least 1.00 in, 0.50 read."""
    drive = model("coupling-seated-first")
    assert said(judged(drive, "seated", it="0.50 in")) == [
        "again",
        "0.5 in is below the limit (at least 1.00 in)",
        "do not go on: change how the dogs stand by turning it while you push, then start again "
        "from `coupling-in`",
    ]
    assert judged(drive, "seated", it="1.00").follows.goes_on
    assert not judged(drive, "seated", it="0.98").follows.goes_on
    (finding,) = try_order(drive, ["coupling-in", "housing-up", "depth-read"]).findings
    assert finding.message == "`housing-up` stands before `depth-read`, which must come first"


TRIED = [("slides", 2, "cleaned", "Gland"), ("lies-flat", 3, "dressed", "Cover")]


@pytest.mark.parametrize(("name", "rounds", "step", "part"), TRIED)
def test_what_binds_or_rocks_is_tried_again_before_it_is_renewed(
    name: str, rounds: int, step: str, part: str
) -> None:
    """Cleaned, or dressed on the plate, and tried again: common practice, no source."""
    valve = model("tried-again-first")
    for turn in range(1, rounds):
        found = judged(valve, name, turn, it="bad")
        assert (found.word, found.follows.again_from) == ("again", (step,))
    last = judged(valve, name, rounds, it="bad")
    assert last.word == "renew"
    assert last.follows.words == f"do not go on: renew {part}, and start again from `{step}`"
    assert judged(valve, name, it="good").follows.goes_on


def test_a_table_of_shims_gives_each_reading_its_pack() -> None:
    table = shim_table(rule(model("gap-of-a-wear-plate"), "shims"), Fraction("0.001"))
    assert not isinstance(table, Unknown)
    assert [
        (number(row.first), number(row.last), " + ".join(map(number, row.pack)))
        for row in table[:4]
    ] == [
        ("0.015", "0.022", "0.005"),
        ("0.023", "0.027", "0.01"),
        ("0.028", "0.032", "0.01 + 0.005"),
        ("0.033", "0.037", "0.01 + 0.01"),
    ]
    assert table[-1].total is not None
    assert (number(table[-1].last), number(table[-1].total)) == ("0.08", "0.06")
