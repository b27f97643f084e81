"""The length of thread that carries as much as the bolt: FED-STD-H28/2B, appendix B."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.trade.threads import Thread


def equal_strength_engagement(thread: Thread) -> float:
    """Return the engagement in mm at which bolt and threads of equal strength fail together.

    LE = 4·As/(π·d2): FED-STD-H28/2B, table II.B.2, formula 13.
    """
    return 4 * thread.stress_area_mm2 / (math.pi * thread.pitch_diameter_mm)


# R1: shear area of the external thread over that of the internal, (5/8)/(3/4) in the simplified
# form. FED-STD-H28/2B, 90.2 and formulas 8 and 9.
AREA_RATIO = (5 / 8) / (3 / 4)


def strength_ratio(internal_mpa: float, external_mpa: float) -> float:
    """Return R1/R2, by which a weaker tapped material lengthens the engagement.

    R2 is the tensile strength of the internal thread over that of the external. FED-STD-H28/2B,
    formulas 8, 9 and 16. Both strengths in one unit.

    Raises
    ------
    ZeroDivisionError
        If a strength is nothing.
    """
    return AREA_RATIO / (internal_mpa / external_mpa)


def weaker_thread_engagement(thread: Thread, internal_mpa: float, external_mpa: float) -> float:
    """Return the engagement in mm for a tapped material weaker than the bolt, by formula 16.

    Never less than for equal strength.
    """
    return equal_strength_engagement(thread) * max(1.0, strength_ratio(internal_mpa, external_mpa))


@dataclass(frozen=True, slots=True)
class HollowBolt:
    """The sizes that the engagement of a hollow external thread needs, all in one unit of length.

    `area` is the tensile stress area of the solid thread in that unit squared, `bore` the hole
    through it, `minor` the internal thread's minor diameter, `pitch_diameter` the external
    thread's least, `pitch` the pitch.
    """

    area: float
    bore: float
    minor: float
    pitch_diameter: float
    pitch: float


def hollow_engagement(bolt: HollowBolt) -> float:
    """Return the engagement of a hollow bolt, in the unit of its sizes.

    LE = 2·(As − 0.7854·dh²)/(π·n·D1·(1/(2n) + 0.57735·(d2 − D1))): FED-STD-H28/2B, 90.1.
    """
    metal = bolt.area - math.pi / 4 * bolt.bore**2
    tooth = bolt.pitch / 2 + (bolt.pitch_diameter - bolt.minor) / math.sqrt(3)
    return 2 * metal * bolt.pitch / (math.pi * bolt.minor * tooth)
