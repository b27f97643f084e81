"""The text of conditions, such as ``fluid == hot and not (gap >= 8 mm)``: a grammar of our own.

What it does not know it refuses: the text of a file reaches nothing that could run it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from sequencer.model.numerals import plain_text
from sequencer.model.options import ANY, amount_in

if TYPE_CHECKING:
    from collections.abc import Iterator

LONGEST = 500  # characters that a condition may have
DEEPEST = 20
"""The most parentheses, and words `not`, that may stand round each other."""
KEYWORDS = frozenset(("and", "or", "not", "in"))

_SIGNS = {"≤": "<=", "≥": ">=", "≠": "!="}
_WORDS_FOR_EQUAL = frozenset(("is", "equals", "was"))
_SLIPS = {"=": "==", "&&": "and", "&": "and", "||": "or", "|": "or", "!": "not"}
_TOKEN = re.compile(
    r"""\s*(?:
      (?P<sign>==|!=|<=|>=|[<>≤≥≠])
    | (?P<mark>[()\[\]]|,(?![0-9]))
    | (?P<slip>=|&&?|\|\|?|!)
    | (?P<quoted>"[^"]*"|'[^']*')
    | (?P<word>(?!["'])(?:[^\s()\[\],=!<>≤≥≠&|]|,(?=[0-9]))+)
    )""",
    re.VERBOSE,
)
_FIGURE = re.compile(r"[0-9.,+\-¼½¾⅐-⅞]")


class ConditionError(ValueError):
    """Text that is no condition; `what`, `fix`, and where in the text: `start` and `width`."""

    def __init__(self, what: str, fix: str, start: int = 0, width: int | None = None) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix
        self.start = start
        self.width = width


class Spot(NamedTuple):
    """A piece of the condition: its words, and where in the text it begins and how wide it is."""

    text: str
    start: int
    width: int


@dataclass(frozen=True, slots=True)
class Comparison:
    """An option held against one value, or with `in` and `not in` against several."""

    option: Spot
    sign: str
    values: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Negation:
    """What holds where its term does not."""

    of: Term


@dataclass(frozen=True, slots=True)
class Joined:
    """Terms joined by `and` or by `or`."""

    word: str
    terms: tuple[Term, ...]


Term: TypeAlias = Comparison | Negation | Joined


@lru_cache(maxsize=4096)
def parse(text: str) -> Term:
    """Return what a condition says.

    Raises
    ------
    ConditionError
        If the text is no condition; it says what, where in the text, and what to type.

    Notes
    -----
    As in Python, `not` binds closer than `and`, and `and` closer than `or`; comparisons are not
    chained.

    Examples
    --------
    >>> term = parse("fluid == hot or gap > 8 mm")
    >>> term.word, [part.option.text for part in term.terms]
    ('or', ['fluid', 'gap'])
    """
    if len(text) > LONGEST:
        what = f"the condition has {len(text)} characters, and {LONGEST} are the most"
        raise ConditionError(what, "make it shorter: an option of its own may say the same")
    parser = _Parser(text)
    term = parser.disjunction(0)
    parser.end()
    return term


class _Token(NamedTuple):
    kind: str
    spot: Spot

    def says(self, word: str) -> bool:
        return self.kind in ("word", "mark") and self.spot.text.lower() == word


class _Parser:
    """Reads one condition from left to right."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._tokens = list(_tokens(text))
        self._at = 0

    def disjunction(self, depth: int) -> Term:
        return self._joined("or", depth)

    def end(self) -> None:
        """Insist that nothing is left."""
        token = self._here()
        if token is None:
            return
        shown = token.spot.text
        if token.kind == "sign":
            what = f"`{shown}` compares what is a comparison already"
            raise _at(token, what, "join two comparisons with `and`: `a > 1 mm and a < 3 mm`")
        if shown in (")", "]", ","):
            raise _at(token, f"nothing belongs to this `{shown}`", "take it away, or open it first")
        what = f"`and` or `or` is missing before `{shown}`"
        raise _at(token, what, "write the one that is meant")

    def _here(self) -> _Token | None:
        return self._tokens[self._at] if self._at < len(self._tokens) else None

    def _take(self, *words: str) -> bool:
        """Go past words if they stand here, one after the other."""
        following = self._tokens[self._at : self._at + len(words)]
        found = len(following) == len(words) and all(
            token.says(word) for token, word in zip(following, words, strict=True)
        )
        self._at += len(words) if found else 0
        return found

    def _joined(self, word: str, depth: int) -> Term:
        terms = [self._inner(word, depth)]
        while self._take(word):
            terms.append(self._inner(word, depth))
        return terms[0] if len(terms) == 1 else Joined(word, tuple(terms))

    def _inner(self, word: str, depth: int) -> Term:
        return self._joined("and", depth) if word == "or" else self._negated(depth)

    def _negated(self, depth: int) -> Term:
        if depth > DEEPEST:
            what = f"over {DEEPEST} parentheses stand round each other"
            raise ConditionError(what, "take those away that change nothing")
        if self._take("not"):
            return Negation(self._negated(depth + 1))
        opening = self._here()
        if opening is not None and self._take("("):
            term = self.disjunction(depth + 1)
            self._close(opening, ")")
            return term
        return self._comparison()

    def _close(self, opening: _Token, mark: str, *, is_list: bool = False) -> None:
        if self._take(mark):
            return
        token = self._here()
        if token is None or token.kind == "mark":
            what = f"the `{opening.spot.text}` opened here is not closed"
            raise _at(opening, what, f"put a `{mark}` where it ends")
        if is_list:
            what = f"a comma is missing before `{token.spot.text}`"
            raise _at(token, what, "put commas between the choices")
        self.end()

    def _comparison(self) -> Comparison:
        option = self._option()
        token = self._here()
        if token is not None and token.kind == "sign":
            self._at += 1
            sign = _SIGNS.get(token.spot.text, token.spot.text)
            return Comparison(option, sign, (self._value(f"`{token.spot.text}`"),))
        for words in (("in",), ("not", "in")):
            if self._take(*words):
                return Comparison(option, " ".join(words), self._list())
        if token is not None and token.kind == "word" and not self._is_keyword(token):
            raise _no_sign(option, token)
        what = f"`{option.text}` alone says nothing: it is held against no choice"
        fix = f"write `{option.text} == ` and the choice that is meant"
        raise ConditionError(what, fix, option.start, option.width)

    def _option(self) -> Spot:
        token = self._here()
        if token is None:
            raise self._breaks_off("the name of an option")
        is_figure = token.spot.text[0].isdigit() and amount_in(token.spot.text, ANY) is not None
        if token.kind != "word" or self._is_keyword(token) or is_figure:
            what = f"`{token.spot.text}` stands where the name of an option belongs"
            raise _at(token, what, "write the option first, such as `fluid == hot`")
        self._at += 1
        return token.spot

    def _value(self, after: str) -> Spot:
        token = self._here()
        if token is None:
            raise self._breaks_off("a choice")
        if token.kind == "quoted":
            self._at += 1
            return token.spot._replace(text=token.spot.text[1:-1])
        if token.kind != "word" or self._is_keyword(token):
            what = f"`{token.spot.text}` stands where a choice belongs, after {after}"
            raise _at(token, what, "write one of the choices of the option, or a figure")
        self._at += 1
        if not _FIGURE.match(token.spot.text):
            return token.spot
        return self._figure(token)

    def _figure(self, first: _Token) -> Spot:
        """Take the words behind a number too: its unit, or another number and its unit."""
        last = first
        while (token := self._here()) and token.kind == "word" and not self._is_keyword(token):
            last = token
            self._at += 1
        start, end = first.spot.start, last.spot.start + last.spot.width
        return Spot(self._text[start:end], start, end - start)

    def _list(self) -> tuple[Spot, ...]:
        opening = self._here()
        for mark, closing in (("[", "]"), ("(", ")")):
            if opening is not None and self._take(mark):
                values = [self._value(f"`{mark}`")]
                while self._take(","):
                    values.append(self._value("the comma"))
                self._close(opening, closing, is_list=True)
                return tuple(values)
        if opening is None:
            raise self._breaks_off("a list of choices")
        what = f"`{opening.spot.text}` stands where a list belongs"
        raise _at(opening, what, "write the choices in brackets: `in [hot, cold]`")

    def _is_keyword(self, token: _Token) -> bool:
        return token.kind == "word" and token.spot.text.lower() in KEYWORDS

    def _breaks_off(self, wanted: str) -> ConditionError:
        if not self._tokens:
            return ConditionError("the condition says nothing", "write one such as `fluid == hot`")
        last = self._tokens[-1]
        what = f"the condition breaks off after `{last.spot.text}`: {wanted} is missing"
        return _at(last, what, "write the rest of it, such as `fluid == hot`")


def _at(token: _Token, what: str, fix: str) -> ConditionError:
    return ConditionError(what, fix, token.spot.start, token.spot.width)


def _no_sign(option: Spot, token: _Token) -> ConditionError:
    shown = token.spot.text
    if shown.lower() in _WORDS_FOR_EQUAL:
        return _at(token, f"`{shown}` means nothing in a condition", "write `==`")
    what = f"`==` or another sign is missing before `{shown}`"
    return _at(token, what, f"write `{option.text} == {shown}`")


def _tokens(text: str) -> Iterator[_Token]:
    plain = plain_text(text)
    at, end = 0, len(plain.rstrip())
    while at < end:
        found = _TOKEN.match(plain, at)
        if found is None or found.lastgroup is None:
            start = at + len(plain[at:]) - len(plain[at:].lstrip())
            what, fix = f"`{text[start]}` means nothing in a condition", "take it away"
            if plain[start] in "\"'":
                what, fix = f"the `{text[start]}` opened here is not closed", "close it"
            raise ConditionError(what, fix, start, 1)
        kind = found.lastgroup
        start = found.start(kind)
        typed = text[start : found.end(kind)]
        if kind == "slip":
            fix = f"write `{_SLIPS[typed]}`"
            raise ConditionError(f"`{typed}` means nothing in a condition", fix, start, len(typed))
        yield _Token(kind, Spot(typed, start, len(typed)))
        at = found.end()
