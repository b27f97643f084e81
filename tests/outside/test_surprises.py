"""Where published figures do not say what one expects: each is kept from being smoothed over."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sequencer.model.units import unit_for
from sequencer.trade.adapters import Adapter, true_torque, wrench_setting
from sequencer.trade.basics import Band
from sequencer.trade.hexagons import across_flats
from sequencer.trade.lifting import Lift, averaged_frequency, multipliers, recommended_limit
from sequencer.trade.locking import CASTLE_RULES, band_to_reach, castle_band
from sequencer.trade.nut_factors import SCATTER
from sequencer.trade.patterns import circle, handbook_circle_of_16
from sequencer.trade.strengths import Strength, nominal_tensile_mpa, strength_of
from sequencer.trade.threads import read_thread
from sequencer.trade.torque import nut_factor_from_test, proof_load, with_scatter
from sequencer.trade.torque_checks import rescaled_torque
from sequencer.trade.torque_tables import BOLT_TORQUES, NUT_TORQUES
from sequencer.trade.wrench import COMMON_RANGE, WORKING_RANGES, Wrench
from tests.outside.tables import INCH_MM, PSI_MPA


def _strength(grade: str, thread: str) -> Strength:
    strength = strength_of(grade, read_thread(thread))
    assert isinstance(strength, Strength)
    return strength


def test_nut_torque_table_follows_no_one_nut_factor() -> None:
    """FAA AC 43.13-1B, table 7-1, at its 40 000 psi: K from 0.12 (3/8-24) to 0.24 (7/16-20)."""
    factors = {}
    for name, row in NUT_TORQUES.items():
        thread = read_thread(name)
        preload = 40_000 * PSI_MPA * thread.stress_area_mm2
        ends = (row.tension_nm.low, row.tension_nm.high)
        factors[name] = [nut_factor_from_test(end, preload, thread.diameter_mm) for end in ends]
    assert min(factors["3/8-24"]) == pytest.approx(0.12, abs=0.005)
    assert max(factors["7/16-20"]) == pytest.approx(0.24, abs=0.005)
    jump = NUT_TORQUES["7/16-20"].tension_nm.low / NUT_TORQUES["3/8-24"].tension_nm.low
    assert jump == pytest.approx(450 / 160)


def test_running_torque_is_never_added_or_included_by_default() -> None:
    """Three documents add the measured drag; NASA-STD-5020B takes the figure as the reading."""
    assert band_to_reach(Band(50, 60), 8, "added") == Band(58, 68)
    assert band_to_reach(Band(50, 60), 8, "included") == Band(50, 60)
    with pytest.raises(ValueError, match="added"):
        band_to_reach(Band(50, 60), 8, "")  # type: ignore[arg-type]  # what a model may leave out


def test_castle_nut_rules_differ_and_carry_their_source() -> None:
    """FAA AC 43.13-1B: not past high plus drag; MSFC-STD-486B: up to 10 % past the figure."""
    faa, msfc = CASTLE_RULES["FAA AC 43.13-1B"], CASTLE_RULES["MSFC-STD-486B"]
    assert castle_band(Band(50, 60), faa, 5) == Band(55, 65)
    assert castle_band(Band(50, 60), msfc).high == pytest.approx(66)


# ISO 898-1, table of proof loads, as quoted in a secondary source: printed N, and by how much the
# product of the printed area and stress differs.
@pytest.mark.parametrize(
    ("thread", "grade", "area", "printed", "differs"),
    [
        ("M6", "8.8", 20.1, 11_600, 0.0050),
        ("M14", "12.9", 115, 112_000, -0.0040),
        ("M10", "4.6", 58.0, 13_000, 0.0039),
    ],
)
def test_printed_proof_loads_are_rounded(
    thread: str, grade: str, area: float, printed: float, differs: float
) -> None:
    product = _strength(grade, thread).limit_mpa * area
    assert product / printed - 1 == pytest.approx(differs, abs=0.00015)
    assert proof_load(read_thread(thread), _strength(grade, thread)) != printed


def test_printed_stress_areas_have_three_figures() -> None:
    """M14: the formula's 115.44 mm² is printed as 115, 0.38 % less."""
    area = read_thread("M14").stress_area_mm2
    assert area == pytest.approx(115.44, abs=0.005)
    assert area / 115 - 1 == pytest.approx(0.0038, abs=0.0001)


