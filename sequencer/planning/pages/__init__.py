"""What each finding about order or options means: one page a code, for `sequencer explain`."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.planning.pages.deadlocks import DEADLOCKS
from sequencer.planning.pages.options import OPTIONS
from sequencer.planning.pages.page import Page
from sequencer.planning.pages.parts import PARTS
from sequencer.planning.pages.turns import TURNS

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["PAGES", "Page"]

PAGES: Mapping[str, Page] = MappingProxyType(
    {page.code: page for page in (*DEADLOCKS, *TURNS, *PARTS, *OPTIONS)}
)
"""Every page by its code: no order at all, then one order at fault, then parts, then options."""
