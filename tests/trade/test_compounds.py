"""Cure times."""

from __future__ import annotations

import pytest

from sequencer.trade.basics import Unknown
from sequencer.trade.compounds import Cure, cure_time

HOUR = 3600.0
TABLE = {10.0: 72 * HOUR, 20.0: 24 * HOUR, 40.0: 4 * HOUR}


@pytest.mark.parametrize(("at_c", "hours"), [(10, 72), (19.9, 72), (20, 24), (39, 24), (40, 4)])
def test_colder_row_holds_between_two(at_c: float, hours: float) -> None:
    cure = cure_time(TABLE, at_c)
    assert isinstance(cure, Cure)
    assert cure.seconds == hours * HOUR


@pytest.mark.parametrize("at_c", [9.9, 40.1, None])
def test_outside_the_table_nobody_knows(at_c: float | None) -> None:
    assert isinstance(cure_time(TABLE, at_c), Unknown)


def test_stated_highest_temperature_allows_more_heat_and_refuses_beyond() -> None:
    cure = cure_time(TABLE, 45, hottest_c=50)
    assert isinstance(cure, Cure)
    assert cure.row_c == 40
    assert cure_time(TABLE, 51, hottest_c=50) == "too hot"


def test_one_figure_holds_at_any_temperature() -> None:
    assert cure_time(24 * HOUR, None) == Cure(24 * HOUR)
    assert cure_time(24 * HOUR, 80, hottest_c=60) == "too hot"


def test_empty_table_is_unknown() -> None:
    assert isinstance(cure_time({}, None), Unknown)
