"""The revised lifting equation against NIOSH Publication 94-110's tables and examples."""

from __future__ import annotations

from typing import cast

import pytest

from sequencer.trade.lifting import (
    Coupling,
    Duration,
    Lift,
    System,
    averaged_frequency,
    frequency_multiplier,
    multipliers,
    recommended_limit,
)
from tests.outside.tables import Row, each_row


def _lift(row: Row) -> Lift:
    return Lift(
        system=cast("System", row["system"]),
        reach=float(row["reach"]),
        height=float(row["height"]),
        travel=float(row["travel"]),
        twist_deg=float(row["twist_deg"]),
        per_minute=float(row["per_minute"]) if row["per_minute"] != "-" else 0,
        coupling=cast("Coupling", row["coupling"]),
    )


def _reproduces(row: Row) -> bool:
    """One worked problem of a secondary source is cut off, not rounded: 18.4 for 18.5."""
    return row["id"] != "N11"


@each_row("lifting_examples", "id")
def test_limit_from_printed_multipliers_is_the_printed_one(row: Row) -> None:
    limit = recommended_limit(_lift(row), two_decimals=True)
    if _reproduces(row):
        assert limit == pytest.approx(float(row["limit"]), abs=0.05)
    else:
        assert round(limit, 1) == 18.5
    if row["index"]:
        decimals = len(row["index"].partition(".")[2])
        index = float(row["load"]) / round(limit, 1)
        assert index == pytest.approx(float(row["index"]), abs=0.51 / 10**decimals)


@each_row("lifting_examples", "id")
def test_limit_in_full_precision_is_near_the_printed_one(row: Row) -> None:
    assert recommended_limit(_lift(row)) == pytest.approx(float(row["limit"]), rel=0.025)


COLUMNS: list[tuple[str, Duration, bool]] = [
    ("short_low", "short", True),
    ("short_high", "short", False),
    ("moderate_low", "moderate", True),
    ("moderate_high", "moderate", False),
    ("long_low", "long", True),
    ("long_high", "long", False),
]


@each_row("lifting_frequency", "lifts_per_min")
def test_frequency_multiplier_is_the_printed_one(row: Row) -> None:
    rate = row["lifts_per_min"]
    rates = {"<=0.2": (0.0, 0.1, 0.2), ">15": (15.1, 20.0)}.get(rate) or (float(rate),)
    for column, duration, low in COLUMNS:
        for per_minute in rates:
            assert frequency_multiplier(per_minute, duration, low=low) == float(row[column])


def test_frequency_multiplier_is_straight_between_rows() -> None:
    assert frequency_multiplier(2.5, "short", low=True) == pytest.approx((0.91 + 0.88) / 2)


def test_frequency_is_averaged_over_a_quarter_of_an_hour() -> None:
    """P 16: 10 a minute for 8 of 15 minutes is 5.33."""
    assert averaged_frequency(10, 8) == pytest.approx(5.33, abs=0.005)


# The equation's limits, pp 7 to 12 and 18, as quoted in a secondary source.
ZERO = [
    Lift(system="US", reach=25.1),
    Lift(system="metric", reach=63.1),
    Lift(system="US", height=70.1),
    Lift(system="metric", height=175.1),
    Lift(system="US", travel=70.1),
    Lift(system="metric", travel=175.1),
    Lift(twist_deg=135.1),
    Lift(per_minute=15.1),
]


@pytest.mark.parametrize("lift", ZERO)
def test_nothing_may_be_lifted_beyond_the_limits(lift: Lift) -> None:
    assert recommended_limit(lift) == 0


@pytest.mark.parametrize(("system", "constant"), [("metric", 23), ("US", 51)])
def test_load_constant(system: System, constant: float) -> None:
    assert recommended_limit(Lift(system=system)) == constant


# Coupling below and from 75 cm. Table 7, p 18.
@pytest.mark.parametrize(
    ("coupling", "low", "high"), [("good", 1, 1), ("fair", 0.95, 1), ("poor", 0.90, 0.90)]
)
def test_coupling_multiplier(coupling: Coupling, low: float, high: float) -> None:
    assert multipliers(Lift(height=74, coupling=coupling)).coupling == low
    assert multipliers(Lift(height=75, coupling=coupling)).coupling == high
