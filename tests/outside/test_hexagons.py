"""Widths across flats against the standards' tables."""

from __future__ import annotations

from sequencer.trade.hexagons import across_flats
from sequencer.trade.threads import read_thread
from tests.outside.tables import Row, each_row


@each_row("hexagons", "standard", "thread")
def test_width_across_flats_is_the_published_one(row: Row) -> None:
    width = across_flats(read_thread(row["thread"]), row["standard"])
    assert width == f"{row['across_flats']} {row['unit']}"
