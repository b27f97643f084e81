"""Which diameters and pitches the thread standards list."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterator

Series: TypeAlias = Literal["metric coarse", "metric fine", "UNC", "UNF", "8-UN", "UNS"]

INCH_MM = Fraction("25.4")


@dataclass(frozen=True, slots=True)
class ThreadRow:
    """One listed thread: diameter and pitch in mm, exactly, and the size as the trade writes it."""

    series: Series
    size: str
    diameter_mm: Fraction
    pitch_mm: Fraction
    threads_per_inch: Fraction | None = None


# Diameter: coarse pitch (or -), then fine pitches, in mm. ISO 261 and ISO 262. M3 to M36 and the
# pitches of the stress-area tables of ISO 898-1 were read; the other rows are from memory.
_METRIC = """
1.6: 0.35 0.2
2: 0.4 0.25
2.5: 0.45 0.35
3: 0.5 0.35
3.5: 0.6 0.35
4: 0.7 0.5
5: 0.8 0.5
6: 1 0.75
7: 1 0.75
8: 1.25 1 0.75
9: 1.25 1 0.75
10: 1.5 1.25 1 0.75
11: 1.5 1 0.75
12: 1.75 1.5 1.25 1
14: 2 1.5 1.25 1
15: - 1.5 1
16: 2 1.5 1
17: - 1.5 1
18: 2.5 2 1.5 1
20: 2.5 2 1.5 1
22: 2.5 2 1.5 1
24: 3 2 1.5 1
25: - 2 1.5 1
26: - 1.5
27: 3 2 1.5 1
28: - 2 1.5 1
30: 3.5 3 2 1.5 1
32: - 2 1.5
33: 3.5 3 2 1.5
35: - 1.5
36: 4 3 2 1.5
38: - 1.5
39: 4 3 2 1.5
40: - 3 2 1.5
42: 4.5 4 3 2 1.5
45: 4.5 4 3 2 1.5
48: 5 4 3 2 1.5
50: - 3 2 1.5
52: 5 4 3 2 1.5
55: - 4 3 2 1.5
56: 5.5 4 3 2 1.5
60: 5.5 4 3 2 1.5
64: 6 4 3 2 1.5
"""

# Size: threads per inch of UNC and of UNF (- where there is none). ASME B1.1. #4 to 1 in were
# read; the other rows are from memory.
_UNIFIED = """
#0: - 80
#1: 64 72
#2: 56 64
#3: 48 56
#4: 40 48
#5: 40 44
#6: 32 40
#8: 32 36
#10: 24 32
#12: 24 28
1/4: 20 28
5/16: 18 24
3/8: 16 24
7/16: 14 20
1/2: 13 20
9/16: 12 18
5/8: 11 18
3/4: 10 16
7/8: 9 14
1: 8 12
1-1/8: 7 12
1-1/4: 7 12
1-3/8: 6 12
1-1/2: 6 12
1-3/4: 5 -
2: 4.5 -
2-1/4: 4.5 -
2-1/2: 4 -
2-3/4: 4 -
3: 4 -
3-1/4: 4 -
3-1/2: 4 -
3-3/4: 4 -
4: 4 -
"""

# The constant-pitch series of 8 threads per inch, over 1 in to 4 in. ASME B1.1, from memory.
_EIGHT_FROM, _EIGHT_TO = 9, 32  # in eighths of an inch
_EIGHT = 8

# A special thread that aircraft torque tables list beside the fine series: FAA AC 43.13-1B,
# table 7-1; limits of size in ASME B1.1.
_SPECIAL = (("1", 14),)

# Numbered sizes: 0.060 in and 0.013 in more for each number. ASME B1.1, from memory (the
# diameters of #2 to #10 are printed in NASA TM-106943).
_NUMBER_ZERO, _NUMBER_STEP = Fraction("0.060"), Fraction("0.013")


def size_in_inches(size: str) -> Fraction:
    """Return the diameter in inches of a size such as `#10`, `3/8`, `1-1/4` or `0.25`."""
    if size.startswith("#"):
        return _NUMBER_ZERO + int(size[1:]) * _NUMBER_STEP
    return sum((Fraction(piece) for piece in size.split("-")), Fraction(0))


def _metric_rows() -> Iterator[ThreadRow]:
    for line in _METRIC.split("\n")[1:-1]:
        size, _, pitches = line.partition(": ")
        coarse, *fine = pitches.split()
        if coarse != "-":
            yield ThreadRow("metric coarse", size, Fraction(size), Fraction(coarse))
        for pitch in fine:
            yield ThreadRow("metric fine", size, Fraction(size), Fraction(pitch))


def _unified(series: Series, size: str, per_inch: Fraction) -> ThreadRow:
    return ThreadRow(
        series, size, size_in_inches(size) * INCH_MM, INCH_MM / per_inch, threads_per_inch=per_inch
    )


def _unified_rows() -> Iterator[ThreadRow]:
    for line in _UNIFIED.split("\n")[1:-1]:
        size, _, both = line.partition(": ")
        coarse, fine = both.split()
        if coarse != "-":
            yield _unified("UNC", size, Fraction(coarse))
        if fine != "-":
            yield _unified("UNF", size, Fraction(fine))
    for eighths in range(_EIGHT_FROM, _EIGHT_TO + 1):
        whole, rest = divmod(Fraction(eighths, _EIGHT), 1)
        size = f"{whole}-{rest}" if rest else str(whole)
        yield _unified("8-UN", size, Fraction(_EIGHT))
    for size, per_inch in _SPECIAL:
        yield _unified("UNS", size, Fraction(per_inch))


METRIC_ROWS: tuple[ThreadRow, ...] = tuple(_metric_rows())
UNIFIED_ROWS: tuple[ThreadRow, ...] = tuple(_unified_rows())
