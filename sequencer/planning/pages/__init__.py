"""What each finding means: one page a code, as `sequencer explain` prints it."""

from __future__ import annotations

from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.planning.pages.compounds import COMPOUNDS
from sequencer.planning.pages.deadlocks import DEADLOCKS
from sequencer.planning.pages.gauges import GAUGES
from sequencer.planning.pages.kit import KIT
from sequencer.planning.pages.lengths import LENGTHS
from sequencer.planning.pages.measuring import MEASURING
from sequencer.planning.pages.mends import MENDS
from sequencer.planning.pages.options import OPTIONS
from sequencer.planning.pages.page import Page
from sequencer.planning.pages.parts import PARTS
from sequencer.planning.pages.printing import PRINTING
from sequencer.planning.pages.tightening import TIGHTENING
from sequencer.planning.pages.torques import TORQUES
from sequencer.planning.pages.turns import TURNS

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["PAGES", "Page"]

PAGES: Mapping[str, Page] = MappingProxyType(
    {
        page.code: page
        for page in (
            *(*DEADLOCKS, *TURNS, *PARTS, *MENDS),
            *KIT,
            *OPTIONS,
            *COMPOUNDS,
            *(*TORQUES, *TIGHTENING, *LENGTHS),
            *(*GAUGES, *MEASURING),
            *PRINTING,
        )
    }
)
"""Every page by its code: order first, then parts, options, compounds, figures, pictures."""
