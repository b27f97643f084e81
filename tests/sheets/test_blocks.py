"""What stands in a frame on a step's card."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Defaults
from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.common import Link
from sequencer.model.fastening import Grade, Joint, Tool
from sequencer.model.parts import Part
from sequencer.model.steps import OneOf, Step
from sequencer.sheets.blocks import CheckBlock, TorqueBlock
from sequencer.sheets.job import Ref
from tests.sheets.making import after, amount, limit, links, torque
from tests.sheets.views import MEASURE, TIGHTEN, card, cards


def block(joint: Joint, **model: object) -> TorqueBlock:
    return card(TIGHTEN, joints=(joint,), **model).torques[0]


def test_torque_block_says_what_it_is_for_and_has_a_box_for_each_fastener() -> None:
    joint = Joint(
        id="j", thread="M10", grade=Grade(name="8.8"), count=8, torque=torque("38 N·m", why="soft")
    )
    shown = block(joint, defaults=Defaults(surface="oiled", source="sheet 12"))
    assert shown.about == "8 × M10, grade 8.8, threads oiled"
    assert shown.source == "sheet 12"
    assert shown.why == ("soft",)
    assert shown.boxes == tuple(range(1, 9))
    assert shown.wrench


def test_figure_without_a_source_says_so() -> None:
    assert block(Joint(id="j", torque=torque("38 N·m"))).source == "no source given"


def test_joint_without_a_torque_has_no_figure_and_no_wrench() -> None:
    shown = block(Joint(id="j", count=4))
    assert (shown.figure, shown.source, shown.wrench) == (None, "", False)


def test_finger_tight_needs_neither_wrench_nor_source() -> None:
    shown = block(Joint(id="j", torque=torque("finger tight")))
    assert shown.figure is not None
    assert (shown.figure.large, shown.source, shown.wrench) == ("finger tight", "", False)


def test_very_many_fasteners_are_counted_on_one_line() -> None:
    assert block(Joint(id="j", count=60)).boxes[-1] == 60
    assert block(Joint(id="j", count=61)).boxes == ()


def check_block(check: Check, **model: object) -> CheckBlock:
    return card(MEASURE, checks=(check,), **model).checks[0]


def test_limit_alone_is_accepted_or_out() -> None:
    shown = check_block(Check(id="c", measure="Gap", limit=limit("0.1 to 0.2 mm"), with_="feeler"))
    assert (shown.verb, shown.what, shown.gauge) == ("Measure", "Gap", "feeler")
    assert shown.readings == ("reading",)
    assert shown.verdicts == ("accept", "out of limit")
    assert shown.source == "no source given"


def test_verdicts_are_those_that_apply() -> None:
    check = Check(
        id="c",
        measure="Bore",
        limit=limit("25.02 to 25.06 mm"),
        rework=Rework(limit=limit("24.98 to 25.02 mm"), how="Hone."),
        else_=Otherwise(renew=links("part", "gland"), accept_by="engineer"),
        with_="gauge",
    )
    tools = (Tool(id="gauge", name="Bore gauge", reads=amount("0.01 mm")),)
    parts = (Part(id="gland", name="Gland"),)
    shown = check_block(check, tools=tools, parts=parts)
    assert shown.verdicts == ("accept", "rework", "renew", "accept as it is")
    assert shown.readings == ("reading", "after rework")
    assert shown.rework == ("24.98 to 25.02 mm (0.9835 to 0.9850 in)", "Hone.")
    assert shown.gauge == "Bore gauge, reads 0.01 mm"
    assert shown.fails == (("Renew: Gland",), ("May be accepted as it is by: engineer",))


def test_rounds_of_a_repeated_check_each_have_a_blank() -> None:
    again = Otherwise(again_from=after("measure", why="it settles"), change="the shims", most=4)
    shown = check_block(Check(id="c", measure="Float", limit=limit("0.1 to 0.2 mm"), else_=again))
    assert shown.readings == ("round 1", "round 2", "round 3", "round 4")
    assert shown.verdicts == ("accept", "again")
    assert shown.fails == (
        ("Change: the shims",),
        ("Start again from ", Ref(1), ", at most 4 rounds"),
        ("it settles",),
    )


def test_observation_has_its_words_as_boxes() -> None:
    stop = Otherwise(stop="foreman")
    shown = check_block(Check(id="c", feel="Push it", good="even", bad="catches", else_=stop))
    assert (shown.verb, shown.verdicts, shown.readings) == ("Feel", ("even", "catches"), ())
    assert shown.fails == (("Stop. Tell: foreman",),)


def test_check_that_fails_starts_again_from_the_step_that_was_chosen() -> None:
    check = Check(id="c", feel="Pull it.", else_=Otherwise(again_from=after("wedge")))
    clamp, wedge = (Step(id=name, do=f"The {name}.") for name in ("clamp", "wedge"))
    choice = OneOf(steps=after("clamp", "wedge"))
    *_, last = cards(
        clamp, wedge, MEASURE, checks=(check,), one_of=(choice,), instead={"clamp": ("wedge",)}
    )
    assert last.checks[0].fails == (("Start again from ", Ref(1)),)


def test_reading_that_is_taken_again_says_where_and_what_upsets_it() -> None:
    upset = (Link("knock", "step", "it settles"), Link("paint", "step"))
    check = Check(id="c", measure="Float", upset_by=upset)
    knock, paint = Step(id="knock", do="Knock."), Step(id="paint", do="Paint.")
    again, last = (replace(MEASURE, id=name) for name in ("again", "last"))
    shown = cards(MEASURE, knock, again, last, paint, checks=(check,))
    assert [block.again for card in shown for block in card.checks] == [
        ("Taken again in ", Ref(3), ": ", Ref(2), " upsets it – it settles"),
        ("Taken again in ", Ref(4)),
        (),
    ]
