"""What is filled in beside the cards: isolation, the condition of parts, the torque record."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sequencer.model.assembly import Isolation
from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.fastening import (
    ArmOn,
    Joint,
    OtherTorque,
    PassValue,
    TighteningPass,
    Tool,
    Torque,
)
from sequencer.model.parts import Part
from sequencer.model.steps import OneOf, Step
from sequencer.sheets.condition import condition_view
from sequencer.sheets.isolation import Point, isolation_view
from sequencer.sheets.job import Ref
from sequencer.sheets.torque_record import JointRecord, RecordRow, torque_record_view
from tests.sheets.making import after, amount, limit, links, tools, torque
from tests.sheets.views import MEASURE, TIGHTEN, job

DISAGREEING = Torque(
    value=torque("9 N·m").value,
    source="s",
    also=(OtherTorque(value=torque("14 N·m").value, source="card"),),
)


# Isolation


def test_points_are_listed_with_tag_and_how() -> None:
    points = (Isolation(point="Switch", tag="L-1", how="Lock it."), Isolation(point="Cock"))
    view = isolation_view(job(isolation=points, joints=(Joint(id="j"),)))
    assert view.points == (Point(1, "Switch", "L-1", "Lock it."), Point(2, "Cock", "", ""))
    assert view.stages == ("locked", "proved dead", "restored")
    assert "Only authorised people isolate" in view.rules[1]
    assert "site's own rules" in view.rules[0]
    assert view
    assert not isolation_view(job(joints=(Joint(id="j"),)))


# The condition of parts


def test_part_with_checks_of_its_own_has_their_blanks_but_no_second_verdict() -> None:
    bore = Check(
        id="c",
        measure="Bore",
        limit=limit("5.00 to 5.02 mm", "card"),
        rework=Rework(how="Hone."),
        else_=Otherwise(renew=links("part", "p"), accept_by="foreman"),
    )
    part = Part(id="p", name="Case", number="007", inspect=links("check", "c"))
    (found,) = condition_view(job(MEASURE, parts=(part,), checks=(bore,))).parts
    assert (found.name, found.number, found.quantity) == ("Case", "007", "")
    (block,) = found.checks
    assert block.fields == ("reading", "after rework")
    assert block.source == "card"
    assert (block.verdicts, block.signs) == ((), "")
    assert found.later == ()
    assert found.signs == "foreman"


def test_of_several_pieces_each_has_a_blank() -> None:
    check = Check(id="c", measure="Roller", limit=limit("at least 5 mm"))
    part = Part(id="p", quantity=3, inspect=links("check", "c"))
    (found,) = condition_view(job(MEASURE, parts=(part,), checks=(check,))).parts
    assert found.quantity == "3 ×"
    assert found.checks[0].fields == ("no. 1", "no. 2", "no. 3")
    each = replace(check, each=("left", "right"))
    (found,) = condition_view(job(MEASURE, parts=(part,), checks=(each,))).parts
    assert found.checks[0].fields == ("left", "right")


def test_what_is_found_by_looking_keeps_its_words() -> None:
    check = Check(id="c", look="Face", good="even", bad="nick", else_=Otherwise(stop="foreman"))
    part = Part(id="p", inspect=links("check", "c"))
    (found,) = condition_view(job(MEASURE, parts=(part,), checks=(check,))).parts
    assert found.checks[0].verdicts == ("even", "nick")
    assert found.checks[0].fails == (("Stop. Tell: foreman",),)


def test_check_in_a_later_step_that_may_renew_a_part_is_referred_to() -> None:
    check = Check(
        id="c",
        measure="Gap",
        limit=limit("at most 0.3 mm"),
        else_=Otherwise(renew=links("part", "p")),
    )
    (found,) = condition_view(job(MEASURE, parts=(Part(id="p"),), checks=(check,))).parts
    assert found.checks == ()
    assert found.later == (("Gap: at most 0.3 mm (at most 0.0118 in), in ", Ref(1)),)


def test_part_that_nobody_looks_at_or_that_is_renewed_anyway_is_not_judged() -> None:
    check = Check(id="c", measure="Gap", else_=Otherwise(renew=links("part", "ring")))
    parts = (Part(id="plain"), Part(id="ring", renew="always"))
    assert not condition_view(job(MEASURE, parts=parts, checks=(check,)))


# The torque record


def record(joint: Joint, step: Step = TIGHTEN, tools: tuple[Tool, ...] = ()) -> JointRecord:
    (found,) = torque_record_view(job(step, joints=(joint,), tools=tools)).joints
    return found


def test_long_joints_are_split_and_every_grid_has_its_headings() -> None:
    found = record(Joint(id="j", count=20, pattern="cross", torque=torque("9 N·m")))
    assert [grid.columns for grid in found.grids] == [
        tuple(map(str, range(1, 9))),
        tuple(map(str, range(9, 17))),
        tuple(map(str, range(17, 21))),
    ]
    assert found.step == (Ref(1),)
    assert found.rows == (RecordRow("", "9 N·m", "actual", is_written=True),)


def test_early_passes_are_ticked_and_the_last_is_written_down() -> None:
    passes = tuple(
        TighteningPass(value=PassValue(f"{one} %", share=Fraction(one, 100))) for one in (50, 100)
    )
    wrench = Tool(id="w", range_=amount("5 to 60 N·m"), reads=amount("1 N·m"))
    step = replace(TIGHTEN, tools=tools("w"))
    joint = Joint(id="j", count=4, pattern="cross", torque=torque("40 N·m"), passes=passes)
    assert record(joint, step, tools=(wrench,)).rows == (
        RecordRow("1", "20 N·m", "50 %", is_written=False),
        RecordRow("2", "40 N·m", "100 %", is_written=False),
        RecordRow("final", "40 N·m", "100 %, in the round, until none turns", is_written=True),
    )


def test_with_an_adapter_the_record_has_what_is_set() -> None:
    wrench = Tool(
        id="w", range_=amount("5 to 60 N·m"), reads=amount("1 N·m"), length=amount("450 mm")
    )
    step = replace(TIGHTEN, tools=tools("w"))
    joint = Joint(id="j", torque=torque("40 N·m"), adapter=ArmOn(length=amount("150 mm")))
    assert record(joint, step, tools=(wrench,)).rows == (
        RecordRow("", "30 N·m", "set with the adapter, actual", is_written=True),
    )


def test_angles_come_after_all_the_torques() -> None:
    joint = Joint(id="j", count=4, torque=torque("40 N·m then 90°", angle="90°"))
    assert [row.large for row in record(joint).rows] == ["40 N·m", "90°"]


def test_drag_is_written_down_before_the_torque() -> None:
    joint = Joint(id="j", drag="add", torque=torque("9 N·m"))
    assert [row.text for row in record(joint).rows] == [
        "drag, measured",
        "to reach, from",
        "to reach, to",
        "actual",
    ]
    included = replace(joint, drag="included")
    assert [row.text for row in record(included).rows] == ["drag, measured", "actual"]


def test_very_many_fasteners_are_counted_in_the_record() -> None:
    assert record(Joint(id="j", count=61, torque=torque("9 N·m"))).grids == ()


def test_torque_that_is_not_chosen_has_nothing_to_fill_in() -> None:
    found = record(Joint(id="j", count=4, torque=DISAGREEING))
    assert (found.rows, found.grids) == ((), ())
    assert len(found.joint.quotes) == 2


def test_what_is_tightened_by_hand_is_not_recorded() -> None:
    hand = Joint(id="j", torque=torque("finger tight"))
    assert not torque_record_view(job(TIGHTEN, joints=(hand,)))


def test_torque_of_a_step_done_instead_is_recorded_too() -> None:
    first, other = Step(id="a", do="A."), Step(id="b", do="B.", torque=torque("9 N·m"))
    view = torque_record_view(
        job(first, other, one_of=(OneOf(steps=after("a", "b")),), instead={"a": ("b",)})
    )
    assert [found.step for found in view.joints] == [(Ref(1), ", what is done instead")]
