"""What a torque wrench reaches and can show."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.fastening import Tool
from sequencer.model.units import unit_for
from sequencer.trade.adapters import Adapter
from sequencer.trade.wrench import (
    WORKING_RANGES,
    Wrench,
    setting_for,
    target_of,
    wrench_of,
)
from tests.trade.figures_typed import length, torque


def _wrench(scale: str, reads: str = "") -> Wrench:
    tool = Tool(id="tw", range_=torque(scale), reads=torque(reads) if reads else None)
    wrench = wrench_of(tool)
    assert wrench is not None
    return wrench


def test_wrench_of_a_tool_keeps_its_scale_and_division() -> None:
    wrench = _wrench("40 to 200 N·m", "2 N·m")
    assert (wrench.low, wrench.high, wrench.division) == (
        Fraction(40),
        Fraction(200),
        Fraction(2),
    )
    assert wrench.name == "tw"


def test_division_in_another_unit_is_converted_exactly() -> None:
    division = _wrench("10 to 150 ft-lb", "12 in-lb").division
    assert division == 1


@pytest.mark.parametrize("tool", [Tool(id="a"), Tool(id="b", range_=length("0 to 25 mm"))])
def test_other_tools_are_no_torque_wrench(tool: Tool) -> None:
    assert wrench_of(tool) is None


REACHES = [
    (5, "below the scale"),
    (12, "low on the scale"),
    (20, "in range"),
    (100, "in range"),
    (101, "above the scale"),
]


@pytest.mark.parametrize(("setting", "reach"), REACHES)
def test_reach_tells_where_on_the_scale(setting: int, reach: str) -> None:
    assert _wrench("10 to 100 N·m").reach(setting) == reach


def test_range_by_another_document_changes_the_reach() -> None:
    wrench = _wrench("10 to 100 N·m")
    assert wrench.reach(90, WORKING_RANGES["MSFC-STD-486B"]) == "above the scale"
    assert wrench.reach(12, WORKING_RANGES["ISO 6789:2017"]) == "in range"


def test_setting_takes_the_mark_nearest_to_the_aim() -> None:
    setting = setting_for(torque("55 to 60 N·m"), _wrench("20 to 100 N·m", "2 N·m"))
    assert setting.value == 58  # 57.5 lies between 56 and 58
    assert setting.usable


def test_figure_between_the_marks_is_unreadable() -> None:
    setting = setting_for(torque("55 to 59 N·m"), _wrench("20 to 200 N·m", "10 N·m"))
    assert setting.value is None
    assert not setting.usable


def test_figure_without_tolerance_gets_that_of_the_wrench() -> None:
    unit = unit_for("N·m")
    assert target_of(torque("60 N·m"), unit).assumed == Fraction(4, 100)
    assert target_of(torque("10 N·m"), unit).assumed == Fraction(6, 100)
    assert target_of(torque("60 N·m ± 5 %"), unit).assumed is None


def test_open_figure_keeps_its_stated_end() -> None:
    unit = unit_for("N·m")
    least, most = (
        target_of(torque("at least 50 N·m"), unit),
        target_of(torque("at most 50 N·m"), unit),
    )
    assert least.low == 50
    assert most.high == 50
    assert least.high > 50 > most.low


def test_wrench_without_marks_is_set_to_the_aim() -> None:
    assert setting_for(torque("57 N·m"), _wrench("20 to 100 N·m")).value == 57


def test_adapter_moves_the_setting_out_of_range() -> None:
    wrench = _wrench("20 to 100 N·m", "1 N·m")
    bare = setting_for(torque("96 to 104 N·m"), wrench)
    long_arm = setting_for(torque("96 to 104 N·m"), wrench, (400, Adapter(100)))
    back = setting_for(torque("96 to 104 N·m"), wrench, (400, Adapter(-100)))
    assert bare.value == 100
    assert long_arm.value == 80
    assert back.reach == "above the scale"


def test_wrench_whose_scale_begins_higher_is_not_usable() -> None:
    big, small = (
        setting_for(torque("106 in-lb"), _wrench(scale))
        for scale in ("10 to 150 ft-lb", "20 to 200 in-lb")
    )
    assert small.usable
    assert big.reach == "below the scale"


UNITS = ["N·m", "ft·lbf", "in·lbf", "kgf·m", "kgf·cm"]


@given(
    st.integers(1, 4000),
    st.integers(0, 30),
    st.sampled_from(UNITS),
    st.sampled_from(UNITS),
    st.fractions("1/10", 20, max_denominator=20),
    st.none()
    | st.tuples(st.integers(200, 600), st.integers(-150, 300), st.sampled_from([0, 30, 90])),
)
def test_setting_never_leaves_the_band_in_any_unit_pair(
    tenths: int,
    per_cent: int,
    typed: str,
    shown: str,
    division: Fraction,
    bent: tuple[int, int, int] | None,
) -> None:
    """What the wrench shows, with the adapter on, lies in the band as typed or as assumed."""
    amount = torque(f"{tenths / 10} {typed} ± {per_cent} %")
    wrench = Wrench(unit_for(shown), Fraction(0), Fraction(10_000), division)
    arm = None if bent is None else (bent[0], Adapter(bent[1], bent[2]))
    setting = setting_for(amount, wrench, arm)
    if setting.value is None:
        return
    assert setting.value % division == 0
    factor = Fraction(1) if arm is None else 1 + arm[1].reach / arm[0]
    on_the_fastener = setting.value * factor * wrench.unit.factor / amount.unit.factor
    assert amount.low is not None
    assert amount.high is not None
    slack = setting.target.assumed or 0
    assert amount.low * (1 - slack) <= on_the_fastener <= amount.high * (1 + slack)
