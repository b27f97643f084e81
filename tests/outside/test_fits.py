"""ISO 286 limits against published rows and a package that carries the tables."""

from __future__ import annotations

import importlib
import math
from fractions import Fraction

import pytest

from sequencer.trade.fit_tables import BANDS, FINE_ABOVE, FINE_BANDS
from sequencer.trade.fits import Deviations, deviations, fit
from tests.outside.tables import Row, each_row


def _um(lower: float, upper: float) -> Deviations:
    return Deviations(Fraction(lower), Fraction(upper))


@each_row("fits", "size_mm", "fit")
def test_fit_has_the_published_limits(row: Row) -> None:
    found = fit(row["fit"], int(row["size_mm"]))
    assert found.hole == _um(int(row["hole_lower"]), int(row["hole_upper"]))
    assert found.shaft == _um(int(row["shaft_lower"]), int(row["shaft_upper"]))
    assert found.least_clearance_um == int(row["least"])
    assert found.most_clearance_um == int(row["most"])
    assert found.kind == row["kind"]


# Holes in micrometres, ISO 286-2, as carried by a package: class, size in mm, lower, upper.
HOLES = [
    ("G7", 25, 7, 28),
    ("F8", 40, 25, 64),
    ("E7", 80, 60, 90),
    ("JS7", 30, -10.5, 10.5),
    ("J7", 50, -11, 14),
    ("K7", 18, -12, 6),
    ("K8", 60, -32, 14),
    ("M7", 25, -21, 0),
    ("M6", 280, -41, -9),
    ("N7", 80, -39, -9),
    ("P7", 50, -42, -17),
    ("P8", 25, -55, -22),
    ("R7", 60, -60, -30),
]


@pytest.mark.parametrize(("name", "size", "lower", "upper"), HOLES)
def test_hole_has_the_published_limits(name: str, size: int, lower: float, upper: float) -> None:
    assert deviations(name, size) == _um(lower, upper)


# Shafts that the package below does not have, from the same tables.
SHAFTS = [("j6", 30, -4, 9), ("j7", 120, -15, 20), ("r6", 60, 41, 60), ("r6", 225, 80, 109)]


@pytest.mark.parametrize(("name", "size", "lower", "upper"), SHAFTS)
def test_shaft_has_the_published_limits(name: str, size: int, lower: float, upper: float) -> None:
    assert deviations(name, size) == _um(lower, upper)


def _sizes() -> list[float]:
    """Return sizes on each edge of a band and just over it."""
    return sorted({*BANDS, *FINE_BANDS, *(edge + 0.5 for edge in FINE_BANDS[:-1]), 0.5})


@pytest.mark.parametrize(
    "letter", ["c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "s", "u"]
)
def test_shafts_agree_with_a_package_of_fits(letter: str) -> None:
    """Every band edge and grade 5 to 11, as carried by pressfit."""
    package = importlib.import_module("pressfit")  # it ships no type hints
    for size in _sizes():
        for grade in range(5, 12):
            other = package.fit(f"H{grade}/{letter}{grade}", size)
            ours = fit(f"H{grade}/{letter}{grade}", Fraction(size))
            assert ours.hole == _um(other.hole_ei_um, other.hole_es_um)
            shaft = _um(other.shaft_ei_um, other.shaft_es_um)
            assert ours.shaft == shaft, f"{letter}{grade} at {size}"
            assert ours.kind == other.kind


def test_letter_r_is_the_mean_of_p_and_s() -> None:
    """ISO 286-1 derives r as the geometric mean of p and s (from memory), then rounds."""
    for size, r in zip(FINE_BANDS, FINE_ABOVE["r"], strict=True):
        p, s = (deviations(f"{letter}6", size).lower_um for letter in "ps")
        assert r == pytest.approx(math.sqrt(p * s), abs=1.6)
