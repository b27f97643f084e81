"""How far a fastener goes in or sticks out: blind holes, engagement, nuts, what lies behind."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from sequencer.trade.basics import Number

Bottom: TypeAlias = Literal["clear", "near the bottom", "touches", "bottoms out"]


@dataclass(frozen=True, slots=True)
class Stack:
    """A fastener and what it clamps, in mm: length under the head, grip, and washers in all."""

    length_mm: Number
    grip_mm: Number
    washers_mm: Number = 0

    @property
    def past_grip_mm(self) -> Fraction:
        """What is left of the length beyond what is clamped; negative if it does not reach."""
        return Fraction(self.length_mm - self.grip_mm - self.washers_mm)

    def without_washers(self) -> Stack:
        """Return the same joint as it is when the washers are left out."""
        return Stack(self.length_mm, self.grip_mm)


@dataclass(frozen=True, slots=True)
class BlindHole:
    """How a fastener ends in a blind hole: how far it enters, what is engaged, and the end."""

    enters_mm: Fraction
    engaged_mm: Fraction
    room_mm: Fraction
    end: Bottom


def in_blind_hole(stack: Stack, depth_mm: Number, keep_off_mm: Number = 0) -> BlindHole:
    """Return how a fastener ends in a blind hole with full thread to a depth.

    At the bottom the torque is reached with no clamp, so touching is no better than bottoming.

    Parameters
    ----------
    stack : Stack
        The fastener and what it clamps.
    depth_mm : Fraction or int
        Full thread in the hole, in mm.
    keep_off_mm : Fraction or int
        How far the end must stay off the bottom, in mm.

    Examples
    --------
    >>> hole = in_blind_hole(Stack(45, 25, Fraction("2.5")), 15)
    >>> hole.end, float(hole.enters_mm)
    ('bottoms out', 17.5)
    """
    enters = stack.past_grip_mm
    room = Fraction(depth_mm) - enters
    if room < 0:
        end: Bottom = "bottoms out"
    elif room == 0:
        end = "touches"
    else:
        end = "near the bottom" if room < keep_off_mm else "clear"
    return BlindHole(enters, max(Fraction(0), min(enters, Fraction(depth_mm))), room, end)


@dataclass(frozen=True, slots=True)
class EngagementRule:
    """The least engagement as a multiple of the thread's diameter, and where that is from."""

    diameters: Fraction
    source: str


_SECONDARY = "rule of thumb, as quoted in a secondary source"
_PRACTICE = "common practice, no source"

# The least engagement by the material that is tapped. MSFC-STD-486B, 4.3 f, asks one diameter of
# any tapped hole. The maker's figure comes first.
ENGAGEMENT_RULES: dict[str, EngagementRule] = {
    "steel": EngagementRule(Fraction(1), _SECONDARY),
    "iron": EngagementRule(Fraction(3, 2), _SECONDARY),
    "brass": EngagementRule(Fraction(3, 2), _SECONDARY),
    "aluminium": EngagementRule(Fraction(2), _PRACTICE),
}


@dataclass(frozen=True, slots=True)
class Engagement:
    """The engagement there is and the least by a rule, in mm."""

    engaged_mm: Fraction
    least_mm: Fraction
    rule: EngagementRule

    @property
    def short(self) -> bool:
        """Whether too little thread carries."""
        return self.engaged_mm < self.least_mm


def engagement(
    engaged_mm: Number, diameter_mm: Number, into: str, own: EngagementRule | None = None
) -> Engagement | Unknown:
    """Return whether enough thread carries, by a rule for the tapped material.

    Parameters
    ----------
    engaged_mm, diameter_mm : Fraction or int
        Length engaged and thread diameter, in mm.
    into : str
        The tapped material, such as ``steel``, ``iron``, ``brass`` or ``aluminium``.
    own : EngagementRule, optional
        A rule stated for the joint; it wins over the table.
    """
    rule = own or ENGAGEMENT_RULES.get(into.strip().lower())
    if rule is None:
        return Unknown(f"no rule is known here for a thread in `{into}`")
    return Engagement(Fraction(engaged_mm), diameter_mm * rule.diameters, rule)


@dataclass(frozen=True, slots=True)
class StandOut:
    """What shows beyond a nut, against the least by a rule, in mm."""

    shows_mm: Fraction
    least_mm: Fraction
    rule: str

    @property
    def short(self) -> bool:
        """Whether the nut is not fully carried."""
        return self.shows_mm < self.least_mm


# How many pitches show beyond a nut, at the least. MSFC-STD-486B, table XII, and NASA-STD-5020B,
# 4.7.4: two; FAA AC 43.13-1B, 7-37: one. 46 CFR 56.90-5(d) asks only that the thread shows.
STAND_OUT_PITCHES = {"MSFC-STD-486B": 2, "NASA-STD-5020B": 2, "FAA AC 43.13-1B": 1}


def beyond_nut(
    stack: Stack, nut_mm: Number, pitch_mm: Number, rule: str = "FAA AC 43.13-1B"
) -> StandOut:
    """Return what shows of the thread beyond a nut, against the least by a named rule.

    Raises
    ------
    KeyError
        If the rule is not one of `STAND_OUT_PITCHES`.
    """
    least = STAND_OUT_PITCHES[rule] * Fraction(pitch_mm)
    return StandOut(stack.past_grip_mm - nut_mm, least, rule)


def into_space_behind(stack: Stack, free_mm: Number) -> Fraction:
    """Return by how much, in mm, a fastener reaches beyond the free space behind its grip.

    Nothing or less means that what belongs in that space can be fitted; a stud in an open hole
    is judged the same way, with the free space less the margin to be kept.

    Examples
    --------
    >>> into_space_behind(Stack(45, 22), 10), into_space_behind(Stack(30, 22), 10)
    (Fraction(13, 1), Fraction(-2, 1))
    """
    return stack.past_grip_mm - free_mm


# Not more than three washers under a fastener: MSFC-STD-486B, 4.3 g.
MOST_WASHERS = 3
