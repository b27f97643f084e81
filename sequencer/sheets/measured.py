"""How wide a text is in the packet's fonts, so that it can be made to fit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.sheets.fonts import advances

if TYPE_CHECKING:
    from collections.abc import Sequence

_WEIGHTS = {"regular": 400, "semibold": 600, "black": 900}
_UNKNOWN = 1.0  # em; what the packet's fonts lack comes from others, mostly as wide as high
_ROOM = 1.02  # kerning and hinting, rather too much than too little


def width_of(text: str, face: str = "regular") -> float:
    """Return how wide a text is, in the size of its letters (em).

    Examples
    --------
    >>> width_of("ii") < width_of("ww") < 2
    True
    """
    known = advances(_WEIGHTS[face])
    return _ROOM * sum(known.get(ord(letter), _UNKNOWN) for letter in text)


def in_lines(text: str, width: float) -> tuple[str, ...]:
    """Return a text broken between words into lines of at most `width` em.

    A word that is too wide by itself is broken where it has to be.
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(f"{lines[-1]} {word}") <= width:
            lines[-1] += f" {word}"
        else:
            lines += _pieces(word, width)
    return tuple(lines)


def cut(text: str, width: float, face: str = "regular") -> str:
    """Return a text on one line, cut with … where it is wider than `width` em.

    Examples
    --------
    >>> cut("Cap screw", 20), cut("Cap screw", 3)
    ('Cap screw', 'Cap…')
    """
    line = " ".join(text.split())
    if width_of(line, face) <= width:
        return line
    while line and width_of(f"{line}…", face) > width:
        line = line[:-1]
    return f"{line.rstrip(' ,;:·')}…"


def in_so_many(lines: Sequence[str], most: int, width: float) -> list[str]:
    """Return at most `most` lines; where there were more, the last one ends in …."""
    if len(lines) <= most:
        return list(lines)
    # Of the next lines the first word, or both pieces of one that was broken, did not fit behind
    # the last line kept: all together they are cut.
    return [*lines[: most - 1], cut(" ".join(lines[most - 1 : most + 2]), width)]


def _pieces(word: str, width: float) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and width_of(pieces[-1] + letter) > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
