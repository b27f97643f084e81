"""Whether a torque is sane for its thread."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.quantities import read_amount
from sequencer.model.units import unit_for
from sequencer.trade.basics import Band, Unknown
from sequencer.trade.lost_digits import Sized, bigger_thread_lower_torque
from sequencer.trade.nut_factors import NUT_FACTORS, nut_factor_for
from sequencer.trade.strengths import Strength, strength_of
from sequencer.trade.threads import read_thread
from sequencer.trade.torque import (
    preload_band,
    preload_from_torque,
    proof_load,
    torque_band,
    torque_from_preload,
    usual_torque,
)
from sequencer.trade.torque_checks import TorqueCheck, reduced_for_surface
from tests.trade.figures_typed import check_torque


def _check(text: str, thread: str, grade: str, surface: str = "dry") -> TorqueCheck:
    check = check_torque(text, thread, grade, surface)
    assert isinstance(check, TorqueCheck)
    return check


def _strength(grade: str, thread: str) -> Strength:
    strength = strength_of(grade, read_thread(thread))
    assert isinstance(strength, Strength)
    return strength


@pytest.mark.parametrize(
    ("text", "thread", "grade"),
    [("25 N·m", "M8", "8.8"), ("31 ft-lb", "3/8-16", "5"), ("80 in-lb", "M6", "8.8")],
)
def test_usual_torque_raises_nothing(text: str, thread: str, grade: str) -> None:
    check = _check(text, thread, grade)
    assert not check.over_stressed
    assert not check.slack
    assert check.unit_slip is None


def test_over_stressed_means_that_even_the_low_end_is_above_proof() -> None:
    check = _check("60 N·m", "M8", "8.8")
    assert check.share.low > 1
    assert check.over_stressed
    barely = _check("48 N·m", "M8", "8.8")
    assert barely.share.low < 1 < barely.share.high
    assert not barely.over_stressed


def test_slack_means_that_even_the_high_end_is_below_a_third() -> None:
    assert _check("7.5 N·m", "M8", "8.8").slack
    loose = _check("12 N·m", "M8", "8.8")
    assert loose.share.low < 0.30 < loose.share.high
    assert not loose.slack


SLIPS = [
    ("80 ft-lb", "M6", "8.8", "in·lbf"),
    ("80 N·m", "M6", "8.8", "in·lbf"),
    ("2.5 N·m", "M8", "8.8", "kgf·m"),
    ("20 in-lb", "M8", "8.8", "ft·lbf"),
    ("45 kgf·m", "M10", "8.8", "N·m"),
]


@pytest.mark.parametrize(("text", "thread", "grade", "unit"), SLIPS)
def test_unit_slip_names_the_unit_that_would_make_sense(
    text: str, thread: str, grade: str, unit: str
) -> None:
    slip = _check(text, thread, grade).unit_slip
    assert slip is not None
    assert slip.unit == unit_for(unit)
    number = text.partition(" ")[0]
    assert _check(f"{number} {unit}", thread, grade).unit_slip is None


def test_slip_that_no_usual_unit_explains_names_none() -> None:
    slip = _check("20000 in·ozf", "M6", "8.8").unit_slip
    assert slip is not None
    assert slip.unit is None
    assert slip.ratio > 6


def test_torque_of_nothing_is_slack_and_no_slip() -> None:
    check = _check("0 N·m", "M6", "8.8")
    assert check.slack
    assert check.unit_slip is None


def test_figure_beyond_any_unit_slip_is_only_over_stressed() -> None:
    check = _check("400 N·m", "M6", "8.8")
    assert check.unit_slip is None
    assert check.over_stressed


@pytest.mark.parametrize(
    ("thread", "grade"), [("M8", "11.9"), ("M8x1.2", "8.8"), ("", "8.8"), ("M8", "")]
)
def test_unknown_thread_or_grade_turns_the_check_off_in_words(thread: str, grade: str) -> None:
    answer = check_torque("25 N·m", thread, grade, "dry")
    assert isinstance(answer, Unknown)
    assert "not checked" in answer.words


def test_unknown_surface_gets_the_widest_band() -> None:
    widest = nut_factor_for("whale oil").band
    assert all(
        widest.low <= factor.band.low and factor.band.high <= widest.high
        for factor in NUT_FACTORS.values()
    )


def test_own_nut_factor_of_a_compound_wins() -> None:
    own = nut_factor_for("moly", read_amount("0.12 to 0.14", ("number",)))
    assert own.band == Band(0.12, 0.14)
    assert own.usual == pytest.approx(0.13)
    assert nut_factor_for("paste", read_amount("0.13", ("number",))).band == Band(0.13, 0.13)


THREADS = st.sampled_from(["M3", "M6", "M8", "M12×1.25", "M20", "M24"])


@given(THREADS, st.sampled_from(["8.8", "10.9", "12.9"]), st.sampled_from(sorted(NUT_FACTORS)))
def test_recommended_torque_is_never_odd(thread: str, grade: str, surface: str) -> None:
    factor, known = NUT_FACTORS[surface], read_thread(thread)
    newton_metres = usual_torque(known, _strength(grade, thread), factor)
    check = _check(f"{newton_metres:.3f} N·m", thread, grade, surface)
    assert check.unit_slip is None
    assert not check.slack
    assert check.share.low <= 0.751
    assert check.share.high >= 0.749


@given(
    st.floats(0.01, 1e4, allow_nan=False), st.floats(0.05, 0.5), st.floats(1, 100, allow_nan=False)
)
def test_torque_and_preload_round_trip(
    newton_metres: float, factor: float, diameter: float
) -> None:
    preload = preload_from_torque(newton_metres, factor, diameter)
    assert torque_from_preload(preload, factor, diameter) == pytest.approx(newton_metres)


def test_torque_band_and_preload_band_are_inverse() -> None:
    thread, strength, factor = read_thread("M10"), _strength("8.8", "M10"), NUT_FACTORS["oiled"]
    band = torque_band(thread, strength, factor, 0.75)
    wanted = 0.75 * proof_load(thread, strength)
    least = preload_band(Band(band.high, band.high), factor, thread).low
    most = preload_band(Band(band.low, band.low), factor, thread).high
    assert least == pytest.approx(wanted)
    assert most == pytest.approx(wanted)


def test_reduced_figure_is_a_question_with_its_factors() -> None:
    reduced = reduced_for_surface(100, NUT_FACTORS["dry"], NUT_FACTORS["oiled"])
    assert reduced is not None
    assert reduced.usual_nm == pytest.approx(75)
    assert reduced.band_nm.low < reduced.usual_nm < reduced.band_nm.high
    assert reduced.band_nm.high <= 100
    assert "ask the maker" in reduced.words


def test_figure_for_a_slipperier_surface_is_not_raised() -> None:
    assert reduced_for_surface(100, NUT_FACTORS["oiled"], NUT_FACTORS["dry"]) is None


def _joint(name: str, thread: str, newton_metres: float, grade: str = "") -> Sized:
    strength = _strength(grade, thread) if grade else None
    return Sized(name, read_thread(thread), newton_metres, strength)


def test_ordinary_mix_of_sizes_is_quiet() -> None:
    joints = [_joint("cover", "M6", 10, "8.8"), _joint("cap", "M12", 85, "8.8")]
    assert bigger_thread_lower_torque(joints) == ()


def test_bigger_thread_of_a_soft_grade_is_quiet() -> None:
    """A soft bolt may well take less: the grades are part of the comparison."""
    soft, hard = _joint("soft", "M10", 24, "4.6"), _joint("hard", "M8", 43, "12.9")
    assert bigger_thread_lower_torque([soft, hard]) == ()


def test_same_size_with_two_torques_is_no_lost_digit() -> None:
    assert bigger_thread_lower_torque([_joint("a", "M8", 25), _joint("b", "M8", 2.5)]) == ()


def test_figures_of_one_pair_are_named_with_what_was_expected() -> None:
    (pair,) = bigger_thread_lower_torque([_joint("stud", "M12", 8), _joint("screw", "M8", 25)])
    assert (pair.bigger.name, pair.smaller.name) == ("stud", "screw")
    assert pair.expected_nm == pytest.approx(25 * 12 * 84.27 / (8 * 36.61), rel=0.001)
