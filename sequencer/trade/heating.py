"""Heating and chilling for an interference fit, within what the part can bear.

Temperatures are absolute, in °C; rises are differences, in kelvin. The two are never mixed: a
rise of 335.8 °F is 186.6 K, not 168.8 °C.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.model.parts import Part

# A rolling bearing is not heated above 120 °C (250 °F) unless its maker says otherwise; 80 to
# 100 °C is usual. As quoted in secondary sources.
BEARING_LIMIT_C = 120.0

# Thermal expansion per kelvin, for a cross-check where the material's own figure is not given.
# Steel 6.2e-6 per °F: the example of MIL-HDBK-60, 6.3.2.
STEEL_PER_K = 6.2e-6 * 1.8

# A room is taken to be at 20 °C, the reference temperature of ISO 1 (from memory).
ROOM_C = 20.0

_FAHRENHEIT = 1.8


def kelvin_rise(fahrenheit_degrees: float) -> float:
    """Return a difference of Fahrenheit degrees in kelvin; no 32 comes into it.

    Examples
    --------
    >>> round(kelvin_rise(335.8), 1)
    186.6
    """
    return fahrenheit_degrees / _FAHRENHEIT


def rise_needed(
    interference_mm: float, slip_mm: float, expansion_per_k: float, diameter_mm: float
) -> float:
    """Return the rise in kelvin that lets the parts slip together.

    ΔT = (interference + slip)/(α·d), as worked in secondary sources; d is the diameter of the
    part that is heated or chilled, lengths in any one unit.

    Raises
    ------
    ZeroDivisionError
        If the expansion or the diameter is nothing.
    """
    return (interference_mm + slip_mm) / (expansion_per_k * diameter_mm)


def growth(expansion_per_k: float, diameter_mm: float, rise_k: float) -> float:
    """Return by how much a diameter grows, α·d·ΔT, in the unit of the diameter."""
    return expansion_per_k * diameter_mm * rise_k


@dataclass(frozen=True, slots=True, kw_only=True)
class ShrinkFit:
    """A bore to be heated on to a shaft; lengths in mm, temperatures in °C, expansion per K.

    `limit_c` is the most the heated part bears (the maker's figure; `BEARING_LIMIT_C` for a
    bearing without one; None if nothing limits it), `chill_c` the least the shaft is chilled to.
    """

    bore_mm: float
    shaft_mm: float
    slip_mm: float
    expansion_per_k: float
    start_c: float = ROOM_C
    limit_c: float | None = None
    chill_c: float | None = None
    shaft_expansion_per_k: float | None = None

    @property
    def interference_mm(self) -> float:
        """Shaft less bore, cold."""
        return self.shaft_mm - self.bore_mm


@dataclass(frozen=True, slots=True)
class HeatPlan:
    """What heating comes to: the rise wanted in K, the temperature in °C, and what can be had.

    `heat_to_c` is held to the limit; `clearance_mm` is what it gives, with the shaft chilled if
    that is allowed; negative means that the parts still jam.
    """

    rise_k: float
    wanted_c: float
    heat_to_c: float
    chill_to_c: float | None
    clearance_hot_mm: float
    clearance_mm: float
    reached: bool

    @property
    def within_limit(self) -> bool:
        """Whether heat alone gives the slip wanted without passing the limit."""
        return self.heat_to_c >= self.wanted_c


def plan_heating(joint: ShrinkFit) -> HeatPlan:
    """Return how far to heat the bore, and whether heat, or heat and chilling, will do.

    Never asks for more than the limit: where heat alone is not enough, chilling is reckoned in
    if a temperature for it is given. A cross-check; the maker's procedure comes first.

    Raises
    ------
    ZeroDivisionError
        If the expansion or the bore is nothing.
    """
    rise = max(
        0.0, rise_needed(joint.interference_mm, joint.slip_mm, joint.expansion_per_k, joint.bore_mm)
    )
    wanted = joint.start_c + rise
    heat_to = wanted if joint.limit_c is None else min(wanted, max(joint.limit_c, joint.start_c))
    hot = growth(joint.expansion_per_k, joint.bore_mm, heat_to - joint.start_c)
    clearance_hot = hot - joint.interference_mm
    chill_to, clearance = None, clearance_hot
    if heat_to < wanted and joint.chill_c is not None:
        chill_to = joint.chill_c
        shaft = joint.shaft_expansion_per_k or joint.expansion_per_k
        clearance += growth(shaft, joint.shaft_mm, joint.start_c - chill_to)
    reached = heat_to >= wanted or clearance >= joint.slip_mm
    return HeatPlan(rise, wanted, heat_to, chill_to, clearance_hot, clearance, reached)


def bolt_heating_temperature(
    stress: float, modulus: float, expansion_per_degree: float, start: float
) -> float:
    """Return the temperature to heat a bolt to for a stress: t = σ/(E·α) + t0.

    MIL-HDBK-60, 6.3.2. Stress and modulus in one unit; expansion and temperatures in one scale.

    Raises
    ------
    ZeroDivisionError
        If the modulus or the expansion is nothing.
    """
    return stress / (modulus * expansion_per_degree) + start


def is_bearing(part: Part) -> bool:
    """Tell whether a part is called a bearing, and not a bearing's cap, seat or housing.

    Examples
    --------
    >>> from sequencer.model.parts import Part
    >>> names = (
    ...     "Ball bearing 6208",
    ...     "Taper bearing, front",
    ...     "Bearing housing",
    ...     "Bearing cap, rear",
    ... )
    >>> [is_bearing(Part(id="p", name=name)) for name in names]
    [True, True, False, False]
    """
    words = re.findall(r"[^\W\d_]+(?![\w])", part.label.partition(",")[0].lower())
    return bool(words) and words[-1] in ("bearing", "bearings")
