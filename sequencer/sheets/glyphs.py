"""Characters of the author's text that the packet's fonts cannot show."""

from __future__ import annotations

import dataclasses
import unicodedata
from typing import TYPE_CHECKING

from sequencer.model.common import Link
from sequencer.model.quantities import Amount
from sequencer.model.steps import Fit
from sequencer.problem import Fact, Problem
from sequencer.sheets.fonts import characters

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Path

_MOST_NAMED = 12
_MOST_PLACES = 20
_NOT_SHOWN = frozenset(("Cc", "Cf", "Zs", "Zl", "Zp", "Cs"))  # controls, joiners, spaces
_IDS = frozenset(("to", "kind", "part"))  # of links: what they name is told where it is declared


def missing_glyphs(text: str) -> dict[str, str]:
    """Return the characters of a text (or of HTML) that the packet's fonts lack, with their names.

    Text is looked at as it is composed for print: a letter and its accent are one character
    where such a one exists.

    Examples
    --------
    >>> missing_glyphs("⌀ 25 ± 0.1 mm, 55 N·m")
    {}
    >>> missing_glyphs("🔧 first")
    {'🔧': 'U+1F527 WRENCH'}
    """
    known = characters()
    return {
        letter: f"U+{ord(letter):04X} {unicodedata.name(letter, 'without a name')}"
        for letter in dict.fromkeys(unicodedata.normalize("NFC", text))
        if ord(letter) not in known and not _is_unseen(letter)
    }


def _is_unseen(letter: str) -> bool:
    is_variant_mark = "\ufe00" <= letter <= "\ufe0f"
    return is_variant_mark or unicodedata.category(letter) in _NOT_SHOWN


def glyph_findings(assembly: Assembly) -> tuple[Problem, ...]:
    """Return the warning `no-glyph` if the model's text has characters that the fonts lack.

    What it finds
    -------------
    Letters and signs that may be printed as empty boxes, each with the places where they stand.

    Why it matters
    --------------
    The fonts that come with the packet are the same everywhere; other characters are printed
    only where the machine that prints has a font for them.
    """
    facts: list[Fact] = []
    lacking: dict[str, str] = {}
    for path, text in _texts(assembly, ()):
        missing = missing_glyphs(text)
        if missing:
            facts.append(Fact(f"{_named(list(missing))} here", path))
            lacking |= missing
    if not facts:
        return ()
    one = len(lacking) == 1
    return (
        Problem(
            "no-glyph",
            "warning",
            f"the packet's fonts lack {_named(list(lacking))}",
            path=facts[0].path,
            facts=tuple(facts[:_MOST_PLACES]),
            why=f"where this machine has no font for {'it' if one else 'them'} either, "
            "an empty box is printed",
            fix=f"use other words for {'it' if one else 'them'}, "
            "or look at the pages before they are used",
        ),
    )


def _named(letters: list[str]) -> str:
    named = ", ".join(f"`{letter}`" for letter in letters[:_MOST_NAMED])
    more = len(letters) - _MOST_NAMED
    return f"{named} and {more} more" if more > 0 else named


def _texts(held: object, path: Path) -> Iterator[tuple[Path, str]]:
    """Yield every text of a model with the path by which the reader knows its place."""
    if isinstance(held, Amount):
        yield path, held.text
    elif isinstance(held, str):
        yield path, held
    elif isinstance(held, tuple):
        for index, item in enumerate(held):
            key = getattr(item, "id", None) or (getattr(item, "name", None) or index)
            yield from _texts(item, (*path, key))
    elif dataclasses.is_dataclass(held):
        for field in dataclasses.fields(held):
            if field.name not in _IDS or not isinstance(held, Link | Fit):
                name = field.name.rstrip("_")
                yield from _texts(getattr(held, field.name), (*path, name))
