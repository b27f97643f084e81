"""The names in a cell of a table, one by one, with what is said of each behind it.

`key or driver` names alternatives; `gland (wiper outwards)` says which way round a part goes in;
`bead (within 30 min, why: it skins over)` says more of what has to come before; and `check float`
names a check where a step would be looked for.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.fields import Choices, Fitted, Links
from sequencer.reading.source import quoted
from sequencer.writing.texts import scalar

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

Piece: TypeAlias = "str | tuple[str, ...] | dict[str, str]"
"""A name; names of which either will do; or fields with what they hold."""

_BETWEEN = re.compile(r"\s*[;,\n]\s*(?![^()]*\))")
_OR = re.compile(r"\s+or\s+")
_SAID = re.compile(r"(?P<name>[^()]*[^()\s])\s*\((?P<said>.+)\)", re.DOTALL)
_MORE = re.compile(
    r"(?:(?P<time>wait|within)\s+(?P<held>[^,;]+?)\s*(?:[,;]\s*|$))|why:\s*(?P<why>.+)"
)
_IN_SIZES = frozenset(("x", "×", "-", "–", "mm", "in", "inch", "UNC", "UNF", "LH", "RH"))
_BARE = re.compile(r"[^\W_][\w.+×-]*(?: [\w.+×-]+)*")


def read_pieces(kind: Links | Choices | Fitted, text: str) -> list[Piece]:
    """Return what a cell names.

    Examples
    --------
    >>> read_pieces(Choices(("tool",)), "key or driver; hook")
    [('key', 'driver'), 'hook']
    >>> read_pieces(Fitted(), "2 rings (TOP up, gaps apart), cap")
    [{'2 rings': 'TOP up, gaps apart'}, 'cap']
    >>> read_pieces(
    ...     Links(("step", "check")), "check float; bead (within 30 min, why: it skins over)"
    ... )
    [{'check': 'float'}, {'step': 'bead', 'within': '30 min', 'why': 'it skins over'}]
    """
    return [_piece(kind, one) for one in _BETWEEN.split(text) if one]


def _piece(kind: Links | Choices | Fitted, text: str) -> Piece:
    if isinstance(kind, Choices):
        either = tuple(_OR.split(text))
        return either if len(either) > 1 else text
    said = _SAID.fullmatch(text)
    if isinstance(kind, Fitted):
        return {said["name"]: said["said"]} if said else text
    more = _more(said["said"]) if said else {}
    name = said["name"] if said and more else text
    first, _, rest = name.partition(" ")
    if first in kind.kinds and rest:
        return {first: rest, **more}
    return {kind.kinds[0]: name, **more} if more else text


def sizes_as_facings(pieces: Iterable[Piece]) -> Iterator[tuple[str, str]]:
    """Yield each part that is said to go in by what looks like a size or a number, with that.

    Examples
    --------
    >>> list(sizes_as_facings([{"2 bolts": "M8 × 20"}, {"ring": "TOP 1 up"}, "cap"]))
    [('2 bolts', 'M8 × 20')]
    """
    for piece in pieces:
        if isinstance(piece, dict):
            yield from ((name, said) for name, said in piece.items() if _is_size(said))


def _is_size(text: str) -> bool:
    words = [word for word in text.split() if word not in _IN_SIZES]
    return bool(words) and all(any(map(str.isdecimal, word)) for word in words)


def _more(said: str) -> dict[str, str]:
    """Return the times and the reason that are said of a link; nothing where it is other words."""
    found: dict[str, str] = {}
    at = 0
    while at < len(said):
        one = _MORE.match(said, at)
        if one is None:
            return {}
        found[one["time"] or "why"] = one["held"] or one["why"]
        at = one.end()
    return found


def written_piece(piece: Piece) -> str:
    """Return a piece as a model writes it behind a field or in a list.

    Examples
    --------
    >>> written_piece(("key", "driver")), written_piece({"step": "bead", "why": "it dries, fast"})
    ('[key, driver]', '{step: bead, why: "it dries, fast"}')
    """
    if isinstance(piece, str):
        return scalar(piece)
    if isinstance(piece, tuple):
        return f"[{', '.join(map(_inside, piece))}]"
    return f"{{{', '.join(f'{_inside(name)}: {_inside(held)}' for name, held in piece.items())}}}"


def _inside(text: str) -> str:
    """Return a text as it is written inside brackets or braces."""
    written = scalar(text)
    return written if written != text or _BARE.fullmatch(text) else quoted(text)
