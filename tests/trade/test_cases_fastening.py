"""Fastening mistakes that happen at a bench, each in a small model, with what is then told.

The models are in tests/models/fastening; a variant of one is made by changing words of its text.
Figures are from public accounts of such mistakes, from published tables where named, or common
practice without a source where that is said.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.model.common import Link
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.findings import findings
from sequencer.trade.worked import WorkedJoint, bench_of
from tests.helpers import case

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem

CASES = Path(__file__).resolve().parent.parent / "models" / "fastening"


def model(name: str, *changes: tuple[str, str]) -> Assembly:
    return case(CASES / f"{name}.yaml", *changes)


def found(name: str, *changes: tuple[str, str]) -> list[Problem]:
    return list(findings(model(name, *changes)))


def only(name: str, *changes: tuple[str, str]) -> Problem:
    (finding,) = found(name, *changes)
    return finding


def work(name: str, joint: str, *changes: tuple[str, str]) -> WorkedJoint:
    assembly = model(name, *changes)
    return bench_of(assembly).worked(next(one for one in assembly.joints if one.id == joint))


def whole(finding: Problem) -> list[str]:
    """Give all that a finding says: grade, message, facts, why, fix."""
    head = f"{finding.severity}[{finding.code}] {finding.step}: {finding.message}"
    return [head, *(fact.text for fact in finding.facts), finding.why, finding.fix]


# Inch-pounds, foot-pounds, metre-kilograms.


def test_a_table_that_mixes_units_is_read_as_it_is_typed() -> None:
    cover = work("cover-in-inch-pounds", "cover-screws").torque
    assert found("cover-in-inch-pounds") == []
    assert cover is not None
    assert cover.amount is not None
    assert float(in_unit(cover.amount, "N·m")) == pytest.approx(11.98, abs=0.005)
    assert [one.text for one in cover.wrenches] == ["106 in·lbf"]


def test_inch_pounds_typed_as_foot_pounds_are_an_error_that_names_the_unit() -> None:
    slip, tool = found("cover-in-inch-pounds", ("106 in-lb", "106 ft-lb"))
    assert whole(slip) == [
        "error[likely-unit-slip] cover: `106 ft-lb` of joint `cover-screws` is 13.7 times what "
        "M6×1 of grade 8.8 wants, and would make sense as 106 in·lbf",
        "`106 ft-lb`: Service table 3",
        "M6×1 of grade 8.8 on threads that are dry wants about 7.75 ft·lbf, 75 % of its proof load",
        "the fastener would shear or strip its thread",
        "look the unit up again; if the figure is right as it stands, say why under `because`",
    ]
    assert (tool.code, tool.fix) == (
        "outside-range",
        "use `foot-pounds`: it is set to 106 ft·lbf for it",
    )


def test_without_a_grade_the_strongest_is_taken_and_the_slip_still_found() -> None:
    slip, *_ = found(
        "cover-in-inch-pounds", ("106 in-lb", "106 ft-lb"), (', grade: "8.8", surface: dry', "")
    )
    assert slip.message == (
        "`106 ft-lb` of joint `cover-screws` is 8.18 times what M6×1 of even the strongest grade, "
        "12.9, wants, and would make sense as 106 in·lbf"
    )


def test_a_figure_with_a_reason_is_told_of_and_no_error() -> None:
    slip, _ = found(
        "cover-in-inch-pounds",
        ("torque: 106 in-lb", "torque: {value: 106 ft-lb, because: The maker says so twice}"),
    )
    assert slip.severity == "warning"
    assert slip.facts[-1].text == "because: The maker says so twice"


def test_one_figure_in_two_units_that_differ_is_told_and_none_is_taken() -> None:
    units, choice = found("cover-in-inch-pounds", ("value: 10 ft-lb", "value: 14 ft-lb"))
    assert whole(units) == [
        "warning[units-disagree] plate: one source gives joint `plate-screws` figures that are "
        "not the same: `14 N·m` and `14 ft-lb` cannot both be right",
        "`14 N·m`",
        "`14 ft-lb` is 19 N·m",
        "one of them is a slip, and the builder may tighten to that one",
        "look the figure up again in its source, and mend the one that is wrong",
    ]
    assert choice.code == "not-chosen"


def test_a_figure_six_times_the_published_most_is_an_error() -> None:
    """1/4-28: 50 to 70 in·lbf, 100 at most: FAA AC 43.13-1B, table 7-1."""
    assert found("bolts-of-an-inch-pound-table") == []
    finding = only("bolts-of-an-inch-pound-table", ("50 to 70 in-lb", "50 ft-lb"))
    assert whole(finding) == [
        "error[likely-unit-slip] bracket: `50 ft-lb` of joint `bracket-bolts` is 6 times the "
        "published most for 1/4-28, and would make sense as 50 in·lbf",
        "`50 ft-lb`: Table of the bracket",
        "the published most for 1/4-28 is 8.33 ft·lbf (FAA AC 43.13-1B, table 7-1)",
        "the fastener would shear or strip its thread",
        "look the unit up again; if the figure is right as it stands, say why under `because`",
    ]


def test_metre_kilograms_are_understood_and_taken_for_newton_metres_they_slip() -> None:
    assert found("old-press-in-metre-kilograms") == []
    finding = only("old-press-in-metre-kilograms", ("80 kgf·cm", "80 N·m"))
    assert (finding.code, finding.severity, finding.step) == ("likely-unit-slip", "error", "gib")
    assert finding.message == (
        "`80 N·m` of joint `gib-screws` is 10.2 times what M6×1 of grade 8.8 wants, and would "
        "make sense as 80 in·lbf"
    )


def test_a_figure_typed_far_too_small_slips_the_other_way() -> None:
    finding = only("old-press-in-metre-kilograms", ("3.2 m-kg", "3.2 N·m"))
    assert (finding.code, finding.severity) == ("likely-unit-slip", "error")
    assert finding.message == (
        "`3.2 N·m` of joint `ram-nuts` is 11.8 times less than what M10×1.5 of grade 8.8 wants, "
        "and would make sense as 3.2 kgf·m"
    )


def test_a_small_cover_screw_belongs_on_an_inch_pound_wrench() -> None:
    """Common practice, no source: 80 in·lbf is 9.0 N·m; typed as 80 ft·lbf it is a slip."""
    right = work("cover-in-inch-pounds", "cover-screws", ("106 in-lb", "80 in-lb")).torque
    assert right is not None
    assert right.amount is not None
    assert float(in_unit(right.amount, "N·m")) == pytest.approx(9.0, abs=0.05)
    assert [(one.tool.id, one.text) for one in right.wrenches] == [("inch-pounds", "80 in·lbf")]
    assert found("cover-in-inch-pounds", ("106 in-lb", "80 in-lb")) == []
    slip, _ = found("cover-in-inch-pounds", ("106 in-lb", "80 ft-lb"))
    assert (slip.severity, slip.message) == (
        "error",
        "`80 ft-lb` of joint `cover-screws` is 10.3 times what M6×1 of grade 8.8 wants, and would "
        "make sense as 80 in·lbf",
    )


# Figures that contradict each other, or are for something else.


def test_a_bigger_thread_with_the_lower_torque_is_asked_about() -> None:
    """At a nut factor of 0.2, 9,600 lbf (42.7 kN) against 1,760 lbf (7.83 kN)."""
    assert whole(only("nuts-of-a-cylinder")) == [
        "warning[bigger-thread-lower-torque] gland: joint `gland-nut` has a bigger thread than "
        "joint `piston-nut` and a lower torque: 3/4-16 with `22 ft-lb`, 9/16-18 with `90 ft-lb`",
        "joint `gland-nut`: `22 ft-lb` clamps with about 7.83 kN",
        "joint `piston-nut`: `90 ft-lb` clamps with about 42.7 kN",
        "a digit may have been lost: the bigger one would clamp far less than the smaller",
        "look both figures up again: whoever wrote them has to say",
    ]
    assert found("nuts-of-a-cylinder", ("22 ft-lb", "220 ft-lb")) == []


def test_a_dry_figure_on_oiled_threads_is_a_question_to_the_maker() -> None:
    """One table takes 40 % off 628 ft·lbf for oil, which makes 377; others 15 to 50 %."""
    assert whole(only("dry-figure-on-oiled-threads")) == [
        "warning[surface-mismatch] down: the torque of joint `foundation-bolts` is for dry "
        "threads, and it has oiled threads",
        "`628 ft-lb` is for dry threads",
        "joint `foundation-bolts` has oiled threads",
        "what is on the threads changes the pull at one torque by half or more",
        "ask the maker for the figure for these threads: about 471 ft·lbf, 345 to 628 ft·lbf, is "
        "what to ask about, and no figure to use",
    ]
    shown = work("dry-figure-on-oiled-threads", "foundation-bolts").torque
    assert shown is not None
    assert shown.amount is not None
    assert shown.amount.text == "628 ft-lb", "the figure is never scaled"
    dry = ("    surface: oiled\n", "    surface: dry\n")
    assert found("dry-figure-on-oiled-threads", dry) == []


def test_a_locker_put_on_threads_said_to_be_dry_is_told_at_its_step() -> None:
    changes = (
        ("    surface: oiled\n", "    surface: dry\n"),
        ("joints:\n", "compounds: {locker: {name: Blue locker, kind: threadlocker}}\njoints:\n"),
        (
            "tighten: foundation-bolts}",
            "apply: {compound: locker, to: threads}, tighten: foundation-bolts}",
        ),
    )
    finding = only("dry-figure-on-oiled-threads", *changes)
    assert (finding.code, finding.message) == (
        "surface-mismatch",
        "the torque of joint `foundation-bolts` is for dry threads, and `down` puts Blue locker on",
    )


def test_two_charts_for_one_screw_are_listed_and_none_is_taken() -> None:
    assert whole(only("figures-of-two-charts")) == [
        "warning[not-chosen] guard: no torque is chosen for joint `guard-screws`: its sources "
        "give `25 ft-lb` and `37 ft-lb`",
        "`25 ft-lb`: Chart page 3, for grade 5",
        "`37 ft-lb`: Chart page 4, for grade 8",
        "nothing is printed to tighten to, and every page is a DRAFT, until someone chooses",
        "find out which holds, write it as `value`, and say why under `because`",
    ]
    torque = work("figures-of-two-charts", "guard-screws").torque
    assert torque is not None
    assert (torque.amount, torque.wrenches) == (None, ())


def test_the_grade_of_a_figure_must_be_that_of_the_fastener() -> None:
    finding = found(
        "figures-of-two-charts",
        ('    grade: "5"\n    surface', '    grade: "8"\n    surface'),
        ('      also: [{value: 37 ft-lb, grade: "8", source: page-4}]\n', ""),
    )[0]
    assert whole(finding) == [
        "warning[grade-mismatch] guard: the torque of joint `guard-screws` is for grade 5, and "
        "its fasteners are grade 8",
        "`25 ft-lb` is for grade 5",
        "the fasteners are grade 8",
        "a figure belongs to one strength of fastener: on a weaker one it is too much",
        "look the figure up for the fasteners that are there, or get those that it is for",
    ]


def test_of_sources_that_disagree_nothing_is_taken_until_someone_says_why() -> None:
    """Common practice, no source: 55 to 60 in one, 65 in another; 60 ft·lbf is 81.3 N·m."""
    torque = "torque: 20 N·m"
    both = "torque: {value: 55 to 60 ft-lb, also: [{value: 65 ft-lb, source: old card}]}"
    chosen = both.replace("]}", "], because: The old card is for the coarse stud}")
    change = ('    thread: M8\n    grade: "8.8"\n', '    thread: M14\n    grade: "8.8"\n')
    wrench = ("10 to 60 N·m", "20 to 120 N·m")
    (open_,) = found("studs-and-nuts", change, wrench, (torque, both))
    assert [fact.text for fact in open_.facts] == [
        "`55 to 60 ft-lb`: Card of the frame",
        "`65 ft-lb`: old card",
    ]
    assert (open_.code, open_.severity) == ("not-chosen", "warning")
    (told,) = found("studs-and-nuts", change, wrench, (torque, chosen))
    assert whole(told) == [
        "warning[sources-disagree] nuts-on: the sources of joint `frame-nuts` disagree: "
        "`55 to 60 ft-lb` is taken, and not `65 ft-lb`",
        "`55 to 60 ft-lb`: Card of the frame",
        "`65 ft-lb`: old card",
        "taken because: The old card is for the coarse stud",
        "of figures that do not overlap at most one is right for this joint",
        "ask the maker which one holds, and leave out what does not",
    ]
    sixty = work("studs-and-nuts", "frame-nuts", change, wrench, (torque, "torque: 60 ft-lb"))
    assert sixty.torque is not None
    assert sixty.torque.amount is not None
    assert float(in_unit(sixty.torque.amount, "N·m")) == pytest.approx(81.3, abs=0.05)


# Wrenches and adapters.

ADAPTERS = [
    ("6 in, angle: 0°", "225 ft·lbf", Fraction(1, 4), "set to 300 ft·lbf, it would put 400 ft·lbf"),
    (
        "6 in, angle: 180°",
        "450 ft·lbf",
        Fraction(-1, 2),
        "set to 300 ft·lbf, it would put 200 ft·lbf",
    ),
]


@pytest.mark.parametrize(("adapter", "setting", "correction", "wrong"), ADAPTERS)
def test_an_adapter_changes_the_setting_by_its_reach(
    adapter: str, setting: str, correction: Fraction, wrong: str
) -> None:
    """300 ft·lbf on 18 in: US Army TM 1-1500-204-23-9 gives the two cases in line."""
    change = ("6 in, angle: 0°", adapter)
    torque = work("nut-behind-a-pipe", "union-nut", change).torque
    assert torque is not None
    assert [(one.text, one.correction) for one in torque.wrenches] == [(setting, correction)]
    finding = only("nut-behind-a-pipe", change)
    assert (finding.severity, finding.code) == ("note", "adapter-setting")
    assert finding.message == f"`tw` with the adapter is set to {setting} for joint `union-nut`"
    assert finding.why == f"{wrong} on the fastener"


def test_at_a_right_angle_it_is_told_that_no_correction_is_due() -> None:
    """Some hand-outs correct at 90° and nowhere else."""
    assert whole(only("nut-behind-a-pipe", ("angle: 0°", "angle: 90°"))) == [
        "note[adapter-setting] union: no correction is due for the adapter of joint `union-nut`: "
        "at 90° it changes nothing",
        "square to the wrench an adapter makes it neither longer nor shorter",
        "set `tw` to the torque itself, and keep the adapter square to it",
    ]


@pytest.mark.parametrize(("wrench", "told"), [("18 in", True), ("30 in", False)])
def test_a_short_adapter_is_told_of_when_it_leaves_the_band_and_reckoned_always(
    wrench: str, *, told: bool
) -> None:
    """1 in is 5.3 % of 18 in and 3.2 % of 30 in, on a figure held to 4 % (ISO 6789)."""
    changes = (("6 in, angle: 0°", "1 in"), ("length: 18 in", f"length: {wrench}"))
    plain = (", reads: 5 ft-lb", "")
    assert bool(found("nut-behind-a-pipe", *changes, plain)) == told
    torque = work("nut-behind-a-pipe", "union-nut", *changes, plain).torque
    assert torque is not None
    assert torque.wrenches[0].text == {"18 in": "284 ft·lbf", "30 in": "290 ft·lbf"}[wrench]


def test_without_the_wrench_s_length_nobody_can_tell_the_setting() -> None:
    assert whole(only("nut-behind-a-pipe", (", length: 18 in", ""))) == [
        "warning[adapter-unknown] union: `tw` has no `length`, and its setting with the adapter "
        "needs it, for joint `union-nut`",
        "the adapter of joint `union-nut`",
        "an adapter that lies along the wrench changes the torque that the fastener gets",
        "write its `length`, from the middle of its grip to its square",
    ]


def test_a_wrench_outside_its_range_is_refused_and_the_right_one_named() -> None:
    assert whole(only("small-torque-on-a-big-wrench")) == [
        "warning[outside-range] cover: `big` is outside its range for `106 in-lb` of joint "
        "`cover-screws`: it would be set to 8.83 ft·lbf, and is used from 30 to 150 ft·lbf",
        "below a fifth of its scale a torque wrench is not to be trusted",
        "use `small`: it is set to 106 in·lbf for it",
    ]
    assert found("small-torque-on-a-big-wrench", ("tools: big", "tools: [[big, small]]")) == []


def test_with_an_adapter_the_setting_is_compared_with_the_range() -> None:
    """45 in·lbf is on the scale from 40 on; with 2 in on 10 in it is set to 37.5, and is not."""
    small = (("tools: big", "tools: small"), ("106 in-lb", "45 in-lb"))
    assert found("small-torque-on-a-big-wrench", *small) == []
    longer = ("torque: 106 in-lb", "torque: 45 in-lb, adapter: 2 in")
    first = found("small-torque-on-a-big-wrench", small[0], longer)[0]
    assert (first.code, first.message) == (
        "no-tool",
        "no torque wrench of the model reaches `45 in-lb` of joint `cover-screws`",
    )
    assert first.facts[0].text == (
        "`small`: it would be set to 37.5 in·lbf, and is used from 40 to 200 in·lbf"
    )


def test_a_torque_between_two_marks_is_told_with_the_wrench_that_shows_it() -> None:
    changes = (("106 in-lb", "612 to 618 in-lb"), ("M6", "M12"))
    finding = only("small-torque-on-a-big-wrench", *changes, ("reads: 1 ft-lb", "reads: 5 ft-lb"))
    assert finding.message == (
        "`big` has no mark for `612 to 618 in-lb` of joint `cover-screws`: "
        "none lies from 51 ft·lbf to 51.5 ft·lbf, at 5 ft·lbf a division"
    )


# Passes and angles.


def test_the_bolts_of_the_head_have_eight_passes_in_the_order_prescribed() -> None:
    head = work("head-in-passes", "head-bolts")
    assert found("head-in-passes") == []
    assert len(head.passes) == 8
    assert head.order == (1, 6, 3, 8, 5, 10, 7, 2, 9, 4)


def test_no_bolt_is_turned_by_an_angle_before_all_are_at_42() -> None:
    head = work("head-in-passes", "head-bolts")
    at_42 = [at for at, one in enumerate(head.passes) if one.text == "42 N·m"]
    turns = [at for at, one in enumerate(head.passes) if one.kind == "angle"]
    assert len(at_42) == 1
    assert min(turns) > max(at_42)
    assert not any(
        setting for one in head.passes if one.kind in ("angle", "back") for setting in one.settings
    ), "no torque wrench is set for an angle"
    assert head.single_use


def test_a_limit_on_the_two_small_turns_holds_and_one_degree_more_is_told() -> None:
    finding = only(
        "head-in-passes",
        ("      - {value: 40 to 45°, name: third turn}", "      - {value: 46°, name: third turn}"),
    )
    assert whole(finding) == [
        "warning[turn-limit] head: the limit on `second turn` and `third turn` of joint "
        "`head-bolts` may be passed: they come to up to 91°, and 90° is the most",
        "pass 7 turns `40 to 45°`",
        "pass 8 turns `46°`",
        "the most in all is `90°`",
        "a bolt turned too far is stretched beyond use, and nobody sees it",
        "look up which passes the limit is for, and name those",
    ]


def test_a_limit_that_cannot_be_meant_is_told() -> None:
    finding = only(
        "head-in-passes", ("passes: [second turn, third turn]", "passes: [first turn, second turn]")
    )
    assert finding.message == (
        "the limit on `first turn` and `second turn` of joint `head-bolts` contradicts them: "
        "they come to at least 120°, and 90° is the most"
    )


def test_a_limit_goes_by_the_names_of_passes_and_not_by_numbers() -> None:
    finding = only(
        "head-in-passes", ("passes: [second turn, third turn]", "passes: [second turn, 8]")
    )
    assert whole(finding) == [
        "warning[no-such-pass] head: `turn_limit` of joint `head-bolts` names `8`, which is no "
        "pass of it",
        "passes are named and not numbered, since numbers shift when a pass is added",
        "name those that the limit is for: `first turn`, `second turn`, `third turn`",
    ]


def test_bolts_of_three_lengths_have_an_angle_each() -> None:
    assert found("bolts-of-three-lengths") == []
    angles = {
        name: work("bolts-of-three-lengths", name).passes[-1].text
        for name in ("short-bolts", "middle-bolts", "long-bolts")
    }
    assert angles == {"short-bolts": "55°", "middle-bolts": "65°", "long-bolts": "75°"}


PASSES = [
    (("- 29 N·m", "- 80 N·m"), "pass-order", "fall: `80 N·m`, then `69 N·m`"),
    (("- 29 N·m", "- back 90°"), "pass-order", "and nothing is tightened by then"),
    (("    torque: 42 N·m", "    torque: 50 N·m"), "pass-short", "and its figure is `50 N·m`"),
    (("    torque: 42 N·m\n", ""), "", ""),
]


@pytest.mark.parametrize(("change", "code", "ends"), PASSES)
def test_passes_rise_between_one_backing_off_and_the_next(
    change: tuple[str, str], code: str, ends: str
) -> None:
    told = found("head-in-passes", change)
    assert [finding.code for finding in told] == ([code] if code else [])
    assert all(finding.message.endswith(ends) for finding in told)


# Lengths.

SCREWS = [
    ("35 mm", ["warning short-engagement"]),
    ("40 mm", ["note needs-washers"]),
    ("45 mm", ["error bottoms-out"]),
]


@pytest.mark.parametrize(("screw", "told"), SCREWS)
def test_a_screw_in_a_blind_hole_is_neither_too_short_nor_too_long(
    screw: str, told: list[str]
) -> None:
    """M8 in 15 mm of thread through 25 mm and a washer of 2.5: 7.5, 12.5 or 17.5 mm go in."""
    findings_ = found("screws-in-blind-holes", ("40 mm", screw))
    assert [f"{finding.severity} {finding.code}" for finding in findings_] == told


def test_a_screw_that_bottoms_out_is_told_with_what_goes_in() -> None:
    assert whole(only("screws-in-blind-holes", ("40 mm", "45 mm"))) == [
        "error[bottoms-out] seat: the fastener of joint `seat-screws` is 2.5 mm too long for its "
        "hole: 17.5 mm of it go in",
        "the fastener is 45 mm long under its head",
        "what it clamps is 25 mm thick",
        "the washers are 2.5 mm together",
        "the hole has full thread for 15 mm",
        "at the bottom the torque is reached, and nothing is clamped",
        "use one of less than 42.5 mm",
    ]


def test_a_screw_clear_only_with_its_washer_is_told_of() -> None:
    finding = only("screws-in-blind-holes")
    assert finding.message == (
        "without its washers the fastener of joint `seat-screws` just touches the bottom of its "
        "hole: 15 mm of it go in"
    )


def test_too_little_thread_is_told_with_what_is_wanted() -> None:
    finding = only("screws-in-blind-holes", ("40 mm", "35 mm"))
    assert (finding.message, finding.fix) == (
        "7.5 mm of the thread of joint `seat-screws` carry, and in aluminium it should be 12 mm",
        "use one longer by at least 4.5 mm",
    )


def test_a_distance_kept_off_the_bottom_counts() -> None:
    kept = ("    hole: 15 mm\n", "    hole: {depth: 15 mm, keep_off: 3 mm}\n")
    finding = only("screws-in-blind-holes", kept)
    assert (finding.code, finding.message) == (
        "bottoms-out",
        "the fastener of joint `seat-screws` ends 2.5 mm from the bottom of its hole, where 3 mm "
        "are to be kept: 12.5 mm of it go in",
    )


def test_a_screw_in_the_space_of_a_later_part_is_an_error_that_names_the_part() -> None:
    assert whole(only("screw-into-the-bracket-space")) == [
        "error[sticks-out] idler: the fastener of joint `idler-joint` sticks out 23 mm, 13 mm more "
        "than the 10 mm that `camera-bracket` leaves it",
        "the fastener is 45 mm long under its head",
        "what it clamps is 22 mm thick",
        "10 mm are free behind it",
        "`camera` fits `camera-bracket` there",
        "`camera-bracket` would not go in, or would be damaged",
        "use one shorter by at least 13 mm",
    ]
    assert found("screw-into-the-bracket-space", ("45 mm", "30 mm")) == []
    nobody = found("screw-into-the-bracket-space", (", part: camera-bracket", ""))
    assert [(each.severity, each.code) for each in nobody] == [("warning", "sticks-out")]


def test_a_stud_goes_in_finger_tight_and_its_nut_takes_the_torque() -> None:
    """Common practice, no source."""
    assert found("studs-and-nuts") == []
    studs, nuts = work("studs-and-nuts", "frame-studs"), work("studs-and-nuts", "frame-nuts")
    assert [(one.kind, one.text, one.settings) for one in studs.passes] == [
        ("hand", "finger tight", ())
    ]
    assert nuts.torque is not None
    assert [one.text for one in nuts.torque.wrenches] == ["20 N·m"]


def test_a_stud_stays_clear_of_what_lies_under_its_open_hole() -> None:
    """Common practice, no source: 20 mm are free, and 3 mm of them are to be kept."""
    clear = work("studs-and-nuts", "frame-studs").length
    assert clear is not None
    assert clear.too_far_mm == 0
    finding = only("studs-and-nuts", ("    length: 29 mm", "    length: 30 mm"))
    assert (finding.severity, finding.message) == (
        "error",
        "the fastener of joint `frame-studs` sticks out 18 mm, 1 mm more than the 17 mm that "
        "`brush` leaves it",
    )
    assert finding.facts[2].why == "20 mm are free and 3 mm are to be kept"


# What cannot be told.


def test_what_is_missing_is_said_and_nothing_guessed() -> None:
    finding = only("screws-in-blind-holes", ("    grip: 25 mm\n", ""))
    assert (finding.message, finding.fix) == (
        "joint `seat-screws` has `hole`, and without `grip` nobody can tell how far its fastener "
        "goes",
        "measure it: `grip`, how thick what it clamps is, without washers",
    )
    material = only(
        "screws-in-blind-holes",
        ("material: aluminium, least: 12 mm", "material: zinc"),
        ("40 mm", "38 mm"),
    )
    assert material.message == "joint `seat-screws`: no rule is known here for a thread in `zinc`"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (
            ("thread: M6, count: 6", "thread: M6.5, count: 6"),
            "`M6.5` is not in the table of threads (ISO 261), so nothing about joint "
            "`cover-screws` is checked against it",
        ),
        (
            ("thread: M6, count: 6", 'thread: M6, count: 6, grade: "8.7"'),
            "joint `cover-screws`: grade `8.7` is not one known here for M6×1, so the torque is "
            "not checked against the bolt",
        ),
    ],
)
def test_an_unknown_thread_or_grade_turns_the_check_off_in_words(
    change: tuple[str, str], message: str
) -> None:
    finding = only("cover-in-inch-pounds", change)
    assert (finding.severity, finding.message) == ("warning", message)
    assert isinstance(work("cover-in-inch-pounds", "cover-screws", change).check, Unknown)


def test_a_torque_of_a_step_is_checked_as_far_as_it_can_be() -> None:
    assembly = model("studs-and-nuts")
    joint = assembly.joints[1]
    assert joint.torque is not None
    *others, last = assembly.steps
    bare = replace(joint.torque, also=(), source="")
    step = replace(last, tighten=(), torque=replace(bare, value=replace(bare.value)))
    no_default = replace(assembly, steps=(*others, step), joints=assembly.joints[:1])
    no_default = replace(no_default, defaults=replace(assembly.defaults, source=""))
    (finding,) = findings(no_default)
    assert (finding.code, finding.severity, finding.step) == ("no-source", "note", "nuts-on")
    assert finding.message == "the torque of step `nuts-on` has no source"
    assert finding.path == ("steps", "nuts-on", "torque")


def test_a_step_s_torque_is_that_of_a_joint_that_states_none() -> None:
    assembly = model("cover-in-inch-pounds", ("106 in-lb", "106 ft-lb"))
    joint, other = assembly.joints
    first, second = assembly.steps
    moved = replace(
        assembly,
        joints=(replace(joint, torque=None), other),
        steps=(replace(first, torque=joint.torque, tighten=(Link(joint.id, "joint"),)), second),
    )
    slip, _ = findings(moved)
    assert (slip.code, slip.path) == ("likely-unit-slip", ("steps", "cover", "torque"))


def test_every_model_of_a_case_is_read_here() -> None:
    here = Path(__file__).read_text(encoding="utf-8")
    assert [file.stem for file in CASES.glob("*.yaml") if f'"{file.stem}"' not in here] == []
