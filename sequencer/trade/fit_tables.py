"""The tables of ISO 286-1 for sizes up to 500 mm, in micrometres.

From memory; every tolerance and shaft deviation but r and j is compared in the tests with a
package that carries the tables, and j, r and the holes were compared once with a second package
from 3 to 400 mm. Sizes belong to the band that they end: over a, up to and including b.
"""

from __future__ import annotations

# Where each band of nominal size ends, in mm.
BANDS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)

# Standard tolerance by grade, one value for each band.
TOLERANCES: dict[int, tuple[int, ...]] = {
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20),
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
}

# The distance of the upper limit of a shaft below the nominal size (c to h), for each band.
BELOW: dict[str, tuple[int, ...]] = {
    "d": (20, 30, 40, 50, 65, 80, 100, 120, 145, 170, 190, 210, 230),
    "e": (14, 20, 25, 32, 40, 50, 60, 72, 85, 100, 110, 125, 135),
    "f": (6, 10, 13, 16, 20, 25, 30, 36, 43, 50, 56, 62, 68),
    "g": (2, 4, 5, 6, 7, 9, 10, 12, 14, 15, 17, 18, 20),
    "h": (0,) * len(BANDS),
}

# The distance of the lower limit of a shaft above the nominal size, for each band. The k is for
# grades 4 to 7.
ABOVE: dict[str, tuple[int, ...]] = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}

# The same for letters that divide the bands further: where each finer band ends, and the value.
FINE_BANDS = (
    *(3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315),
    *(355, 400, 450, 500),
)
FINE_BELOW: dict[str, tuple[int, ...]] = {
    "c": (
        *(60, 70, 80, 95, 95, 110, 110, 120, 130, 140, 150, 170, 180, 200, 210, 230, 240, 260, 280),
        *(300, 330, 360, 400, 440, 480),
    ),
}
FINE_ABOVE: dict[str, tuple[int, ...]] = {
    "r": (
        *(10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98),
        *(108, 114, 126, 132),
    ),
    "s": (
        *(14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158),
        *(170, 190, 208, 232, 252),
    ),
    "u": (
        *(18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315),
        *(350, 390, 435, 490, 540),
    ),
}

# The shaft j: how far its lower limit lies below the nominal size, by grade.
J_SHAFT: dict[int, tuple[int, ...]] = {
    5: (2, 2, 2, 3, 4, 5, 7, 9, 11, 13, 16, 18, 20),
    6: (2, 2, 2, 3, 4, 5, 7, 9, 11, 13, 16, 18, 20),
    7: (4, 4, 5, 6, 8, 10, 12, 15, 18, 21, 26, 28, 32),
}
# The hole J: how far its upper limit lies above the nominal size, by grade.
J_HOLE: dict[int, tuple[int, ...]] = {
    6: (2, 5, 5, 6, 8, 10, 13, 16, 18, 22, 25, 29, 33),
    7: (4, 6, 8, 10, 12, 14, 18, 22, 26, 30, 36, 39, 43),
    8: (6, 10, 12, 15, 20, 24, 28, 34, 41, 47, 55, 60, 66),
}
