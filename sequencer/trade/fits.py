"""Limits of holes and shafts by ISO 286, and what a fit of the two gives."""

from __future__ import annotations

import bisect
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.basics import TradeError, plain_number
from sequencer.trade.fit_tables import (
    ABOVE,
    BANDS,
    BELOW,
    FINE_ABOVE,
    FINE_BANDS,
    FINE_BELOW,
    J_HOLE,
    J_SHAFT,
    TOLERANCES,
)

if TYPE_CHECKING:
    from sequencer.trade.basics import Number

Kind: TypeAlias = Literal["clearance", "transition", "interference"]

_CLASS = re.compile(r"(?P<letter>[A-Z]{1,2}|[a-z]{1,2})(?P<grade>[0-9]{1,2})")
_FIT = re.compile(r"\s*(?P<hole>[A-Z]{1,2}[0-9]{1,2})\s*[/-]\s*(?P<shaft>[a-z]{1,2}[0-9]{1,2})\s*")
_GRADES = range(5, 12)
_K_GRADES = range(4, 8)
# Grades at which a hole's upper limit is the shaft's lower one mirrored and moved by
# Δ = ITn − IT(n−1); from P on the coarser grades are mirrored without moving.
_KMN_GRADES, _P_UP_GRADES, _P_UP_MOVED = range(6, 9), range(6, 12), range(6, 8)


@dataclass(frozen=True, slots=True)
class Deviations:
    """How far a size may be above the nominal one, in micrometres (negative: below)."""

    lower_um: Fraction
    upper_um: Fraction


@dataclass(frozen=True, slots=True)
class Fit:
    """A hole and a shaft of one nominal size; clearances in micrometres, negative: interference."""

    name: str
    size_mm: Fraction
    hole: Deviations
    shaft: Deviations

    @property
    def least_clearance_um(self) -> Fraction:
        """The clearance of the smallest hole on the largest shaft."""
        return self.hole.lower_um - self.shaft.upper_um

    @property
    def most_clearance_um(self) -> Fraction:
        """The clearance of the largest hole on the smallest shaft."""
        return self.hole.upper_um - self.shaft.lower_um

    @property
    def kind(self) -> Kind:
        """Whether it always has clearance, always interference, or either."""
        if self.least_clearance_um >= 0:
            return "clearance"
        return "interference" if self.most_clearance_um <= 0 else "transition"


def fit(name: str, size_mm: Number) -> Fit:
    """Return the fit such as ``H7/g6`` at a nominal size in mm.

    Raises
    ------
    TradeError
        If it is no fit, or as for `deviations`.

    Examples
    --------
    >>> sliding = fit("H7/g6", 25)
    >>> sliding.kind, int(sliding.least_clearance_um), int(sliding.most_clearance_um)
    ('clearance', 7, 41)
    """
    found = _FIT.fullmatch(name)
    if not found:
        raise TradeError(f"`{name.strip()}` is not a fit", "write hole and shaft, as in `H7/g6`")
    hole, shaft = deviations(found["hole"], size_mm), deviations(found["shaft"], size_mm)
    return Fit(f"{found['hole']}/{found['shaft']}", Fraction(size_mm), hole, shaft)


def deviations(tolerance_class: str, size_mm: Number) -> Deviations:
    """Return the limits of a hole (``H7``) or shaft (``g6``) about a nominal size in mm.

    Shafts c to h, j, js, k to n, p, r, s and u, and the holes of the same letters, grades 5 to
    11, up to 500 mm. A hole C to H mirrors the shaft; K, M, N (grades 6 to 8) and P to U mirror
    it moved by Δ = ITn − IT(n−1) above 3 mm, from P on to grade 7 only. The drawing's own limits
    come first.

    Raises
    ------
    TradeError
        If the class is none of these, or the size is not over 0 up to 500 mm.

    Examples
    --------
    >>> limits = deviations("K7", 25)
    >>> int(limits.upper_um), int(limits.lower_um)
    (6, -15)
    """
    found = _CLASS.fullmatch(tolerance_class.strip())
    if not found or int(found["grade"]) not in _GRADES:
        raise _unknown(tolerance_class)
    if not 0 < size_mm <= BANDS[-1]:
        raise TradeError(
            f"{plain_number(size_mm)} mm is not in the tables", f"use sizes up to {BANDS[-1]} mm"
        )
    letter, grade = found["letter"], int(found["grade"])
    band = bisect.bisect_left(BANDS, size_mm)
    tolerance = TOLERANCES[grade][band]
    if letter.lower() == "js":
        return Deviations(Fraction(-tolerance, 2), Fraction(tolerance, 2))
    if letter.islower():
        return _shaft(letter, grade, size_mm)
    return _hole(letter, grade, size_mm)


def _unknown(tolerance_class: str) -> TradeError:
    return TradeError(
        f"`{tolerance_class.strip()}` is not in the tables of fits",
        "use a hole such as `H7` or a shaft such as `g6`, grades 5 to 11",
    )


def _lookup(
    letter: str,
    size_mm: Number,
    plain: dict[str, tuple[int, ...]],
    fine: dict[str, tuple[int, ...]],
) -> int | None:
    if letter in plain:
        return plain[letter][bisect.bisect_left(BANDS, size_mm)]
    if letter in fine:
        return fine[letter][bisect.bisect_left(FINE_BANDS, size_mm)]
    return None


def _shaft(letter: str, grade: int, size_mm: Number) -> Deviations:
    band = bisect.bisect_left(BANDS, size_mm)
    tolerance = Fraction(TOLERANCES[grade][band])
    below = _lookup(letter, size_mm, BELOW, FINE_BELOW)
    if below is not None:
        return Deviations(-below - tolerance, Fraction(-below))
    if letter == "j" and grade in J_SHAFT:
        lower = Fraction(-J_SHAFT[grade][band])
        return Deviations(lower, lower + tolerance)
    above = _lookup(letter, size_mm, ABOVE, FINE_ABOVE)
    if above is None:
        raise _unknown(f"{letter}{grade}")
    if letter == "k" and grade not in _K_GRADES:
        above = 0
    return Deviations(Fraction(above), above + tolerance)


def _hole(letter: str, grade: int, size_mm: Number) -> Deviations:
    band = bisect.bisect_left(BANDS, size_mm)
    tolerance = Fraction(TOLERANCES[grade][band])
    same = letter.lower()
    above = _lookup(same, size_mm, BELOW, FINE_BELOW)
    if above is not None:
        return Deviations(Fraction(above), above + tolerance)
    if letter == "J" and grade in J_HOLE:
        upper = Fraction(J_HOLE[grade][band])
        return Deviations(upper - tolerance, upper)
    below = _lookup(same, size_mm, ABOVE, FINE_ABOVE)
    to_n = letter in ("K", "M", "N")
    if below is None or grade not in (_KMN_GRADES if to_n else _P_UP_GRADES):
        raise _unknown(f"{letter}{grade}")
    upper = Fraction(-below + (_delta(grade, band) if to_n or grade in _P_UP_MOVED else 0))
    if letter == "M" and grade == _M6[0] and _M6[1] < size_mm <= _M6[2]:
        upper = _M6_UPPER
    return Deviations(upper - tolerance, upper)


def _delta(grade: int, band: int) -> int:
    """Return by how much the hole is moved: ITn − IT(n−1), and nothing up to 3 mm."""
    return TOLERANCES[grade][band] - TOLERANCES[grade - 1][band] if band else 0


# The one exception that ISO 286-1 prints: M6 over 250 up to 315 mm.
_M6, _M6_UPPER = (6, 250, 315), Fraction(-9)
