"""What has to be bought: what is needed less what is there, in the packs that it is sold in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.model.parts import Part

# A box of 50, 50 pieces, pack 10. A number with a unit of measure is a length of something, not a
# count, and so is one with a decimal mark.
_OF = re.compile(r"\bof\s+([0-9]+)\b(?![.,][0-9])", re.IGNORECASE)
_COUNT = re.compile(
    r"(?:box|boxes|pack|packet|bag|card|set)?\s*([0-9]+)\s*(?:pcs?\.?|pieces?|off)?", re.IGNORECASE
)
_WORDS = {"each": 1, "single": 1, "singly": 1, "one": 1, "pair": 2, "dozen": 12}


@dataclass(frozen=True, slots=True)
class Purchase:
    """So many of a part that have to be bought: `packs` of `size`, where that is known."""

    lacking: int
    size: int | None = None
    packs: int | None = None

    @property
    def over(self) -> int:
        """How many will be left of the last pack."""
        return (
            0 if self.size is None or self.packs is None else self.size * self.packs - self.lacking
        )


def pack_size(bought_as: str) -> int | None:
    """Return how many come at once, or None where the words do not say so.

    Examples
    --------
    >>> pack_size("box of 50"), pack_size("10 pcs"), pack_size("pair"), pack_size("2 m of hose")
    (50, 10, 2, None)
    """
    text = " ".join(bought_as.split())
    found = _OF.search(text) or _COUNT.fullmatch(text)
    size = int(found.group(1)) if found else _WORDS.get(text.lower().removeprefix("a "))
    return size or None


def purchase(part: Part, needed: int) -> Purchase | None:
    """Return what has to be bought so that there are as many as needed; None if nothing.

    What the model says nothing of as being `on_hand` is not there.
    """
    lacking = needed - (part.on_hand or 0)
    if lacking <= 0:
        return None
    size = pack_size(part.bought_as) if part.bought_as else None
    return Purchase(lacking, size, -(-lacking // size) if size else None)


def is_spoiled_by_removal(part: Part) -> bool:
    """Tell whether a part is a new one each time it goes in."""
    return part.once or part.renew == "always"
