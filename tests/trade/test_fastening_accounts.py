"""Fastening mistakes that really happen at a bench, each with its right outcome.

The figures are from public accounts of such mistakes; parts and wording are our own. Tests of
bench habits that no document states say `common practice, no source`.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from sequencer.model.fastening import Tool
from sequencer.model.quantities import AmountError, converted
from sequencer.model.units import unit_for
from sequencer.trade.adapters import Adapter, correction_share, wrench_setting
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.figures import odd_ones_out
from sequencer.trade.joint_length import (
    EngagementRule,
    Stack,
    engagement,
    in_blind_hole,
    into_space_behind,
)
from sequencer.trade.lost_digits import Sized, bigger_thread_lower_torque
from sequencer.trade.measuring import (
    judge_typed,
)
from sequencer.trade.nut_factors import NUT_FACTORS
from sequencer.trade.passes import angle_total
from sequencer.trade.threads import read_thread
from sequencer.trade.torque_checks import TorqueCheck, reduced_for_surface
from sequencer.trade.torque_tables import over_published
from sequencer.trade.wrench import setting_for, wrench_of
from tests.trade.figures_typed import angle, check_torque, torque

LBF_N = 4.4482216152605


def _si(text: str) -> float:
    return torque(text).si


def test_inch_pounds_read_as_foot_pounds_are_caught_and_bare_pounds_refused() -> None:
    assert _si("106 in-lb") == pytest.approx(11.98, abs=0.005)
    assert in_unit(torque("106 in-lb"), "ft·lbf") == pytest.approx(Fraction("8.83"), abs=0.005)
    misread = check_torque("106 ft-lb", "M6", "8.8", "dry")
    assert isinstance(misread, TorqueCheck)
    assert misread.unit_slip is not None
    assert misread.unit_slip.unit == unit_for("in·lbf")
    with pytest.raises(AmountError, match="foot-pounds and inch-pounds"):
        torque("106 lb")


def test_figure_far_above_a_published_most_is_told_with_its_ratio() -> None:
    """A 1/4-28 of the published table, 50 to 70 in·lbf and 100 at the most, typed as 50 ft-lb."""
    thread = read_thread("1/4-28")
    assert over_published(thread, _si("50 ft-lb")) == pytest.approx(6.0)
    assert over_published(thread, _si("60 in-lb")) == pytest.approx(0.6)
    strong = check_torque("50 ft-lb", "1/4-28", "8", "cadmium")
    assert isinstance(strong, TorqueCheck)
    assert strong.over_stressed


@pytest.mark.parametrize(
    ("text", "newton_metres"),
    [
        ("3.2 m-kg", 31.4),
        ("80 kgf·cm", 7.85),
        ("1 mkg", 9.81),
        ("1 cmkg", 0.0981),
        ("1 kgf-m", 9.81),
    ],
)
def test_metre_kilograms_are_torques_however_written(text: str, newton_metres: float) -> None:
    assert _si(text) == pytest.approx(newton_metres, rel=0.002)


def test_eighty_kilogram_centimetres_typed_as_newton_metres_is_a_unit_slip() -> None:
    check = check_torque("80 N·m", "M6", "8.8", "dry")
    assert isinstance(check, TorqueCheck)
    assert check.unit_slip is not None
    assert float(converted(Fraction(1), unit_for("kgf·m"), unit_for("ft·lbf"))) == pytest.approx(
        7.233, abs=0.0005
    )


def test_bigger_thread_with_the_lower_torque_is_asked_about_and_not_corrected() -> None:
    slim = Sized("piston nut", read_thread("9/16-18"), _si("90 ft-lb"))
    stout = Sized("gland nut", read_thread("3/4-16"), _si("22 ft-lb"))
    (pair,) = bigger_thread_lower_torque([stout, slim])
    assert (pair.bigger, pair.smaller) == (stout, slim)
    assert pair.smaller_clamp_n / LBF_N == pytest.approx(9600)
    assert pair.bigger_clamp_n / LBF_N == pytest.approx(1760)
    assert pair.expected_nm > 8 * stout.torque_nm


def test_dry_figure_on_an_oiled_thread_becomes_a_question() -> None:
    """One table takes 40 % off 628 ft·lbf, which makes 377; others take 15 to 50 %."""
    reduced = reduced_for_surface(_si("628 ft-lb"), NUT_FACTORS["dry"], NUT_FACTORS["oiled"])
    assert reduced is not None
    assert reduced.band_nm.holds(_si("377 ft-lb"))
    assert reduced.usual_nm < _si("628 ft-lb")


# Torque, wrench length, adapter, angle, setting.
ADAPTERS = [
    (300, 18, 6, 0, 225),
    (300, 18, 6, 180, 450),
    (300, 18, -6, 0, 450),
    (300, 18, 6, 90, 300),
    (300, 10, 4, 0, 214.3),
    (135, 10, Fraction("1.5"), 0, 117.4),
    (135, 10, Fraction("1.5"), 180, 158.8),
]


@pytest.mark.parametrize(("wanted", "wrench", "adapter", "angle_deg", "setting"), ADAPTERS)
def test_adapter_changes_the_setting_by_its_reach(
    wanted: int, wrench: int, adapter: Fraction, angle_deg: int, setting: float
) -> None:
    found = wrench_setting(wanted, wrench, Adapter(adapter, angle_deg))
    assert float(found) == pytest.approx(setting, abs=0.05)


def test_no_adapter_is_too_short_to_matter_and_in_line_matters_most() -> None:
    one_inch = Adapter(1)
    assert float(correction_share(18, one_inch)) == pytest.approx(0.053, abs=0.0005)
    assert float(correction_share(10, one_inch)) == pytest.approx(0.091, abs=0.0005)
    shares = [correction_share(15, Adapter(2, angle_deg)) for angle_deg in (0, 30, 60, 90)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] == 0


def test_wrench_outside_its_range_is_passed_over_for_one_that_serves() -> None:
    big = wrench_of(Tool(id="big", range_=torque("10 to 150 ft-lb")))
    small = wrench_of(Tool(id="small", range_=torque("20 to 200 in-lb")))
    assert big is not None
    assert small is not None
    settings = [setting_for(torque("106 in-lb"), wrench) for wrench in (big, small)]
    assert [setting.usable for setting in settings] == [False, True]
    assert big.usable()[0] == 30
    assert small.usable()[0] == 40


def test_angles_are_limited_by_the_names_of_their_passes() -> None:
    passes = {
        "first turn": angle("80 to 90°"),
        "second turn": angle("40 to 45°"),
        "third turn": angle("40 to 45°"),
    }
    limit = angle("at most 90°")
    last_two = angle_total(passes, ["second turn", "third turn"], limit)
    assert not last_two.may_exceed
    assert not last_two.impossible
    with_46 = angle_total(
        {**passes, "third turn": angle("46°")}, ["second turn", "third turn"], limit
    )
    assert with_46.may_exceed
    assert angle_total(passes, ["first turn", "second turn"], limit).impossible


def test_torque_after_the_turn_decides_whether_the_bolt_stays() -> None:
    """88 N·m and 90°, then at least 122 N·m: 115 means another bolt."""
    limit = torque("at least 122 N·m")
    assert judge_typed(torque("115 N·m"), limit) == "out low"
    assert judge_typed(torque("122 N·m"), limit) == "accept"


BLIND = [(35, "clear", True), (40, "clear", False), (45, "bottoms out", False)]


@pytest.mark.parametrize(("screw", "end", "short"), BLIND)
def test_screw_in_a_blind_hole_is_neither_too_short_nor_too_long(
    screw: int, end: str, short: bool
) -> None:
    """M8 in 15 mm of full thread, 25 mm and a 2.5 mm washer: 1.5 diameters asked for."""
    hole = in_blind_hole(Stack(screw, 25, Fraction("2.5")), 15)
    assert hole.end == end
    carries = engagement(hole.engaged_mm, 8, "aluminium", EngagementRule(Fraction(3, 2), "card"))
    assert not isinstance(carries, Unknown)
    assert carries.short == short


def test_screw_touches_bottom_when_its_washer_is_left_out() -> None:
    stack = Stack(40, 25, Fraction("2.5"))
    assert in_blind_hole(stack, 15).end == "clear"
    assert in_blind_hole(stack.without_washers(), 15).end == "touches"


def test_screw_too_long_for_what_comes_behind_it_is_found_before_work_starts() -> None:
    assert into_space_behind(Stack(45, 22), 10) == 13
    assert into_space_behind(Stack(30, 22), 10) < 0


def test_small_cover_screw_belongs_on_an_inch_pound_wrench() -> None:
    """Common practice, no source: 80 in·lbf is 9.0 N·m; typed as 80 ft·lbf it is a unit slip."""
    assert _si("80 in-lb") == pytest.approx(9.0, abs=0.05)
    right = check_torque("80 in-lb", "M6", "8.8", "dry")
    wrong = check_torque("80 ft-lb", "M6", "8.8", "dry")
    assert isinstance(right, TorqueCheck)
    assert isinstance(wrong, TorqueCheck)
    assert right.unit_slip is None
    assert wrong.unit_slip is not None
    assert wrong.unit_slip.unit == unit_for("in·lbf")


def test_same_figure_in_three_units_with_one_wrong_names_it() -> None:
    amounts = [torque(text) for text in ("12 N·m", "106 in-lb", "8.8 ft-lb", "106 ft-lb")]
    assert odd_ones_out(amounts) == (3,)


def test_stud_stays_clear_of_what_lies_under_an_open_hole() -> None:
    """Common practice, no source: a stud 30 mm long through 12 mm, 20 mm free, 3 mm to be kept."""
    free, margin = 20, 3
    assert into_space_behind(Stack(30, 12), free - margin) == 1
    assert into_space_behind(Stack(29, 12), free - margin) == 0
