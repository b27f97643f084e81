"""Figures as people type them: what is accepted and what it means, what is refused and why."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.numerals import Cursor
from sequencer.model.quantities import (
    Amount,
    AmountError,
    converted,
    plain_text,
    read_amount,
    to_si,
)
from sequencer.model.units import UNITS, unit_for

# Text, quantity, low, high, symbol; None where that end is open.
ACCEPTED = [
    ("12 Nm", "torque", "12", "12", "N·m"),
    ("2,5 Nm", "torque", "2.5", "2.5", "N·m"),
    ("0,050 mm", "length", "0.05", "0.05", "mm"),
    ("1 234 N·m", "torque", "1234", "1234", "N·m"),
    ("1'234 N·m", "torque", "1234", "1234", "N·m"),
    ("1’234 N·m", "torque", "1234", "1234", "N·m"),
    ("1 000 000 mm", "length", "1000000", "1000000", "mm"),
    (".5 mm", "length", "0.5", "0.5", "mm"),
    ("5e-3 mm", "length", "0.005", "0.005", "mm"),
    ("-3 °C", "temperature", "-3", "-3", "°C"),
    ("− 3 °C", "temperature", "-3", "-3", "°C"),
    ("+5 mm", "length", "5", "5", "mm"),
    (" 12 mm ", "length", "12", "12", "mm"),
    ("12mm", "length", "12", "12", "mm"),
    ("12\u00a0mm", "length", "12", "12", "mm"),
    ("12\u2009mm", "length", "12", "12", "mm"),
    ("12 ㎜", "length", "12", "12", "mm"),
    ("7 1/4 in", "length", "7.25", "7.25", "in"),
    ("7-1/4 in", "length", "7.25", "7.25", "in"),
    ('1/2"', "length", "0.5", "0.5", "in"),
    ("1/2”", "length", "0.5", "0.5", "in"),
    ("3′", "length", "3", "3", "ft"),
    ("½ in", "length", "0.5", "0.5", "in"),
    ("7½ in", "length", "7.5", "7.5", "in"),
    ("⅓ turn", "angle", "1/3", "1/3", "turn"),
    ("5 mil", "length", "5", "5", "thou"),
    ("20 ℃", "temperature", "20", "20", "°C"),
    ("100 F", "temperature", "100", "100", "°F"),
    ("55-60 N·m", "torque", "55", "60", "N·m"),
    ("55–60 N·m", "torque", "55", "60", "N·m"),
    ("55 to 60 N·m", "torque", "55", "60", "N·m"),
    ("55..60 N·m", "torque", "55", "60", "N·m"),
    ("55 N·m - 60 Nm", "torque", "55", "60", "N·m"),
    ("-0.05 to 0.10 mm", "length", "-0.05", "0.1", "mm"),
    ("1/8-3/8 in", "length", "0.125", "0.375", "in"),
    ("3 1/2 to 4 in", "length", "3.5", "4", "in"),
    ("55±5 N·m", "torque", "50", "60", "N·m"),
    ("55 +/- 5 N·m", "torque", "50", "60", "N·m"),
    ("55 N·m ± 5 N·m", "torque", "50", "60", "N·m"),
    ("150 N·m ± 5 %", "torque", "142.5", "157.5", "N·m"),
    ("10 mm +0.05/-0.02", "length", "9.98", "10.05", "mm"),
    ("10 +0.05 -0.02 mm", "length", "9.98", "10.05", "mm"),
    ("10 -0.02/+0.05 mm", "length", "9.98", "10.05", "mm"),
    ("+0.05/-0.00 mm", "length", "0", "0.05", "mm"),
    ("±0.05 mm", "length", "-0.05", "0.05", "mm"),
    ("at most 0.05 mm", "length", None, "0.05", "mm"),
    ("≤ 0.05 mm", "length", None, "0.05", "mm"),
    ("max. 0.05 mm", "length", None, "0.05", "mm"),
    ("0.05 mm max", "length", None, "0.05", "mm"),
    ("at least 3 mm", "length", "3", None, "mm"),
    (">= 3 mm", "length", "3", None, "mm"),
    ("3 mm min.", "length", "3", None, "mm"),
    ("3 min", "time", "3", "3", "min"),
    ("1 h 30 min", "time", "1.5", "1.5", "h"),
    ("12 min 30 s", "time", "12.5", "12.5", "min"),
    ("1/4 turn", "angle", "0.25", "0.25", "turn"),
    ("at least 3", "number", "3", None, ""),
    ("106 lb·in", "torque", "106", "106", "in·lbf"),
    ("3.2 m-kg", "torque", "3.2", "3.2", "kgf·m"),
    ("80 kgf·cm", "torque", "80", "80", "kgf·cm"),
]


@pytest.mark.parametrize(("text", "quantity", "low", "high", "symbol"), ACCEPTED)
def test_a_figure_is_read_as_meant(
    text: str, quantity: str, low: str | None, high: str | None, symbol: str
) -> None:
    amount = read_amount(text, (quantity,))
    assert amount.text == text
    assert amount.low == (None if low is None else Fraction(low))
    assert amount.high == (None if high is None else Fraction(high))
    assert (amount.unit.symbol, amount.quantity) == (symbol, quantity)


# Text, quantity, a piece of what is said, a piece of the advice, the piece of text pointed at.
REFUSED = [
    ("", "length", "is missing", "12.5 mm", ""),
    ("5", "length", "no unit", "`mm`", "5"),
    ("mm", "length", "no number", "12.5 mm", "mm"),
    ("1,500 N·m", "torque", "thousands or a decimal comma", "`1500` or `1.500`", "1,500"),
    ("12.345,6 N·m", "torque", "more than one decimal mark", "one decimal point", "12.345,6"),
    ("1.5.2 mm", "length", "more than one decimal mark", "one decimal point", "1.5.2"),
    ("12 lb", "torque", "differ twelve times", "`ft-lb` or `in-lb`", "lb"),
    ("12 lbs", "torque", "differ twelve times", "`ft-lb` or `in-lb`", "lbs"),
    ("12 nm", "torque", "nanometre", "`N·m`", "nm"),
    ("12 NM", "torque", "not a torque", "`N·m`", "NM"),
    ("12 FT-LB", "torque", "no unit known", "did you mean `ft·lbf`?", "FT-LB"),
    ("12 Mm", "length", "no unit known", "did you mean `mm`?", "Mm"),
    ("12 Nmn", "torque", "no unit known", "did you mean", "Nmn"),
    ("12 kg", "torque", "is a mass, where a torque belongs", "", "kg"),
    ("2 ft", "mass", "is a length, where a mass belongs", "use one of `kg`", "ft"),
    ("20 °C", "angle", "is a temperature, where an angle belongs", "", "°C"),
    ("60 to 55 N·m", "torque", "larger figure to the smaller", "smaller figure first", None),
    ("3 mm to 5 in", "length", "not understood", "one unit", "in"),
    ("10 mm ± 100 µm", "length", "not understood", "one unit", "µm"),
    ("> 3 mm", "length", "leave open", "`at most` or `at least`", ">"),
    ("12:30", "time", "time of day", "`12 min 30 s`", None),
    ("30 min 1 h", "time", "not a length of time", "`1 h 30 min`", "1 h"),
    ("nan N·m", "torque", "no number", "", "nan N·m"),
    ("inf N·m", "torque", "no number", "", "inf N·m"),
    ("１２ mm", "length", "no number", "", "１２ mm"),
    ("1e999999 mm", "length", "too large or too small", "exponent", "1e999"),
    ("1e16 mm", "length", "too large or too small", "exponent", "1e16"),
    ("1/0 in", "length", "divides by nothing", "fraction", "1/0"),
    ("9**9**9", "length", "no unit known", "", "**9**9"),
    ("10**10**10 N·m", "torque", "no unit known", "", "**10**10 N·m"),
    ("0x10 mm", "length", "no unit known", "", "x10 mm"),
    ("1_000 mm", "length", "no unit known", "", "_000 mm"),
    ("12 mm (about)", "length", "not understood", "`note`", "(about)"),
    ("5' 10\"", "length", "not understood", "one unit", '10"'),
    ("1 to 2 to 3 mm", "length", "no unit known", "", "to 3 mm"),
    ("3 m²", "length", "no unit known", "", "m²"),
    ("9" * 201, "length", "over 200 characters", "shorten", None),
]


@pytest.mark.parametrize(("text", "quantity", "what", "fix", "piece"), REFUSED)
def test_anything_else_is_refused_with_advice(
    text: str, quantity: str, what: str, fix: str, piece: str | None
) -> None:
    with pytest.raises(AmountError) as caught:
        read_amount(text, (quantity,))
    error = caught.value
    assert what in error.what
    assert fix in error.fix
    if piece is not None:
        end = None if error.width is None else error.start + error.width
        assert text[error.start : end] == piece


@pytest.mark.parametrize("text", ["5 to 6 mm", "at most 5 mm", "5 ± 1 mm", "3 mm min"])
def test_a_range_is_refused_where_one_figure_belongs(text: str) -> None:
    with pytest.raises(AmountError, match="one figure"):
        read_amount(text, ("length",), limits=False)


@pytest.mark.parametrize(
    ("text", "places"),
    [("0.050 mm", 3), ("0.05 to 0.1 mm", 2), ("12 mm", 0), ("10 ± 0.25 mm", 2), ("7 1/4 in", 0)],
)
def test_the_decimals_typed_are_kept(text: str, places: int) -> None:
    assert read_amount(text, ("length",)).places == places


@pytest.mark.parametrize(
    ("text", "nominal", "value"),
    [
        ("12 mm", 12, 12),
        ("10 ± 1 mm", 10, 10),
        ("10 mm +2/-0", 10, 10),
        ("10 to 13 mm", None, Fraction(23, 2)),
        ("at most 5 mm", None, 5),
        ("at least 3 mm", None, 3),
    ],
)
def test_the_one_figure_to_use(text: str, nominal: int | None, value: Fraction) -> None:
    amount = read_amount(text, ("length",))
    assert amount.nominal == nominal
    assert amount.value == value


@pytest.mark.parametrize(
    ("text", "quantity", "si"),
    [
        ("12 Nmm", "torque", 0.012),
        ("7 1/4 in", "length", 0.18415),
        ("1 h 30 min", "time", 5400),
        ("20 °C", "temperature", 293.15),
        ("-40 °F", "temperature", 233.15),
        ("1/4 turn", "angle", 90),
        ("5 %", "ratio", 0.05),
    ],
)
def test_figures_in_si(text: str, quantity: str, si: float) -> None:
    assert read_amount(text, (quantity,)).si == pytest.approx(si, rel=1e-15)


# Inch-pounds, foot-pounds and newton metres of one screw: 12 N·m are 106 lb·in are 8.83 lb·ft.
@pytest.mark.parametrize(("text", "n_m"), [("106 lb·in", 11.98), ("3.2 m-kg", 31.4)])
def test_torques_in_newton_metres(text: str, n_m: float) -> None:
    assert read_amount(text, ("torque",)).si == pytest.approx(n_m, abs=0.05)


def test_of_several_quantities_the_first_that_fits_wins() -> None:
    assert read_amount("5 lb", ("torque", "mass", "force")).quantity == "mass"
    assert read_amount("5 lb-in", tuple(UNITS)).quantity == "torque"


def test_units_of_different_quantities_are_not_converted() -> None:
    with pytest.raises(ValueError, match="length"):
        converted(Fraction(1), unit_for("mm"), unit_for("kg"))


texts = st.text(
    alphabet=st.one_of(
        st.sampled_from(list("0123456789.,+-±/%°<>≤≥ \u00a0½⅜'\"eE:*^()NmftlbinkgcoatrsM·–×")),
        st.characters(),
    ),
    max_size=24,
)


@given(texts, st.sampled_from([*((name,) for name in UNITS), tuple(UNITS)]), st.booleans())
def test_no_text_raises_anything_but_the_error_for_figures(
    text: str, quantities: tuple[str, ...], limits: bool
) -> None:
    result: Amount | AmountError
    try:
        result = read_amount(text, quantities, limits=limits)
    except AmountError as error:
        result = error
    if isinstance(result, AmountError):
        assert result.what
        assert result.fix
        assert 0 <= result.start <= max(len(text) - 1, 0)
    else:
        assert result.quantity in quantities
        assert result.low is not None or result.high is not None
        assert result.low is None or result.high is None or result.low <= result.high


numbers = st.decimals(min_value=-9999, max_value=9999, places=3, allow_nan=False)
units = st.sampled_from(
    sorted({(unit.symbol, quantity) for quantity in UNITS for unit in UNITS[quantity].values()})
)


@given(numbers, units)
def test_a_plain_figure_comes_back_as_it_was_written(
    number: Fraction, unit: tuple[str, str]
) -> None:
    symbol, quantity = unit
    amount = read_amount(f"{number:f} {symbol}", (quantity,))
    assert amount.low == amount.high == amount.nominal == Fraction(number)
    assert (amount.unit.symbol, amount.places) == (symbol, 3)


@given(numbers, numbers, units)
def test_a_range_has_both_its_ends(one: Fraction, other: Fraction, unit: tuple[str, str]) -> None:
    symbol, quantity = unit
    low, high = sorted((one, other))
    amount = read_amount(f"{low:f} to {high:f} {symbol}", (quantity,))
    assert (amount.low, amount.high) == (Fraction(low), Fraction(high))


@given(numbers, units, st.data())
def test_there_and_back_is_exact(
    number: Fraction, unit: tuple[str, str], data: st.DataObject
) -> None:
    one = unit_for(unit[0])
    others = sorted({other.symbol for other in UNITS[unit[1]].values()})
    other = unit_for(data.draw(st.sampled_from(others)))
    value = Fraction(number)
    assert converted(converted(value, one, other), other, one) == value
    assert to_si(converted(value, one, other), other) == to_si(value, one)


@given(st.text())
def test_plain_text_keeps_every_place(text: str) -> None:
    assert len(plain_text(text)) == len(text)
    assert plain_text(plain_text(text)) == plain_text(text)


def test_a_cursor_counts_in_the_text_as_typed() -> None:
    cursor = Cursor("  7½\u00a0in")
    assert cursor.number() == (Fraction(15, 2), 0)
    assert cursor.skip_spaces() == len("  7½\u00a0")
    assert cursor.rest == "in"


def test_amounts_of_one_text_are_equal() -> None:
    one, other = (read_amount("55 to 60 N·m", ("torque",)) for _ in range(2))
    assert one == other
    assert isinstance(one, Amount)


def test_where_any_unit_will_do_some_of_every_sort_are_named() -> None:
    with pytest.raises(AmountError) as caught:
        read_amount("3 qqq", tuple(UNITS))
    assert caught.value.what == (
        "`3 qqq` is not a figure in a unit known here: `qqq` is no unit known here"
    )
    assert caught.value.fix == "use one of `mm`, `N·m`, `kg`, `bar`, `°C`, `s` and others"


def test_a_range_of_dots_is_one_where_any_unit_will_do() -> None:
    amount = read_amount("0.1..0.2", tuple(UNITS))
    assert (amount.low, amount.high) == (Fraction(1, 10), Fraction(1, 5))
