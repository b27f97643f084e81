"""Measuring, shimming and heating mistakes at a bench, each with its right outcome.

The figures are from public accounts of such mistakes; parts and wording are our own.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from sequencer.model.quantities import read_amount
from sequencer.trade.arithmetic import compute
from sequencer.trade.basics import Unknown
from sequencer.trade.compounds import Cure, cure_time
from sequencer.trade.formulas import read_formula
from sequencer.trade.heating import ShrinkFit, growth, kelvin_rise, plan_heating
from sequencer.trade.measuring import (
    Limits,
    against_wear,
    judge,
    judge_typed,
    likely_slip,
    limits_of,
)
from sequencer.trade.shims import (
    Shimming,
    Supply,
    choose_shims,
    packs_of,
    read_rounding,
)
from tests.trade.figures_typed import exact, figure, length, torque


def _every(first: str, last: str, step: str) -> dict[Fraction, int | None]:
    low, high, by = exact(first, last, step)
    return {low + by * place: None for place in range(int((high - low) / by) + 1)}


def test_two_shims_inside_the_band_are_both_offered() -> None:
    """2.425 in place, 0.25 measured, 0.15 wanted (0.11 to 0.18), shims every 0.05."""
    valve = Shimming(Fraction("0.25"), -1, Fraction("2.425"))
    supply = Supply(_every("2.00", "3.00", "0.05"), 1)
    limits = Limits(*exact("0.11", "0.18"))
    choice = choose_shims(valve, supply, limits, Fraction("0.15"))
    assert choice.ideal == Fraction("2.525")
    assert {(float(pack.total), float(pack.result)) for pack in choice.packs} == {
        (2.50, 0.175),
        (2.55, 0.125),
    }
    reversed_sign = valve.result(Fraction("2.325"))
    assert not limits.holds(reversed_sign)


def test_rounding_rule_of_the_table_is_data() -> None:
    fives = read_rounding("0-2 = 0, 3-7 = 5, 8-9 = 10", Fraction("0.01"))
    tens = read_rounding("0-4 = 0, 5-9 = 10", Fraction("0.01"))
    assert fives.round(Fraction("0.53")) == Fraction("0.55")
    assert tens.round(Fraction("0.51")) == Fraction("0.50")
    supply = Supply(dict.fromkeys(exact("0.15", "0.20", "0.40")), 2)
    assert packs_of(Fraction("0.55"), supply) == exact("0.40", "0.15")


@pytest.mark.parametrize(("mark", "pack"), [("5", "0.35"), ("-3", "0.43")])
def test_pack_is_reckoned_from_the_inputs_and_never_from_a_typed_middle_line(
    mark: str, pack: str
) -> None:
    """A worked example prints 0.40 − 0.50 = 0.35 where 0.05 is meant; the inputs give it."""
    readings = {
        "depth": length("11.70 mm"),
        "base": length("11.30 mm"),
        "hundredth": length("0.01 mm"),
    }
    readings["mark"] = read_amount(mark, ("number",))
    result = compute(read_formula("depth - base - mark * hundredth"), readings, "length")
    assert result.value * 1000 == Fraction(pack)


# Measuring shim, end float read, float wanted (negative is preload), sizes; packs, best first.
FLOATS = [
    ("1.00", "0.32", "0.05", ("1.15", "1.71", "0.01"), ["1.27", "1.26", "1.28"]),
    ("1.00", "0.33", "-0.13", ("1.31", "1.91", "0.02"), ["1.45", "1.47"]),
    ("1.10", "0.36", "-0.33", ("1.40", "2.20", "0.05"), ["1.80"]),
]


@pytest.mark.parametrize(("start", "read", "wanted", "sizes", "packs"), FLOATS)
def test_float_and_preload_keep_their_sign_and_the_grid_of_sizes(
    start: str, read: str, wanted: str, sizes: tuple[str, str, str], packs: list[str]
) -> None:
    shimming = Shimming(Fraction(read), -1, Fraction(start))
    aim = Fraction(wanted)
    limits = Limits(aim - Fraction("0.01"), aim + Fraction("0.01"))
    choice = choose_shims(shimming, Supply(_every(*sizes), 1), limits, aim)
    assert [pack.total for pack in choice.packs] == list(exact(*packs))
    assert all(limits.holds(pack.result) for pack in choice.packs)


def test_gap_closed_by_shims_lists_both_packs_that_serve() -> None:
    """0.047 in without shims, 0.010 to 0.020 wanted, shims of 0.005 and 0.010."""
    supply = Supply(dict.fromkeys(exact("0.005", "0.010")), 6)
    limits = Limits(*exact("0.010", "0.020"))
    choice = choose_shims(Shimming(Fraction("0.047"), -1), supply, limits)
    assert {(float(pack.total), float(pack.result)) for pack in choice.packs} == {
        (0.030, 0.017),
        (0.035, 0.012),
    }
    assert choice.over is not None
    assert choice.short is not None
    assert (float(choice.over.result), float(choice.short.result)) == (0.022, 0.007)


def test_other_design_opens_the_gap_with_shims() -> None:
    supply = Supply(dict.fromkeys(exact("0.005", "0.010")), 6)
    under = Shimming(Fraction("0.047"), 1, Fraction("0.040"))
    choice = choose_shims(under, supply, Limits(*exact("0.010", "0.020")))
    assert sorted(float(pack.total) for pack in choice.packs) == [0.005, 0.010]


def test_bearing_is_never_heated_past_its_limit() -> None:
    """4.000 in bore, 4.004 in shaft, 0.005 in to slip, 6.7e-6 per °F, 70 °F, limit 250 °F."""
    per_k, start_c, limit_c = 6.7e-6 * 1.8, (70 - 32) / 1.8, (250 - 32) / 1.8
    inch = 25.4
    joint = ShrinkFit(
        bore_mm=4.000 * inch,
        shaft_mm=4.004 * inch,
        slip_mm=0.005 * inch,
        expansion_per_k=per_k,
        start_c=start_c,
        limit_c=limit_c,
        chill_c=-40,
    )
    plan = plan_heating(joint)
    assert plan.rise_k == pytest.approx(kelvin_rise(335.8), abs=0.05)
    assert plan.rise_k == pytest.approx(186.6, abs=0.05)
    assert plan.rise_k != pytest.approx((335.8 - 32) / 1.8, abs=10)
    assert not plan.within_limit
    assert plan.heat_to_c == limit_c
    assert plan.clearance_hot_mm / inch == pytest.approx(0.0008, abs=0.00005)
    assert plan.clearance_mm / inch == pytest.approx(0.0038, abs=0.00005)
    assert not plan.reached
    chilled = growth(per_k, joint.shaft_mm, start_c + 40) / inch
    assert chilled == pytest.approx(0.0030, abs=0.00006)


def test_difference_of_two_coarse_readings_cannot_be_told() -> None:
    """0.025 to 0.050 mm from bore and journal, each by caliper ±0.02 mm."""
    typed = {"bore": length("25.04 mm ± 0.02 mm"), "journal": length("25.00 mm ± 0.02 mm")}
    result = compute(read_formula("bore - journal"), typed, "length")
    limits = limits_of(length("0.025 to 0.050 mm"))
    assert limits.holds(result.value)
    assert result.spread == Fraction("0.00004")
    assert judge(result.value, limits, result.spread) == "cannot be told"


def test_journal_that_has_grown_is_a_misreading() -> None:
    """0.025 in over size is one turn of the thimble."""
    new = limits_of(length("0.9990 to 1.0000 in"))
    reading = length("1.0248 in")
    metres = reading.unit.factor * reading.value
    assert against_wear(metres, new, "smaller")
    slip = likely_slip(metres, limits_of(length("0.9950 to 1.0000 in")))
    assert slip is not None
    assert "0.025 in" in slip.words


def test_feeler_blades_wider_than_the_band_cannot_tell() -> None:
    band, blade = Limits(Fraction("0.0100"), Fraction("0.0105")), Fraction("0.001")
    assert judge(Fraction("0.0102"), band, division=blade) == "cannot be told"


HOUR = 3600.0


@pytest.mark.parametrize(
    ("fahrenheit", "answer"),
    [(60, "unknown"), (75, 36), (90, 36), (100, 3), (110, 3), (125, "too hot")],
)
def test_cement_outside_its_table_of_temperatures_is_asked_about(
    fahrenheit: int, answer: int | str
) -> None:
    """24 to 36 h at 75 °F, 3 h at 100 °F, never above 120 °F."""
    celsius = {degrees: (degrees - 32) / 1.8 for degrees in (75, 100, 120, fahrenheit)}
    table = {celsius[75]: 36 * HOUR, celsius[100]: 3 * HOUR}
    found = cure_time(table, celsius[fahrenheit], celsius[120])
    if isinstance(found, Cure):
        assert found.seconds / HOUR == answer
    else:
        assert ("unknown" if isinstance(found, Unknown) else found) == answer


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [("8 in-lb", "out low"), ("20 in-lb", "accept"), ("34 in-lb", "out high")],
)
def test_turning_torque_of_a_crush_sleeve_fails_low_or_high(reading: str, verdict: str) -> None:
    assert judge_typed(torque(reading), torque("15 to 30 in-lb")) == verdict


def test_seat_that_is_not_deep_enough_stays_a_fail() -> None:
    assert judge_typed(length("0.50 in"), length("at least 1.00 in")) == "out low"


def test_quantities_of_limits_are_kept_apart() -> None:
    with pytest.raises(ValueError, match="not compared"):
        judge_typed(figure("5 N"), figure("4 to 6 N·m"))
