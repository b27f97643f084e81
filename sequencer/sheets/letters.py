"""How wide words are in the packet's font, so that a drawing can keep them inside its boxes."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from sequencer.drawing.ink import Words
from sequencer.sheets.fonts import advances

if TYPE_CHECKING:
    from collections.abc import Sequence

_PT = 25.4 / 72
_STRANGE = 1.0  # of its size: how wide a letter may be that the font lacks
_MORE = "…"


@lru_cache(maxsize=4096)
def wide(text: str, size: float, weight: int = 400) -> float:
    """Return how wide a text is, in mm, at a size in pt.

    Letters that the packet's fonts lack count as wide as they are high; how letters are drawn
    closer to one another does not count.
    """
    known = advances(weight)
    return sum(known.get(ord(letter), _STRANGE) for letter in text) * size * _PT


def centred(
    x: float, y: float, text: str, size: float, weight: int = 400, *, fill: str = "black"
) -> Words:
    """Return a text whose middle is at a place."""
    return Words(x - wide(text, size, weight) / 2, y, text, size, weight, fill)


def ending(x: float, y: float, text: str, size: float, weight: int = 400) -> Words:
    """Return a text whose end is at a place."""
    return Words(x - wide(text, size, weight), y, text, size, weight)


def cut(text: str, room: float, size: float, weight: int = 400) -> str:
    """Return the text on one line, cut to the room that it has in mm, at a word if it can be.

    Examples
    --------
    >>> cut("Slide the gland over the sleeve", 26, 9)
    'Slide the gland…'
    """
    line = " ".join(text.split())
    if wide(line, size, weight) <= room:
        return line
    kept = line
    while kept and wide(kept + _MORE, size, weight) > room:
        kept = kept[:-1]
    at_a_word = kept.rpartition(" ")[0]
    whole = line[len(kept) : len(kept) + 1] == " "
    if not whole and len(at_a_word) > len(kept) / 2:
        kept = at_a_word
    return f"{kept.rstrip(' ,;:.')}{_MORE}" if kept else ""


def broken(text: str, room: float, size: float, lines: int) -> tuple[str, ...]:
    """Return the text on at most so many lines, the last one cut.

    Examples
    --------
    >>> broken("Slide the gland over the sleeve", 22, 9, 2)
    ('Slide the gland', 'over the sleeve')
    """
    words = text.split()
    found: list[str] = []
    while words and len(found) < lines - 1:
        count = _most(words, room, size)
        if not count:
            break
        found.append(" ".join(words[:count]))
        words = words[count:]
    rest = cut(" ".join(words), room, size)
    return (*found, rest) if rest else tuple(found)


def _most(words: Sequence[str], room: float, size: float) -> int:
    """Return how many of the words go on one line."""
    count = 0
    while count < len(words) and wide(" ".join(words[: count + 1]), size) <= room:
        count += 1
    return count
