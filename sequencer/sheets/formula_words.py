"""Formulas of computed checks as a sheet prints them: with the trade's signs, and in words."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from sequencer.trade.basics import TradeError, plain_number
from sequencer.trade.formulas import Operation, read_formula

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.trade.formulas import Node

_SIGNS = {"+": " + ", "-": " − ", "*": " × ", "/": " ÷ "}
_WORDS = {"+": " plus ", "-": " minus ", "*": " times ", "/": " divided by "}
_BINDS = {"+": 1, "-": 1, "*": 2, "/": 2}


def with_signs(formula: str) -> str:
    """Return a formula as one would write it by hand; what cannot be read stays as typed.

    Examples
    --------
    >>> with_signs("(bottom-top)/2"), with_signs("a - (b - c)")
    ('(bottom − top) ÷ 2', 'a − (b − c)')
    """
    try:
        return _told(read_formula(formula).tree, {}, _SIGNS)
    except TradeError:
        return formula.strip()


def in_words(formula: str, asked: Mapping[str, str]) -> str:
    """Return a formula in words, each reading by what is asked for; nothing if it cannot be read.

    Examples
    --------
    >>> in_words("face - height", {"face": "depth of seat"})
    '“depth of seat” minus height'
    """
    quoted = {name: f"“{words}”" for name, words in asked.items() if words}
    try:
        return _told(read_formula(formula).tree, quoted, _WORDS)
    except TradeError:
        return ""


def _told(node: Node, asked: Mapping[str, str], signs: Mapping[str, str]) -> str:
    if isinstance(node, Fraction):
        return plain_number(node).replace("-", "−")
    if isinstance(node, str):
        return asked.get(node) or node
    if node.sign == "*" and node.left == -1:
        return f"{signs['-'].lstrip()}{_inside(node.right, node, asked, signs)}"
    left = _inside(node.left, node, asked, signs)
    right = _inside(node.right, node, asked, signs, is_right=True)
    return f"{left}{signs[node.sign]}{right}"


def _inside(
    node: Node,
    outer: Operation,
    asked: Mapping[str, str],
    signs: Mapping[str, str],
    *,
    is_right: bool = False,
) -> str:
    """Return one side of an operation, in parentheses where these change what it means."""
    told = _told(node, asked, signs)
    if not isinstance(node, Operation):
        return told
    binds, around = _BINDS[node.sign], _BINDS[outer.sign]
    is_alone = is_right and binds == around and outer.sign in "-/"
    return f"({told})" if binds < around or is_alone else told
