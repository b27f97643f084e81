"""Published torque tables, as printed: looked up, never interpolated and never derived.

No formula gives them back: the first would need nut factors from 0.12 to 0.24, and the second is
not even in order (3/4 in dry is less at 180 ksi than at 160). A maker's figure comes before both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import Band
from sequencer.trade.threads import read_thread

if TYPE_CHECKING:
    from sequencer.trade.threads import Thread

INCH_POUND_NM = 0.1129848290276167  # exact definition

# FAA AC 43.13-1B, table 7-1, in in·lbf, for oil-free cadmium plated threads: thread, tension nut
# low and high, shear nut low and high, most for a tension nut, most for a shear nut. The shear
# values from 1-14 to 1-1/4-12 are printed as estimates.
_FAA = """
#8-36 12 15 7 9 20 12
#10-32 20 25 12 15 40 25
1/4-28 50 70 30 40 100 60
5/16-24 100 140 60 85 225 140
3/8-24 160 190 95 110 390 240
7/16-20 450 500 270 300 840 500
1/2-20 480 690 290 410 1100 660
9/16-18 800 1000 480 600 1600 960
5/8-18 1100 1300 600 780 2400 1400
3/4-16 2300 2500 1300 1500 5000 3000
7/8-14 2500 3000 1500 1800 7000 4200
1-14 3700 5500 2200 3300 10000 6000
1-1/8-12 5000 7000 3000 4200 15000 9000
1-1/4-12 9000 11000 5400 6600 25000 15000
#8-32 12 15 7 9 20 12
#10-24 20 25 12 15 35 21
1/4-20 40 50 25 30 75 45
5/16-18 80 90 48 55 160 100
3/8-16 160 185 95 100 275 170
7/16-14 235 255 140 155 475 280
1/2-13 400 480 240 290 880 520
9/16-12 500 700 300 420 1100 650
5/8-11 700 900 420 540 1500 900
3/4-10 1150 1600 700 950 2500 1500
7/8-9 2200 3000 1300 1800 4600 2700
"""

# MSFC-STD-486B, appendix A, table I, in in·lbf, +0 % / −15 %: size in inches, then dry/lubricated
# for each of the strengths below.
_MSFC_STRENGTHS = ("SAE 2", "SAE 5", "125 ksi", "SAE 8", "160 ksi", "180 ksi")
_MSFC = """
1/4 55/42 80/72 90/78 102/90 115/99 145/103
5/16 105/78 150/132 155/144 225/198 238/210 320/240
3/8 180/135 265/228 275/240 375/330 405/360 530/396
7/16 275/210 480/360 500/390 610/540 750/576 860/648
1/2 420/315 610/540 690/576 905/790 950/830 1260/940
9/16 620/470 900/790 1000/860 1344/1080 1404/1200 1920/1440
5/8 880/660 1224/1080 1296/1200 1836/1620 2100/1728 2520/1920
3/4 1380/1080 2340/1620 2496/1920 3000/2640 4500/2880 4200/3180
7/8 1860/1440 2820/2760 3840/3060 4800/4200 6300/4500 6720/5040
1 2820/2160 5220/4200 5520/4620 7236/6360 9000/6912 10320/7800
1-1/8 4500/3300 7560/5640 7980/7200 11520/10200 13920/10800 16320/12240
1-1/4 6300/4740 10440/7920 11040/10080 15840/14100 21000/15120 22680/17040
"""
_MSFC_BELOW = 0.15


@dataclass(frozen=True, slots=True)
class NutTorques:
    """One row of FAA AC 43.13-1B, table 7-1, in N·m: recommended bands, and the most allowed."""

    thread: str
    tension_nm: Band
    shear_nm: Band
    most_tension_nm: float
    most_shear_nm: float
    source: str = "FAA AC 43.13-1B, table 7-1"


@dataclass(frozen=True, slots=True)
class BoltTorque:
    """One entry of MSFC-STD-486B, table I, in N·m; the table allows 15 % less and no more."""

    size: str
    strength: str
    dry_nm: Band
    lubricated_nm: Band
    source: str = "MSFC-STD-486B, table I"


def _faa_rows() -> dict[str, NutTorques]:
    rows = {}
    for line in _FAA.split("\n")[1:-1]:
        name, *typed = line.split()
        low, high, shear_low, shear_high, most, most_shear = (
            int(figure) * INCH_POUND_NM for figure in typed
        )
        short = read_thread(name).short
        rows[short] = NutTorques(
            short, Band(low, high), Band(shear_low, shear_high), most, most_shear
        )
    return rows


def _msfc_rows() -> dict[tuple[str, str], BoltTorque]:
    rows = {}
    for line in _MSFC.split("\n")[1:-1]:
        size, *pairs = line.split()
        for strength, pair in zip(_MSFC_STRENGTHS, pairs, strict=True):
            dry, lubricated = (int(figure) * INCH_POUND_NM for figure in pair.split("/"))
            rows[size, strength] = BoltTorque(
                size,
                strength,
                Band(dry * (1 - _MSFC_BELOW), dry),
                Band(lubricated * (1 - _MSFC_BELOW), lubricated),
            )
    return rows


NUT_TORQUES: dict[str, NutTorques] = _faa_rows()
"""FAA AC 43.13-1B, table 7-1, by the short name of the thread."""

BOLT_TORQUES: dict[tuple[str, str], BoltTorque] = _msfc_rows()
"""MSFC-STD-486B, table I, by size and strength."""


def over_published(thread: Thread, torque_nm: float) -> float | None:
    """Return how many times the published most (tension nut) a torque in N·m is.

    FAA AC 43.13-1B, table 7-1; None where the table does not list the thread.

    Examples
    --------
    >>> round(over_published(read_thread("1/4-28"), 600 * INCH_POUND_NM), 3)
    6.0
    """
    row = NUT_TORQUES.get(thread.short)
    return None if row is None else torque_nm / row.most_tension_nm