# Grade, last size of one strength, first of the next; proof, yield and tensile in the unit.
BREAKS = [
    ("8.8", "M16", "M18", (580, 640, 800), (600, 660, 830), 1.0),
    ("5", "1-8", "1-1/8-7", (85, 92, 120), (74, 81, 105), 1000 * PSI_MPA),
    ("2", "3/4-10", "7/8-9", (55, 57, 74), (33, 36, 60), 1000 * PSI_MPA),
]


@pytest.mark.parametrize(("grade", "small", "large", "before", "after", "unit"), BREAKS)
def test_strength_changes_at_the_size_break(
    grade: str,
    small: str,
    large: str,
    before: tuple[int, ...],
    after: tuple[int, ...],
    unit: float,
) -> None:
    for thread, stresses in ((small, before), (large, after)):
        found = _strength(grade, thread)
        ours = (found.limit_mpa, found.yield_mpa, found.tensile_mpa)
        assert ours == pytest.approx([stress * unit for stress in stresses])


@pytest.mark.parametrize(
    ("grade", "least", "nominal"), [("5.8", 520, 500), ("10.9", 1040, 1000), ("12.9", 1220, 1200)]
)
def test_least_tensile_stress_is_not_the_nominal(grade: str, least: int, nominal: int) -> None:
    assert _strength(grade, "M10").tensile_mpa == least
    assert nominal_tensile_mpa(grade) == nominal


@pytest.mark.parametrize(
    ("thread", "iso", "din"),
    [("M10", 16, 17), ("M12", 18, 19), ("M14", 21, 22), ("M22", 34, 32), ("M16", 24, 24)],
)
def test_spanner_depends_on_the_standard(thread: str, iso: int, din: int) -> None:
    """ISO 4014 against DIN 931."""
    assert across_flats(read_thread(thread), "ISO 4014") == f"{iso} mm"
    assert across_flats(read_thread(thread), "DIN 931") == f"{din} mm"


def test_two_published_orders_of_one_circle_differ_in_their_second_half() -> None:
    legacy, handbook = circle(16), handbook_circle_of_16()
    assert legacy.order[:10] == handbook.order[:10]
    assert legacy.order != handbook.order
    assert "PCC-1" in legacy.name
    assert "MIL-HDBK-60" in handbook.name


@pytest.mark.parametrize("count", [12, 20, 24])
def test_order_and_labels_are_inverse_and_not_the_same(count: int) -> None:
    """For 4, 8 and 16 they look alike, which hides a mistake."""
    pattern = circle(count)
    assert pattern.order != pattern.labels
    for turn, fastener in enumerate(pattern.order, start=1):
        assert pattern.labels[fastener - 1] == turn


@pytest.mark.parametrize("count", [4, 8, 16])
def test_order_and_labels_look_alike_for_some_counts(count: int) -> None:
    assert circle(count).order == circle(count).labels


def test_lifting_worksheets_multiply_rounded_multipliers() -> None:
    """NIOSH 94-110: table H at 22 and 23 in, table D at 130 cm; example 4 prints 34.9 and 15.2."""
    for reach, printed, rounded in ((22, 0.46, 0.45), (23, 0.44, 0.43)):
        task = Lift(system="US", reach=reach)
        assert multipliers(task, two_decimals=True).horizontal == printed
        assert round(multipliers(task).horizontal, 2) == rounded
    far = Lift(travel=130)
    assert multipliers(far, two_decimals=True).distance == 0.86
    assert round(multipliers(far).distance, 2) == 0.85
    start = Lift(system="US", reach=10, height=22, travel=37, per_minute=3, coupling="fair")
    end = Lift(system="US", reach=20, height=59, travel=37, per_minute=3, coupling="fair")
    for task, printed, in_full in ((start, 34.9, 34.8), (end, 15.2, 15.3)):
        assert round(recommended_limit(task, two_decimals=True), 1) == printed
        assert recommended_limit(task) == pytest.approx(in_full, abs=0.06)


