"""One figure in several units."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.quantities import Amount, converted, read_amount
from sequencer.model.units import unit_for
from sequencer.trade.figures import half_step, odd_ones_out
from tests.trade.figures_typed import length, torque

AGREE = [
    ("12 N·m", "106 in-lb"),
    ("12 N·m", "106 in-lb", "8.9 ft-lb"),
    ("14 N·m", "10 ft-lb"),
    ("90 N·m", "65 ft-lb"),
    ("100 N·m", "75 ft-lb"),
    ("150 N·m", "110 ft-lb"),
    ("3.2 kgf·m", "31.4 N·m", "23 ft-lb"),
    ("75 to 81 N·m", "55 to 60 ft-lb"),
    ("150 N·m ± 5 %",),
]


@pytest.mark.parametrize("texts", AGREE, ids=" = ".join)
def test_rounding_is_quiet(texts: tuple[str, ...]) -> None:
    assert odd_ones_out([torque(text) for text in texts]) == ()


ODD = [
    (("12 N·m", "106 in-lb", "106 ft-lb"), (2,)),
    (("9 N·m", "80 in-lb", "0.9 kgf·m", "80 ft-lb"), (3,)),
    (("81 N·m", "50 ft-lb", "8.3 kgf·m"), (1,)),
    (("12 N·m", "12 ft-lb"), (0, 1)),
    (("90 ft-lb", "130 N·m"), (0, 1)),
    (("75 to 81 N·m", "55 to 70 ft-lb", "660 to 720 in-lb"), (1,)),
    (("at most 12 N·m", "12 N·m", "106 in-lb"), (0,)),
]


@pytest.mark.parametrize(("texts", "odd"), ODD)
def test_real_disagreement_names_the_odd_one_out(
    texts: tuple[str, ...], odd: tuple[int, ...]
) -> None:
    assert odd_ones_out([torque(text) for text in texts]) == odd


def test_nothing_and_one_figure_agree_with_themselves() -> None:
    assert odd_ones_out([]) == ()
    assert odd_ones_out([torque("61 N·m")]) == ()


def test_figures_of_two_quantities_are_not_compared() -> None:
    with pytest.raises(ValueError, match="different quantities"):
        odd_ones_out([torque("12 N·m"), length("12 mm")])


def test_printed_step_of_a_fraction_is_its_denominator() -> None:
    assert half_step(Fraction("7.25"), 0) == Fraction(1, 8)


UNITS = st.sampled_from(["N·m", "ft·lbf", "in·lbf", "kgf·cm", "kgf·m"])


def _printed(value: Fraction, symbol: str, places: int) -> Amount:
    return read_amount(f"{float(round(value, places)):.{places}f} {symbol}", ("torque",))


@given(
    st.fractions(1, 1000, max_denominator=1000), UNITS, UNITS, st.integers(0, 3), st.integers(0, 3)
)
def test_one_figure_rounded_in_any_two_units_agrees(
    newton_metres: Fraction, first: str, second: str, places: int, more_places: int
) -> None:
    base = unit_for("N·m")
    figures = [
        _printed(converted(newton_metres, base, unit_for(symbol)), symbol, decimals)
        for symbol, decimals in ((first, places), (second, more_places))
    ]
    assert odd_ones_out(figures) == ()


@given(st.integers(10, 1000), UNITS, UNITS)
def test_figure_twice_as_large_never_agrees(number: int, first: str, second: str) -> None:
    amount = torque(f"{number} {first}")
    other = _printed(2 * converted(amount.value, amount.unit, unit_for(second)), second, 3)
    assert odd_ones_out([amount, other]) == (0, 1)
