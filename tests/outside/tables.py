"""Read the published figures beside this file; each row names its source and how it is known."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

Row = dict[str, str]
_FOLDER = Path(__file__).parent / "published"

INCH_MM = 25.4
LBF_N = 4.4482216152605
PSI_MPA = 0.006894757293168361
INCH_POUND_NM = 0.1129848290276167
FOOT_POUND_NM = 1.3558179483314004


def published(name: str) -> list[Row]:
    with (_FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def each_row(name: str, *keys: str) -> pytest.MarkDecorator:
    """Run a test for each row; a row from memory says so in the test's name."""
    rows = published(name)
    ids = [" ".join(row[key] for key in keys) + _memory(row) for row in rows]
    return pytest.mark.parametrize("row", rows, ids=ids)


def _memory(row: Row) -> str:
    return "" if row["known"].startswith("read") else f" ({row['known']})"
