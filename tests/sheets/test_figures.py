"""Figures: as typed word for word, and no rounding that leaves the true band."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.assembly import Prints
from sequencer.model.fastening import TorqueValue
from sequencer.model.quantities import Amount, converted, read_amount
from sequencer.model.units import UNITS, Unit, unit_for
from sequencer.sheets.figures import (
    Figure,
    band,
    convert,
    figure,
    in_words,
    printed_units,
    torque_figure,
)

NUMBER = re.compile(r"−?[0-9]+(?:\.[0-9]+)?")
N_M, FT_LBF, MM, INCH = (unit_for(symbol) for symbol in ("N·m", "ft·lbf", "mm", "in"))


def amount(text: str) -> Amount:
    return read_amount(text, ("torque", "length", "force", "time"))


def numbers(text: str) -> list[Fraction]:
    return [Fraction(found.replace("−", "-")) for found in NUMBER.findall(text)]


# Each product from the exact factors in units.py, worked out by hand and rounded.
CONVERTED = (
    ("150 N·m", "ft·lbf", "111 ft·lbf"),  # 110.634
    ("90 ft-lb", "N·m", "122 N·m"),  # 122.024
    ("38 N·m", "ft·lbf", "28.0 ft·lbf"),  # 28.027
    ("60 in-lb", "N·m", "6.78 N·m"),  # 6.779
    ("12 kgf·m", "N·m", "118 N·m"),  # 117.68
    ("5 daN·m", "N·m", "50 N·m"),
    ("2 in", "mm", "50.8 mm"),
    ("7 1/64 in", "mm", "178.2 mm"),  # 178.197: the typed step is 0.4 mm
    ("0.001 in", "mm", "0.0254 mm"),
    ("25.02 to 25.06 mm", "in", "0.9851 to 0.9866 in"),  # 0.98504 to 0.98661
    ("0.05 to 0.10 mm", "in", "0.00197 to 0.00393 in"),  # 0.0019685 to 0.0039370
    ("at most 0.05 mm", "in", "at most 0.00196 in"),
    ("at least 3 mm", "in", "at least 0.119 in"),  # 0.11811
    ("150 N·m ± 5 %", "ft·lbf", "111 ft·lbf, 106 to 116"),  # 105.10 to 116.17
    ("-0.05 to 0.05 mm", "in", "−0.00196 to 0.00196 in"),
    ("5 to 5 mm", "in", "0.197 in"),  # a band without width is one figure
)


@pytest.mark.parametrize(("typed", "unit", "expected"), CONVERTED)
def test_converted_figures_are_rounded_as_a_person_would(
    typed: str, unit: str, expected: str
) -> None:
    assert convert(amount(typed), unit_for(unit)) == expected


def test_first_unit_is_large_and_second_small() -> None:
    prints = Prints(torque=("N·m", "ft·lbf"))
    assert figure(amount("40 N·m"), prints) == Figure("40 N·m", ("29.5 ft·lbf",))
    assert figure(amount("90 ft-lb"), prints) == Figure("122 N·m", (), given="90 ft-lb")
    assert figure(amount("12 kgf·m"), prints) == Figure("118 N·m", ("86.8 ft·lbf",), "12 kgf·m")


def test_units_to_print_may_be_spelled_as_anywhere_else() -> None:
    assert printed_units(N_M, Prints(torque=("ft-lbs", "Nm"))) == (FT_LBF, N_M)


def test_figure_is_large_as_typed_where_the_model_asks_for_no_units() -> None:
    assert figure(amount("90 ft-lbs"), Prints()) == Figure("90 ft-lbs", ("122 N·m",))
    assert figure(amount("40 Nm"), Prints()) == Figure("40 Nm", ("29.5 ft·lbf",))
    assert figure(amount("0.5 mm"), Prints()) == Figure("0.5 mm", ("0.0197 in",))
    assert figure(amount('3/4"'), Prints()) == Figure('3/4"', ("19.05 mm",))


def test_other_quantities_are_printed_as_typed() -> None:
    assert figure(amount("at most 180 N"), Prints()) == Figure("at most 180 N")


def test_tolerance_says_what_it_comes_to() -> None:
    shown = figure(amount("150 N·m ± 5 %"), Prints())
    assert shown == Figure("150 N·m ± 5 %", ("111 ft·lbf, 106 to 116",), band="142.5 to 157.5 N·m")
    assert band(amount("10 mm +0.05/-0.02")) == "9.98 to 10.05 mm"
    assert band(amount("55 to 60 N·m")) == ""


def test_angle_after_a_torque_stands_behind_every_figure() -> None:
    value = TorqueValue(
        text="40 N·m then 90°",
        amount=amount("40 N·m"),
        angle=read_amount("90°", ("angle",)),
    )
    assert torque_figure(value, Prints()) == Figure("40 N·m then 90°", ("29.5 ft·lbf then 90°",))
    inches = torque_figure(value, Prints(torque=("ft-lb",)))
    assert inches == Figure("29.5 ft·lbf then 90°", (), given="40 N·m then 90°")


def test_finger_tight_is_printed_as_it_is() -> None:
    assert torque_figure(TorqueValue(text="finger tight"), Prints()) == Figure("finger tight")


def test_figure_in_a_sentence_has_its_other_units_in_brackets() -> None:
    assert in_words(amount("40 mm"), Prints()) == "40 mm (1.57 in)"
    assert in_words(amount("2 in"), Prints(length=("mm",))) == "50.8 mm (2 in as given)"


PAIRS = [
    (one, other)
    for spellings in UNITS.values()
    for one in dict.fromkeys(spellings.values())
    for other in dict.fromkeys(spellings.values())
    if one is not other
]
DECIMALS = st.builds(
    lambda digits, places: (Fraction(digits, 10**places), places),
    st.integers(-(10**6), 10**6),
    st.integers(0, 5),
)


@given(pair=st.sampled_from(PAIRS), first=DECIMALS, second=DECIMALS, aim=st.fractions(0, 1))
def test_converted_band_never_leaves_the_true_one(
    pair: tuple[Unit, Unit],
    first: tuple[Fraction, int],
    second: tuple[Fraction, int],
    aim: Fraction,
) -> None:
    unit, other = pair
    low, high = sorted((first[0], second[0]))
    places = max(first[1], second[1])
    true_low, true_high = converted(low, unit, other), converted(high, unit, other)
    range_ = Amount("", unit, low, high, None, places)
    if low == high:
        assert len(numbers(convert(range_, other))) == 1
        return
    shown_low, shown_high = numbers(convert(range_, other).removesuffix(other.symbol))
    assert true_low <= shown_low <= shown_high <= true_high
    assert shown_high - shown_low >= Fraction(9, 10) * (true_high - true_low)
    tolerance = Amount("", unit, low, high, low + aim * (high - low), places)
    nominal, *ends = numbers(convert(tolerance, other).replace(other.symbol, ""))
    assert true_low <= nominal <= true_high
    assert true_low <= ends[0] <= ends[1] <= true_high


@given(pair=st.sampled_from(PAIRS), first=DECIMALS, second=DECIMALS)
def test_printed_figure_read_back_is_the_same_quantity(
    pair: tuple[Unit, Unit], first: tuple[Fraction, int], second: tuple[Fraction, int]
) -> None:
    """In the unit that it was printed in, with the ends and the open ends that were printed."""
    unit, other = pair
    low, high = sorted((first[0], second[0]))
    places = max(first[1], second[1])
    for bottom, top in ((low, high), (None, high), (low, None)):
        printed = convert(Amount("", unit, bottom, top, None, places), other)
        back = read_amount(printed, (other.quantity,))
        assert (back.quantity, back.unit) == (other.quantity, other)
        shown = numbers(printed.removesuffix(other.symbol))
        assert [end for end in dict.fromkeys((back.low, back.high)) if end is not None] == list(
            dict.fromkeys(shown)
        )
        assert (back.low is None, back.high is None) == (bottom is None, top is None)


@given(pair=st.sampled_from(PAIRS), typed=DECIMALS)
def test_converted_one_sided_limit_allows_nothing_more(
    pair: tuple[Unit, Unit], typed: tuple[Fraction, int]
) -> None:
    unit, other = pair
    value, places = typed
    true = converted(value, unit, other)
    (most,) = numbers(convert(Amount("", unit, None, value, None, places), other)[8:])
    (least,) = numbers(convert(Amount("", unit, value, None, None, places), other)[9:])
    assert most <= true <= least


@given(pair=st.sampled_from(PAIRS), typed=DECIMALS)
def test_converted_figure_is_as_fine_as_what_was_typed(
    pair: tuple[Unit, Unit], typed: tuple[Fraction, int]
) -> None:
    unit, other = pair
    value, places = typed
    true = converted(value, unit, other)
    (shown,) = numbers(convert(Amount("", unit, value, value, value, places), other))
    step = Fraction(1, 10**places) * unit.factor / other.factor
    assert abs(shown - true) <= step
    assert abs(shown - true) <= abs(true) / 200


@given(
    typed=st.from_regex(r"[1-9][0-9]{0,3}(\.[0-9]{1,3})?", fullmatch=True),
    percent=st.integers(1, 30),
)
def test_band_of_a_tolerance_in_its_own_unit_is_inside_it(typed: str, percent: int) -> None:
    meant = amount(f"{typed} N·m ± {percent} %")
    assert meant.low is not None
    assert meant.high is not None
    low, high = numbers(band(meant))
    assert meant.low <= low < high <= meant.high


@given(
    st.tuples(st.integers(1, 10**5), st.integers(2, 64), st.integers(1, 60)),
    st.sampled_from(["in", "ft", "mm"]),
)
def test_fractions_with_a_tolerance_come_to_an_end(
    typed: tuple[int, int, int], symbol: str
) -> None:
    top, bottom, percent = typed
    meant = amount(f"{top}/{bottom} {symbol} ± {percent} %")
    assert meant.low is not None
    low, high = numbers(band(meant))
    assert meant.low <= low < high
    one_sided = Amount("", meant.unit, meant.nominal, meant.high, meant.nominal, 0)
    assert numbers(convert(one_sided, MM if symbol != "mm" else INCH))
