"""Turn an author's text into HTML that says the same: escaped, breaks kept, figures kept whole."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from itertools import groupby

from markupsafe import Markup, escape

from sequencer.model.units import UNITS

_LONGEST = 32  # characters; a longer run is let break, or it would leave the page
_RIGHT_TO_LEFT = frozenset(("R", "AL"))  # Unicode's directions of such letters
_STRONG = _RIGHT_TO_LEFT | {"L"}
_JOINER = "\u2060"  # no line is broken at it
_ISLAND, _MAINLAND = "\u2066", "\u2069"  # left-to-right isolate, and its end
_BREAKS = re.compile(r"[\s/–—-](?=.)")  # what a line may be broken after
_EDGE = re.compile(r"[\s.,;:!?()]*")


@lru_cache(maxsize=1)
def _whole() -> re.Pattern[str]:
    """Return the pattern of what no line may break in.

    Figures with units, part numbers, O-rings, and the issue of a document.

    Every repeat has a bound, so that no text makes the search slow.
    """
    units = {spelling for spellings in UNITS.values() for spelling in spellings if spelling}
    unit = "|".join(re.escape(spelling) for spelling in sorted(units, key=len, reverse=True))
    number = r"[0-9]{1,12}(?:[.,/][0-9]{1,12}){0,3}"
    several = rf"{number}(?:\s?(?:–|-|to|\.\.|±|\+/-|×|x)\s?{number}){{0,3}}"
    tolerance = rf"(?:\s?(?:±|\+/-)\s?{number}(?:\s?%)?)?"
    figure = rf"[-−+]?{several}\s?(?:{unit})(?!\w){tolerance}"
    sizes = rf"{number}(?:\s?[×x]\s?{number}){{1,4}}"
    piece = r"[A-Za-z0-9]{1,24}"
    numbered = rf"(?=\S{{0,24}}[0-9]){piece}(?:[-/.×]{piece}){{1,8}}"
    lettered = r"[A-Za-z]-[a-z]{2,24}"  # O-ring, V-belt, T-piece
    issued = r"issue\s[A-Za-z0-9]{1,6}"
    whole = rf"{figure}|{sizes}|{numbered}|{lettered}|{issued}"
    return re.compile(rf"(?<![\w.,/×-])(?:{whole})(?![-/.×]?\w)")


def prose(text: object) -> Markup:
    """Return text to stand in a page: figures with their units, and part numbers, unbroken.

    Word joiners keep them whole: they are not seen and not in the text of the PDF, so that a
    search finds what was typed, and cost a third of what spans do. In a text with letters written
    from right to left, all between them is an island that keeps its own order.
    """
    words = str(text)
    if any(map(_is_right_to_left, words)):
        first = next(letter for letter in words if unicodedata.bidirectional(letter) in _STRONG)
        way = "rtl" if _is_right_to_left(first) else "ltr"
        return Markup('<span dir="{}">{}</span>').format(way, _with_islands(words))
    return _kept_whole(words)


def _kept_whole(words: str) -> Markup:
    pieces: list[Markup] = []
    end = 0
    for found in _whole().finditer(words):
        if len(found.group()) <= _LONGEST:
            pieces.append(escape(words[end : found.start()]))
            pieces.append(escape(_joined(found.group())))
            end = found.end()
    return Markup().join([*pieces, escape(words[end:])])


def _is_right_to_left(letter: str) -> bool:
    return unicodedata.bidirectional(letter) in _RIGHT_TO_LEFT


def _with_islands(words: str) -> Markup:
    pieces: list[str] = []
    for is_rtl, letters in groupby(words, _is_right_to_left):
        run = "".join(letters)
        start = _EDGE.match(run).end()  # type: ignore[union-attr]  # it matches nothing, too
        end = len(run) - _EDGE.match(run[::-1]).end()  # type: ignore[union-attr]  # likewise
        if is_rtl or start >= end:
            pieces.append(run)
        else:
            island = _kept_whole(run[start:end])
            pieces += (run[:start], _ISLAND, island, _MAINLAND, run[end:])
    return Markup().join(pieces)


def figure(text: object) -> Markup:
    """Return a figure to stand in a page, kept on one line unless it is very long."""
    words = str(text)
    if len(words) > _LONGEST:
        return escape(words)
    return escape(_joined(words))


def _joined(words: str) -> str:
    return _BREAKS.sub(rf"\g<0>{_JOINER}", words)
