"""Fits by name, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.basics import TradeError
from sequencer.trade.fits import deviations, fit


@pytest.mark.parametrize(("size", "upper"), [("30", 21), ("30.01", 25), ("50", 25), ("50.01", 30)])
def test_edge_of_a_band_belongs_to_the_band_below(size: str, upper: int) -> None:
    assert deviations("H7", Fraction(size)).upper_um == upper


@given(
    st.fractions(Fraction(1, 10), 500),
    st.sampled_from(["c", "d", "e", "f", "g", "h"]),
    st.integers(5, 11),
)
def test_hole_to_h_mirrors_its_shaft(size: Fraction, letter: str, grade: int) -> None:
    shaft, hole = deviations(f"{letter}{grade}", size), deviations(f"{letter.upper()}{grade}", size)
    assert (hole.lower_um, hole.upper_um) == (-shaft.upper_um, -shaft.lower_um)


@given(st.fractions(Fraction(301, 100), 500), st.sampled_from("pru"), st.just(7))
def test_same_fit_in_hole_and_shaft_basis_is_as_tight(
    size: Fraction, letter: str, grade: int
) -> None:
    """What Δ is for: H7/p6 and P7/h6 have the same interference."""
    in_hole_basis = fit(f"H{grade}/{letter}{grade - 1}", size)
    in_shaft_basis = fit(f"{letter.upper()}{grade}/h{grade - 1}", size)
    assert in_hole_basis.least_clearance_um == in_shaft_basis.least_clearance_um
    assert in_hole_basis.most_clearance_um == in_shaft_basis.most_clearance_um


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("H7", 25),
        ("g6/H7", 25),
        ("H7/q6", 25),
        ("H4/g6", 25),
        ("H12/g6", 25),
        ("K9/h6", 25),
        ("H7/g6", 0),
        ("H7/g6", 501),
        ("", 25),
    ],
)
def test_what_the_tables_do_not_have_is_refused(name: str, size: int) -> None:
    with pytest.raises(TradeError):
        fit(name, size)
