"""Spanner sizes that nobody knows."""

from __future__ import annotations

import pytest

from sequencer.trade.basics import Unknown
from sequencer.trade.hexagons import across_flats
from sequencer.trade.threads import read_thread


@pytest.mark.parametrize(
    ("thread", "standard"),
    [("M9", "ISO 4014"), ("M10", "ASME B18.2.1"), ("3/8-16", "ISO 4014"), ("M10", "by eye")],
)
def test_width_that_is_in_no_table_is_unknown(thread: str, standard: str) -> None:
    assert isinstance(across_flats(read_thread(thread), standard), Unknown)