def test_lifting_manual_prints_one_average_wrong() -> None:
    """50/15 is printed as 3.4; it is 3.33, so it serves as no check value."""
    assert averaged_frequency(10, 5) == pytest.approx(3.333, abs=0.001)
    assert averaged_frequency(10, 5) != pytest.approx(3.4, abs=0.05)


def test_lifting_systems_are_not_exact_conversions() -> None:
    """23 kg is 50.7 lb and 25 cm is not 10 in: one task differs by 2 % between the systems."""
    metric = recommended_limit(Lift(reach=40, height=75, travel=50))
    inches = recommended_limit(
        Lift(system="US", reach=40 / 2.54, height=75 / 2.54, travel=50 / 2.54)
    )
    in_kg = inches * 0.45359237
    assert in_kg == pytest.approx(metric, rel=0.025)
    assert in_kg != pytest.approx(metric, rel=0.01)


def test_low_preload_of_the_table_was_computed_without_rounding_its_factor() -> None:
    """NASA TM-106943 prints 0.714; 3/4-16 needs 0.75/1.05: 14 720 lbf, not 14 714."""
    nominal = 0.65 * 85_000 * 0.373
    assert with_scatter(nominal, 0.25, 0.05).low == pytest.approx(14_720, abs=1)
    assert 0.714 * nominal != pytest.approx(14_720, abs=1)


def test_bolt_torque_table_is_not_in_order() -> None:
    """MSFC-STD-486B, table I: 3/4 in dry is 4500 in·lbf at 160 ksi and 4200 at 180 ksi."""
    weaker, stronger = BOLT_TORQUES["3/4", "160 ksi"], BOLT_TORQUES["3/4", "180 ksi"]
    assert weaker.dry_nm.high > stronger.dry_nm.high
    assert weaker.lubricated_nm.high < stronger.lubricated_nm.high


def test_working_range_of_a_wrench_depends_on_the_document() -> None:
    """MSFC-STD-486B 20 to 80 %; ISO 6789:2017 from the lowest mark; our default 20 to 100 %."""
    wrench = Wrench(unit_for("N·m"), Fraction(10), Fraction(100))
    handbook = wrench.usable(WORKING_RANGES["MSFC-STD-486B"])
    assert [int(end) for end in handbook] == [20, 80]
    assert [int(end) for end in wrench.usable(WORKING_RANGES["ISO 6789:2017"])] == [10, 100]
    assert [int(end) for end in wrench.usable()] == [20, 100]
    assert wrench.usable() == wrench.usable(COMMON_RANGE)


def test_published_scatter_disagrees_and_keeps_its_sources() -> None:
    assert len({*SCATTER["torque, unlubricated"].values()}) > 1
    assert all(by_source for by_source in SCATTER.values())


def test_angled_extension_is_a_sum() -> None:
    """US Army TM 9-254's stored text prints a product; the arm is L + E·cos θ."""
    setting = wrench_setting(100, 12, Adapter(6, 60))
    assert setting == Fraction(100 * 12, 12 + 3)
    assert setting != Fraction(100 * 12, 12 * 3)
    assert true_torque(setting, 12, Adapter(6, 60)) == 100


def test_figures_from_hand_outs_are_not_taken_unchecked() -> None:
    """130 ft·lbf at 0.17 to 0.09 is printed as 53, 18.5 lb as 18.4, 0.1063 in² as 0.0163."""
    assert rescaled_torque(130, 0.17, 0.09) == pytest.approx(68.82, abs=0.01)
    task = Lift(system="US", reach=20, height=6, travel=16, coupling="fair")
    assert round(recommended_limit(task, two_decimals=True), 1) == 18.5
    assert read_thread("7/16-14").stress_area_mm2 / INCH_MM**2 == pytest.approx(0.1063, abs=5e-5)
