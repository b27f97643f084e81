"""What a torque block says: the figure, what is set for it, and what stands beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import assume, given
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, Defaults, Source
from sequencer.model.complete import complete
from sequencer.model.fastening import (
    ArmOn,
    Grade,
    Joint,
    OtherTorque,
    PassValue,
    TighteningPass,
    Tool,
    Torque,
    TurnLimit,
)
from sequencer.model.quantities import converted, read_amount
from sequencer.model.units import unit_for
from sequencer.planning.results import Plan
from sequencer.problem import Problem
from sequencer.sheets.figures import Figure
from sequencer.sheets.job import job_of
from sequencer.sheets.torques import Quote, TorqueBlock, torque_blocks, torque_texts
from sequencer.sheets.wrenches import PassLine, WrenchLine
from tests.sheets.making import amount, tools, torque
from tests.sheets.views import TIGHTEN, card, cards

WRENCH = Tool(
    id="w",
    name="Wrench 10 to 60 N·m",
    range_=amount("10 to 60 N·m"),
    reads=amount("1 N·m"),
    length=amount("450 mm"),
)
WITH_WRENCH = replace(TIGHTEN, tools=tools("w"))


def block(joint: Joint, **model: object) -> TorqueBlock:
    return card(TIGHTEN, joints=(joint,), **model).torques[0]


def set_with(joint: Joint, wrench: Tool = WRENCH) -> TorqueBlock:
    return card(WITH_WRENCH, joints=(joint,), tools=(wrench,)).torques[0]


def shares(*percent: int) -> tuple[TighteningPass, ...]:
    return tuple(
        TighteningPass(value=PassValue(f"{one} %", share=Fraction(one, 100))) for one in percent
    )


def also(text: str, source: str = "", why: str = "") -> OtherTorque:
    return OtherTorque(value=torque(text).value, source=source, why=why)


def test_torque_block_says_what_it_is_for_and_has_a_box_for_each_fastener() -> None:
    joint = Joint(
        id="j", thread="M10", grade=Grade(name="8.8"), count=8, torque=torque("38 N·m", why="soft")
    )
    shown = block(joint, defaults=Defaults(surface="oiled", source="sheet 12"))
    assert shown.about == "8 × M10, grade 8.8, threads oiled"
    assert shown.source == "sheet 12"
    assert shown.why == ("soft",)
    assert shown.boxes == tuple(map(str, range(1, 9)))
    assert shown.wrench


def test_figure_without_a_source_says_so() -> None:
    assert block(Joint(id="j", torque=torque("38 N·m"))).source == "no source given"


def test_joint_without_a_torque_has_no_figure_and_no_wrench() -> None:
    shown = block(Joint(id="j", count=4))
    assert (shown.figure, shown.source, shown.wrench) == (None, "", False)


def test_joint_without_a_torque_takes_that_of_its_step_once() -> None:
    step = replace(TIGHTEN, torque=torque("9 N·m", "card"))
    (shown,) = card(step, joints=(Joint(id="j", name="Screws", count=4),)).torques
    assert shown.figure == Figure("9 N·m", ("6.64 ft·lbf",))
    assert (shown.name, shown.source, shown.count) == ("Screws", "card", 4)


def test_finger_tight_needs_neither_wrench_nor_source() -> None:
    defaults = Defaults(source="sheet 12")
    shown = block(Joint(id="j", torque=torque("finger tight")), defaults=defaults)
    assert shown.figure is not None
    assert (shown.figure.large, shown.source, shown.wrench) == ("finger tight", "", False)


def test_very_many_fasteners_are_counted_on_one_line() -> None:
    assert block(Joint(id="j", count=60)).boxes[-1] == "60"
    assert block(Joint(id="j", count=61)).boxes == ()


def test_wrench_is_set_to_a_mark_within_the_band() -> None:
    shown = set_with(Joint(id="j", torque=torque("28 to 32 ft-lb")))
    assert shown.wrenches == (WrenchLine("Wrench 10 to 60 N·m", "41 N·m", "38 to 43.3 N·m", ()),)
    plain = set_with(Joint(id="j", torque=torque("40 N·m")))
    assert plain.wrenches == (WrenchLine("Wrench 10 to 60 N·m", "40 N·m", "", ()),)


def test_wrench_that_will_not_do_says_why() -> None:
    below = set_with(Joint(id="j", torque=torque("6 N·m")))
    assert [(line.setting, line.words) for line in below.wrenches] == [
        ("", ("below the scale: take another wrench",))
    ]
    low = set_with(Joint(id="j", torque=torque("11 N·m")))
    assert [(line.setting, line.words) for line in low.wrenches] == [
        ("11 N·m", ("low on the scale: a smaller wrench is truer",))
    ]
    coarse = set_with(Joint(id="j", torque=torque("40.2 to 40.4 N·m")))
    assert [(line.setting, line.words) for line in coarse.wrenches] == [
        ("", ("no mark of this wrench lies in the band",))
    ]


def test_wrenches_that_nobody_named_are_those_that_will_do() -> None:
    large = replace(WRENCH, id="large", name="Large", range_=amount("100 to 500 N·m"))
    joint = Joint(id="j", torque=torque("40 N·m"))
    shown = card(TIGHTEN, joints=(joint,), tools=(large, WRENCH)).torques[0]
    assert [line.name for line in shown.wrenches] == ["Wrench 10 to 60 N·m"]


def test_adapter_has_its_setting_beside_the_true_torque() -> None:
    arm = ArmOn(length=amount("150 mm"), angle=amount("0°"))
    shown = set_with(Joint(id="j", torque=torque("40 N·m"), adapter=arm))
    (line,) = shown.wrenches
    assert line.is_corrected
    assert line.setting == "30 N·m"  # 40 × 450 / (450 + 150)
    assert line.words == (
        "Adapter E 150 mm at 0°, wrench L 450 mm from grip to square: the fastener gets 40 N·m",
    )
    square = ArmOn(length=amount("150 mm"), angle=amount("90°"))
    (line,) = set_with(Joint(id="j", torque=torque("40 N·m"), adapter=square)).wrenches
    assert (line.setting, line.words) == ("40 N·m", ("Adapter E 150 mm at 90°: no correction",))
    assert not line.is_corrected
    (line,) = set_with(
        Joint(id="j", torque=torque("40 N·m"), adapter=arm), replace(WRENCH, length=None)
    ).wrenches
    assert line.setting == ""
    assert line.words == (
        "Wrench 10 to 60 N·m has no length, and its setting with the adapter needs it",
    )


def test_passes_are_in_the_wrenchs_units_and_end_in_the_round() -> None:
    joint = Joint(
        id="j", count=8, pattern="cross", torque=torque("55 N·m"), passes=shares(30, 60, 100)
    )
    shown = set_with(joint)
    assert shown.passes == (
        PassLine("1", "16 N·m", "30 %", "", "", is_actual=False),
        PassLine("2", "33 N·m", "60 %", "", "", is_actual=False),
        PassLine("3", "55 N·m", "100 %", "", "", is_actual=False),
        PassLine("final", "55 N·m", "100 %", "in the round, until none turns", "", is_actual=True),
    )
    assert [line.setting for line in shown.wrenches] == [""]  # the passes say what to set
    assert shown.order == "Order as drawn, from the black one – legacy cross pattern, ASME PCC-1"


def test_without_a_wrench_a_pass_is_a_share_of_the_figure() -> None:
    shown = block(Joint(id="j", count=4, torque=torque("40 ft-lb"), passes=shares(50, 100)))
    assert [line.large for line in shown.passes] == ["20 ft·lbf", "40 ft·lbf", "40 ft·lbf"]


def test_pass_that_no_wrench_reaches_is_what_it_comes_to() -> None:
    shown = set_with(Joint(id="j", count=4, torque=torque("30 N·m"), passes=shares(20, 100)))
    assert [(line.large, line.why) for line in shown.passes] == [
        ("6 N·m", "below the scale of the wrench"),
        ("30 N·m", ""),
        ("30 N·m", ""),
    ]


def test_angle_comes_after_all_the_torques_and_makes_them_single_use() -> None:
    joint = Joint(id="j", count=4, torque=torque("40 N·m then 90°", angle="90°"))
    shown = set_with(joint)
    assert [(line.large, line.way) for line in shown.passes] == [
        ("40 N·m", ""),
        ("90°", "every one, after all the torques"),
    ]
    assert shown.single_use
    assert not set_with(Joint(id="j", torque=torque("40 N·m"))).single_use


def test_limit_on_angles_names_the_passes() -> None:
    limit = TurnLimit(passes=("one", "two"), most=amount("90°"), source="card", why="it necks")
    joint = Joint(id="j", torque=torque("40 N·m"), turn_limit=limit)
    assert block(joint).turn_limit == "one and two together: at most 90°. Source: card – it necks"


def test_places_stand_with_their_turns() -> None:
    places = ("front left", "front right", "rear left", "rear right")
    joint = Joint(id="j", count=4, pattern="cross", places=places, torque=torque("9 N·m"))
    assert block(joint).boxes == (
        "1 · front left",
        "2 · rear left",
        "3 · front right",
        "4 · rear right",
    )
    assert block(replace(joint, pattern="")).boxes == places


def test_order_that_cannot_be_drawn_is_listed_and_one_that_cannot_be_given_says_why() -> None:
    many = block(Joint(id="j", count=40, pattern="around", torque=torque("9 N·m")))
    assert (many.picture, many.order) == (None, "Order as listed – around")
    lost = block(Joint(id="j", count=4, pattern="inside out", torque=torque("9 N·m")))
    assert lost.order == "Order “inside out”: inside out needs to know where the fasteners are"


def test_sources_that_disagree_are_all_told_and_none_is_taken() -> None:
    stated = Torque(value=torque("9 N·m").value, source="s", also=(also("14 N·m", "card"),))
    shown = card(
        TIGHTEN,
        joints=(Joint(id="j", count=3, torque=stated, passes=shares(50, 100)),),
        sources=(Source(id="s", name="Sheet 3"),),
    ).torques[0]
    assert shown.figure is None
    assert not shown.wrench
    assert shown.passes == ()
    assert shown.quotes == (
        Quote(Figure("9 N·m", ("6.64 ft·lbf",)), "Sheet 3", ""),
        Quote(Figure("14 N·m", ("10.3 ft·lbf",)), "card", ""),
    )


def test_figure_that_was_chosen_says_why_and_what_was_not_taken() -> None:
    stated = Torque(
        value=torque("60 ft-lb").value,
        also=(also("40 N·m", "card", "old"), also("50 N·m")),
        because="the thick cover",
        surface="dry",
        grade="5",
    )
    shown = block(Joint(id="j", torque=stated, surface="oiled", grade=Grade(name="8")))
    assert shown.figure == Figure("60 ft-lb", ("81.3 N·m",))
    assert shown.others == (
        "Not taken: 40 N·m, card – old",
        "Not taken: 50 N·m, no source given",
        "Taken because: the thick cover",
        "The figure is for threads that are dry and grade 5",
    )


def test_sources_that_agree_need_no_choice() -> None:
    stated = Torque(value=torque("150 N·m").value, also=(also("111 ft-lb", "card"),))
    shown = block(Joint(id="j", torque=stated))
    assert shown.figure is not None
    assert shown.others == ("Also: 111 ft-lb, card",)


def test_finding_stands_beside_the_figure_that_was_taken_all_the_same() -> None:
    stated = replace(torque("80 ft-lb"), because="the maker says so")
    assembly = complete(
        Assembly(assembly="a", steps=(TIGHTEN,), joints=(Joint(id="j", torque=stated),))
    )
    path = ("joints", "j", "torque")
    findings = (
        Problem("likely-unit-slip", "warning", "80 ft-lb is 12 times the usual", path=path),
        Problem("no-source", "note", "no source", path=path),
        Problem("adapter-setting", "note", "it is set to less", path=path),
        Problem("slack", "warning", "another joint", path=("joints", "k", "torque")),
    )
    job = job_of(
        assembly, Plan(("tighten",)), fingerprint="f", sheets=("steps",), findings=findings
    )
    (shown,) = torque_blocks(job, TIGHTEN)
    assert shown.told == ("80 ft-lb is 12 times the usual",)
    assert shown.figure is not None
    assert shown.figure.large == "80 ft-lb"


def test_left_hand_thread_is_told() -> None:
    assert block(Joint(id="j", thread="M20×1.5 LH", torque=torque("9 N·m"))).is_left_hand
    assert not block(Joint(id="j", thread="M20×1.5", torque=torque("9 N·m"))).is_left_hand
    assert not block(Joint(id="j", thread="left for now", torque=torque("9 N·m"))).is_left_hand


def test_drag_that_is_added_has_a_blank_for_each_nut_and_nothing_is_set_before() -> None:
    joint = Joint(
        id="j",
        thread="3/8-24",
        count=2,
        places=("left", "right"),
        drag="add",
        torque=torque("160 to 190 in-lb"),
    )
    inch = replace(WRENCH, range_=amount("40 to 250 in-lb"), reads=amount("2 in-lb"))
    shown = set_with(joint, inch)
    assert shown.drag is not None
    assert (shown.drag.added, shown.drag.rows) == (True, ("left", "right"))
    assert shown.drag.words == (
        "Self-locking: measure the drag before the nut seats, and add it to 160 to 190 in-lb."
    )
    # MSFC-STD-486B, table XI: 3/8, at most 80 in·lb going on.
    assert shown.drag.usual == (
        "Going on, at most 80 in·lbf (at most 9.03 N·m) by MSFC-STD-486B, table XI"
    )
    assert [(line.setting, line.band) for line in shown.wrenches] == [("", "160 to 190 in·lbf")]


def test_drag_that_is_included_is_measured_and_not_added() -> None:
    shown = set_with(Joint(id="j", drag="included", torque=torque("20 N·m")))
    assert shown.drag is not None
    assert (shown.drag.added, shown.drag.rows, shown.drag.usual) == (False, ("",), "")
    assert shown.drag.words == (
        "Self-locking: 20 N·m includes the drag. Measure it before the nut seats."
    )
    assert [line.setting for line in shown.wrenches] == ["20 N·m"]


def test_castle_nut_has_its_rule_in_words_and_no_one_setting() -> None:
    shown = set_with(Joint(id="j", align="castle", torque=torque("40 to 50 N·m")))
    assert shown.castle == (
        "Castle nut: tighten to the low end, then on until a slot lines up. The high end must not "
        "be passed: if no slot has lined up by then, change the washer or the nut. Never back off. "
        "Rule: FAA AC 43.13-1B"
    )
    assert [(line.setting, line.band) for line in shown.wrenches] == [("", "40 to 50 N·m")]


def test_checklist_tells_a_torque_that_nobody_has_chosen() -> None:
    stated = Torque(value=torque("9 N·m").value, also=(also("14 N·m"),))
    assembly = complete(
        Assembly(assembly="a", steps=(TIGHTEN,), joints=(Joint(id="j", torque=stated),))
    )
    job = job_of(assembly, Plan(("tighten",)), fingerprint="f", sheets=("checklist",))
    assert torque_texts(job, TIGHTEN) == ("torque not chosen",)


UNITS = ("N·m", "ft·lbf", "in·lbf", "kgf·cm")


@given(
    unit=st.sampled_from(UNITS),
    scale=st.sampled_from(UNITS),
    low=st.integers(20, 400),
    width=st.integers(1, 60),
    divisions=st.sampled_from(["0.5", "1", "2", "5", ""]),
)
def test_no_setting_leaves_its_band_through_rounding(
    unit: str, scale: str, low: int, width: int, divisions: str
) -> None:
    wrench = Tool(
        id="w",
        range_=amount(f"1 to 100000 {scale}"),
        reads=amount(f"{divisions} {scale}") if divisions else None,
    )
    stated = torque(f"{low} to {low + width} {unit}")
    shown = set_with(Joint(id="j", count=8, torque=stated, passes=shares(30, 60, 100)), wrench)
    for line, share in zip(shown.passes, (30, 60, 100, 100), strict=True):
        assume(line.large[0].isdigit() and "%" not in line.large)
        printed = read_amount(line.large, ("torque",))
        back = converted(printed.value, printed.unit, unit_for(unit)) * 100 / share
        assert back <= low + width
        if share == 100:
            assert low <= back
    single = set_with(Joint(id="j", torque=stated), wrench).wrenches[0]
    if single.setting:
        printed = read_amount(single.setting, ("torque",))
        assert low <= converted(printed.value, printed.unit, unit_for(unit)) <= low + width
        band = read_amount(single.band, ("torque",))
        assert band.low is not None
        assert band.high is not None
        assert low <= converted(band.low, band.unit, unit_for(unit))
        assert converted(band.high, band.unit, unit_for(unit)) <= low + width


def test_several_torques_of_one_step_each_have_their_block() -> None:
    joints = (Joint(id="j", torque=torque("9 N·m")), Joint(id="k", torque=torque("12 N·m")))
    step = replace(TIGHTEN, tighten=(*TIGHTEN.tighten, replace(TIGHTEN.tighten[0], to="k")))
    (shown,) = cards(step, joints=joints)
    figures = [block.figure.large for block in shown.torques if block.figure]
    assert figures == ["9 N·m", "12 N·m"]
