"""What a torque block says: the figure, what is set for it, and what stands beside it."""

from __future__ import annotations

from sequencer.model.assembly import Defaults
from sequencer.model.fastening import Grade, Joint
from sequencer.sheets.torques import TorqueBlock
from tests.sheets.making import torque
from tests.sheets.views import TIGHTEN, card


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
    assert shown.boxes == tuple(map(str, range(1, 9)))
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
    assert block(Joint(id="j", count=60)).boxes[-1] == "60"
    assert block(Joint(id="j", count=61)).boxes == ()
