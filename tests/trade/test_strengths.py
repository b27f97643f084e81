"""Grades as typed, and words where the cross-check is off."""

from __future__ import annotations

import pytest

from sequencer.model.quantities import read_amount
from sequencer.trade.basics import Unknown
from sequencer.trade.strengths import Strength, nominal_tensile_mpa, own_strength, strength_of
from sequencer.trade.threads import Thread, read_thread

M10, HALF = read_thread("M10"), read_thread("1/2-13")

SPELLINGS = [
    ("8.8", M10, "8.8"),
    ("class 8.8", M10, "8.8"),
    ("ISO 898-1 class 10.9", M10, "10.9"),
    ("a2-70", M10, "A2-70"),
    ("SAE 5", HALF, "5"),
    ("grade 8", HALF, "8"),
    ("Gr. 8", HALF, "8"),
    ("gr8", HALF, "8"),
    ("8", HALF, "8"),
    ("B7", HALF, "B7"),
    ("ASTM A193-B7", HALF, "B7"),
    ("12.9", HALF, "12.9"),
]


@pytest.mark.parametrize(("typed", "thread", "grade"), SPELLINGS)
def test_spelling_names_the_grade(typed: str, thread: Thread, grade: str) -> None:
    strength = strength_of(typed, thread)
    assert isinstance(strength, Strength)
    assert strength.grade == grade


@pytest.mark.parametrize(
    ("typed", "thread"),
    [
        ("", "M10"),
        ("11.9", "M10"),
        ("mystery", "M10"),
        ("5", "M10"),
        ("2", "1-3/4-5"),
        ("5", "#10-32"),
    ],
)
def test_unknown_grade_says_that_the_check_is_off(typed: str, thread: str) -> None:
    answer = strength_of(typed, read_thread(thread))
    assert isinstance(answer, Unknown)
    assert "not checked" in answer.words


def test_stainless_is_unknown_above_the_size_of_its_table() -> None:
    assert isinstance(strength_of("A2-70", read_thread("M20")), Strength)
    assert isinstance(strength_of("A2-70", read_thread("M22")), Unknown)


def test_bolting_steel_without_proof_load_is_measured_by_its_yield() -> None:
    strength = strength_of("B7", HALF)
    assert isinstance(strength, Strength)
    assert strength.proof_mpa is None
    assert (strength.limit_mpa, strength.limit_name) == (strength.yield_mpa, "yield")


def test_metric_bolting_steel_is_marked_as_from_memory() -> None:
    strength = strength_of("B7", M10)
    assert isinstance(strength, Strength)
    assert strength.standard == "ASTM A193M"
    assert "from memory" in strength.source


def test_own_proof_stress_is_taken_as_stated() -> None:
    strength = own_strength(read_amount("970 MPa", ("pressure",)))
    assert strength.limit_mpa == 970
    assert strength.source == "no source given"
    in_ksi = own_strength(read_amount("120 ksi", ("pressure",)), "sheet 4")
    assert in_ksi.limit_mpa == pytest.approx(827.37, abs=0.01)
    assert in_ksi.source == "sheet 4"


def test_nominal_stress_is_for_property_classes_only() -> None:
    with pytest.raises(ValueError, match="not a class"):
        nominal_tensile_mpa("B7")
