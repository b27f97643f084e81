"""Computed checks: formulas, their units and their spread."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.quantities import Amount, read_amount
from sequencer.trade.arithmetic import check_formula, compute
from sequencer.trade.basics import TradeError
from sequencer.trade.formulas import read_formula
from tests.trade.figures_typed import figure, length, torque


def _value(text: str, **readings: str) -> float:
    amounts: dict[str, Amount] = {name: figure(typed) for name, typed in readings.items()}
    return float(compute(read_formula(text), amounts, "number").value)


VALUES = [
    ("1 + 2 * 3", 7),
    ("(1 + 2) * 3", 9),
    ("8 - 3 - 2", 3),
    ("8 / 4 / 2", 1),
    ("-2 * -3", 6),
    ("2 - -3", 5),
    ("−2 × 3", -6),
    ("+.5 * 4", 2),
    ("1.25 / 0.5", 2.5),
]


@pytest.mark.parametrize(("text", "value"), VALUES)
def test_arithmetic_is_what_school_taught(text: str, value: float) -> None:
    assert _value(text) == value


NUMBERS = st.integers(1, 99).map(str)
FORMULAS = st.recursive(
    NUMBERS,
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from(["+", "-", "*"]), inner).map(lambda t: f"({' '.join(t)})"),
        inner.map(lambda one: f"-{one}"),
    ),
    max_leaves=8,
)


@given(FORMULAS)
def test_values_agree_with_python(text: str) -> None:
    """Python's own evaluation serves as the judge here, of text made by this test alone."""
    expected = eval(text, {"__builtins__": {}})  # noqa: S307  # our own text
    assert compute(read_formula(text), {}, "number").value == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a b",
        "a +",
        "(a",
        "a)",
        "()",
        "2 3",
        "a ** b",
        "f(a)",
        "__import__('os')",
        "1e5 * a",
        ".",
        "a.b",
        "é",
    ],
)
def test_anything_else_is_refused_by_name(text: str) -> None:
    with pytest.raises(TradeError) as error:
        read_formula(text)
    assert "parentheses" in error.value.fix


@pytest.mark.parametrize("text", ["(" * 30 + "a" + ")" * 30, "-" * 60 + "a", "a + " * 80 + "a"])
def test_formula_out_of_measure_is_refused(text: str) -> None:
    with pytest.raises(TradeError, match=r"nested|200 characters"):
        read_formula(text)


def _names_or_help(text: str) -> tuple[str, ...] | str:
    try:
        return read_formula(text).names
    except TradeError as error:
        return error.fix


@given(st.text(alphabet="ab(+-*/). 12é", max_size=30))
def test_any_text_is_a_formula_or_a_plain_refusal(text: str) -> None:
    answer = _names_or_help(text)
    if isinstance(answer, str):
        assert answer
    else:
        assert len(set(answer)) == len(answer)
        assert all(name in text for name in answer)


SOUND = [
    ("face - height", {"face": "length", "height": "length"}, "length"),
    ("(bottom - top) / 2", {"bottom": "length", "top": "length"}, "length"),
    ("force * arm", {"force": "force", "arm": "length"}, "torque"),
    ("pull / (w * h)", {"pull": "force", "w": "length", "h": "length"}, "pressure"),
    ("out / run", {"out": "length", "run": "length"}, "ratio"),
    ("u / i", {"u": "voltage", "i": "current"}, "resistance"),
    ("1 - worn / new", {"worn": "length", "new": "length"}, "number"),
]


@pytest.mark.parametrize(("text", "quantities", "wanted"), SOUND)
def test_units_that_agree_pass(text: str, quantities: dict[str, str], wanted: str) -> None:
    check_formula(read_formula(text), quantities, wanted)


UNSOUND = [
    ("face + mass", {"face": "length", "mass": "mass"}, "length", "unlike"),
    ("face + 2", {"face": "length"}, "length", "unlike"),
    ("face * height", {"face": "length", "height": "length"}, "length", "no name"),
    ("face / 2", {"face": "length"}, "mass", "a length, where the limit is a mass"),
    ("face - depth", {"face": "length"}, "length", "`depth`"),
    ("hot - cold", {"hot": "temperature", "cold": "temperature"}, "temperature", "temperature"),
    ("1 + 1", {}, "temperature", "temperature"),
]


@pytest.mark.parametrize(("text", "quantities", "wanted", "said"), UNSOUND)
def test_units_that_do_not_agree_are_told(
    text: str, quantities: dict[str, str], wanted: str, said: str
) -> None:
    with pytest.raises(TradeError, match=said):
        check_formula(read_formula(text), quantities, wanted)


def test_units_are_mixed_freely_within_one_quantity() -> None:
    typed = {"face": length("1 in"), "height": length("25 mm")}
    result = compute(read_formula("face - height"), typed, "length")
    assert result.value == Fraction("0.0004")


def test_spread_is_the_worst_of_all_corners() -> None:
    typed = {"a": length("10 mm ± 0.1 mm"), "b": length("4 mm ± 0.2 mm")}
    result = compute(read_formula("a - b"), typed, "length")
    assert (float(result.low), float(result.high)) == pytest.approx((0.0057, 0.0063))
    assert result.spread == Fraction("0.0003")


def test_reading_named_twice_spreads_once() -> None:
    """(bottom + top)/2 − top is (bottom − top)/2: top's own spread partly cancels."""
    typed = {"bottom": length("1.0 mm ± 0.1 mm"), "top": length("0.4 mm ± 0.1 mm")}
    result = compute(read_formula("(bottom + top) / 2 - top"), typed, "length")
    assert result.spread == Fraction("0.0001")


BANDS = st.tuples(st.integers(-50, 50), st.integers(0, 9))


@given(BANDS, BANDS, st.sampled_from(["a + b", "a - b", "a * b", "2 * a - b * (a + 1)"]), st.data())
def test_no_reading_within_its_band_gives_more_than_the_spread(
    a: tuple[int, int], b: tuple[int, int], text: str, data: st.DataObject
) -> None:
    typed = {
        name: read_amount(f"{middle} ± {half}", ("number",))
        for name, (middle, half) in {"a": a, "b": b}.items()
    }
    formula = read_formula(text)
    result = compute(formula, typed, "number")
    inside = {
        name: read_amount(str(data.draw(st.integers(middle - half, middle + half))), ("number",))
        for name, (middle, half) in {"a": a, "b": b}.items()
    }
    assert result.low <= compute(formula, inside, "number").value <= result.high


@pytest.mark.parametrize("below", ["0", "1 ± 2", "0 ± 1"])
def test_division_by_what_may_be_nothing_is_refused(below: str) -> None:
    typed = {"a": read_amount("4", ("number",)), "b": read_amount(below, ("number",))}
    with pytest.raises(TradeError, match="divides by what is or may be nothing"):
        compute(read_formula("a / b"), typed, "number")


def test_open_reading_is_refused() -> None:
    with pytest.raises(TradeError, match="open at one end"):
        compute(read_formula("a"), {"a": length("at most 3 mm")}, "length")


def test_too_many_unsure_readings_are_refused() -> None:
    typed = {f"r{n}": torque("1 N·m ± 0.1 N·m") for n in range(13)}
    with pytest.raises(TradeError, match="more than 12"):
        compute(read_formula(" + ".join(typed)), typed, "torque")
