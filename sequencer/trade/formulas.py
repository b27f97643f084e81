"""Formulas of computed checks, as typed: names, plain numbers, the four operations, parentheses.

The text never reaches Python's own evaluation: a small tokenizer refuses all the rest.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from sequencer.trade.basics import TradeError

_LONGEST, _DEEPEST = 200, 20
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")
_TOKEN = re.compile(rf"\s*({_NUMBER.pattern}|{_NAME.pattern}|\S)")
_SIGNS = str.maketrans({"−": "-", "–": "-", "×": "*", "·": "*", "÷": "/"})
_ALLOWED = "use names of readings, plain numbers, + - * / and parentheses"


@dataclass(frozen=True, slots=True)
class Operation:
    """Two terms and the sign between them."""

    sign: str
    left: Node
    right: Node


# A number, the name of a reading, or an operation on two of them.
Node: TypeAlias = "Fraction | str | Operation"


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula that has been read: its text, the readings it names in order, and its tree."""

    text: str
    names: tuple[str, ...]
    tree: Node


def read_formula(text: str) -> Formula:
    """Read a formula such as ``(bottom - top) / 2``.

    Raises
    ------
    TradeError
        If it is anything but names, plain numbers, ``+ - * /`` and parentheses, over 200
        characters, or nested deeper than 20.

    Examples
    --------
    >>> read_formula("(bottom - top) / 2").names
    ('bottom', 'top')
    """
    if len(text) > _LONGEST:
        raise TradeError("a formula of over 200 characters", "split it into several results")
    reader = _Reader(text)
    tree = reader.sum(0)
    if reader.next:
        raise reader.error()
    return Formula(text, tuple(dict.fromkeys(reader.names)), tree)


class _Reader:
    """Recursive descent over the tokens of one formula."""

    def __init__(self, text: str) -> None:
        self.text = text.strip()
        self.tokens: list[str] = _TOKEN.findall(text.translate(_SIGNS))[::-1]
        self.names: list[str] = []

    @property
    def next(self) -> str:
        return self.tokens[-1] if self.tokens else ""

    def error(self) -> TradeError:
        if self.next:
            return TradeError(f"`{self.next}` does not belong there in `{self.text}`", _ALLOWED)
        return TradeError(f"something is missing at the end of `{self.text}`", _ALLOWED)

    def sum(self, depth: int) -> Node:
        left = self.product(depth)
        while self.next in ("+", "-"):
            sign = self.tokens.pop()
            left = Operation(sign, left, self.product(depth))
        return left

    def product(self, depth: int) -> Node:
        left = self.factor(depth)
        while self.next in ("*", "/"):
            sign = self.tokens.pop()
            left = Operation(sign, left, self.factor(depth))
        return left

    def factor(self, depth: int) -> Node:
        if depth > _DEEPEST:
            raise TradeError(f"`{self.text}` is nested too deep", "split it into several results")
        if self.next in ("-", "+"):
            minus = self.tokens.pop() == "-"
            inner = self.factor(depth + 1)
            return Operation("*", Fraction(-1), inner) if minus else inner
        if self.next == "(":
            self.tokens.pop()
            inner = self.sum(depth + 1)
            if self.next != ")":
                raise self.error()
            self.tokens.pop()
            return inner
        return self.leaf()

    def leaf(self) -> Fraction | str:
        if _NUMBER.fullmatch(self.next):
            return Fraction(self.tokens.pop())
        if not _NAME.fullmatch(self.next):
            raise self.error()
        self.names.append(self.next)
        return self.tokens.pop()
