"""Formulas as a sheet prints them say what was typed."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from sequencer.sheets.formula_words import in_words, with_signs
from sequencer.trade.formulas import Node, read_formula

VALUES = {"a": Fraction(7), "b": Fraction(-3), "c": Fraction(5, 2)}


def value(node: Node) -> Fraction | None:
    if isinstance(node, Fraction):
        return node
    if isinstance(node, str):
        return VALUES[node]
    left, right = value(node.left), value(node.right)
    if left is None or right is None or (node.sign == "/" and right == 0):
        return None
    return {
        "+": lambda: left + right,
        "-": lambda: left - right,
        "*": lambda: left * right,
        "/": lambda: left / right,
    }[node.sign]()


FORMULAS = st.recursive(
    st.sampled_from(["a", "b", "c", "2", "0.5"]),
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda it: f"({it[0]}{it[1]}{it[2]})"),
        inner.map(lambda one: f"(-{one})"),
    ),
    max_leaves=8,
)


@given(FORMULAS)
def test_printed_formula_read_back_gives_the_same_figure(formula: str) -> None:
    printed = with_signs(formula)
    assert value(read_formula(printed).tree) == value(read_formula(formula).tree)


def test_no_more_parentheses_than_it_takes() -> None:
    assert with_signs("((bottom) - (top)) / 2") == "(bottom − top) ÷ 2"
    assert with_signs("a+(b*c)") == "a + b × c"
    assert with_signs("a-(b+c)") == "a − (b + c)"
    assert with_signs("a/(b*c)") == "a ÷ (b × c)"


def test_words_name_what_is_asked_for() -> None:
    asked = {"face": "Depth of the seat", "height": ""}
    assert in_words("(face - height) / 2", asked) == (
        "(“Depth of the seat” minus height) divided by 2"
    )


def test_formula_that_cannot_be_read_stays_as_typed() -> None:
    assert with_signs(" a ** b ") == "a ** b"
    assert in_words("a ** b", {}) == ""
