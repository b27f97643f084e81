"""Tightening orders and rounds against the published ones; each row names its source."""

from __future__ import annotations

from fractions import Fraction

from sequencer.trade.passes import LEGACY_ROUNDS, USUAL_SHARES
from sequencer.trade.patterns import Pattern, circle, handbook_circle_of_16
from tests.outside.tables import Row, each_row, published


def _pattern(row: Row) -> Pattern:
    return circle(int(row["bolts"])) if "legacy" in row["pattern"] else handbook_circle_of_16()


@each_row("tightening_patterns", "pattern", "bolts", "form")
def test_published_order_and_labels_come_back(row: Row) -> None:
    sequence = tuple(int(number) for number in row["sequence"].split("-"))
    pattern = _pattern(row)
    if "pairs" in row["pattern"] and row["form"] == "label":
        # The drawing numbers the pairs: both bolts of a pair bear its number.
        sequence_of_pairs = tuple((turn + 1) // 2 for turn in pattern.labels)
        assert sequence_of_pairs == sequence
    else:
        assert (pattern.order if row["form"] == "order" else pattern.labels) == sequence


def test_published_orders_are_named_as_what_they_are() -> None:
    for row in published("tightening_patterns"):
        assert ("PCC-1" in row["pattern"]) == ("PCC-1" in _pattern(row).name)


def test_rounds_of_the_legacy_procedure() -> None:
    """ASME PCC-1, legacy cross pattern, as quoted in a secondary source."""
    shares = [(round_.least, round_.most, round_.way) for round_ in LEGACY_ROUNDS]
    full = Fraction(1)
    assert shares == [
        (0, Fraction("0.20"), "by hand"),
        (Fraction("0.20"), Fraction("0.30"), "pattern"),
        (Fraction("0.50"), Fraction("0.70"), "pattern"),
        (full, full, "pattern"),
        (full, full, "round"),
        (full, full, "round"),
    ]


def test_usual_passes_are_thirty_sixty_and_a_hundred() -> None:
    """A trade variant, as quoted in a secondary source: then once round at 100 %."""
    assert [int(share * 100) for share in USUAL_SHARES] == [30, 60, 100]
