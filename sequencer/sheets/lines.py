"""One labelled line of a card, and how reasons follow on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.sheets.job import Said


@dataclass(frozen=True, slots=True)
class Line:
    """One labelled line of a card."""

    label: str
    said: Said


def because(whys: Iterable[str]) -> str:
    """Return reasons as they follow on what they are given for."""
    return "".join(f" – {why}" for why in dict.fromkeys(whys) if why)
