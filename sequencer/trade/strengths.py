"""Strength of the male thread by grade: proof, yield and tensile stress, with their size breaks."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown, in_unit

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount
    from sequencer.trade.threads import Thread

_KSI_MPA = 6.894757293168361  # exact definition of the pound-force over the square inch
_INCH_MM = 25.4
_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class Strength:
    """What the fastener's grade promises, as minimums in MPa (N/mm²).

    `proof_mpa` is None where the standard sets no proof load.
    """

    grade: str
    standard: str
    proof_mpa: float | None
    yield_mpa: float
    tensile_mpa: float
    source: str

    @property
    def limit_mpa(self) -> float:
        """What the preload is measured against: the proof stress, or the yield without one."""
        return self.yield_mpa if self.proof_mpa is None else self.proof_mpa

    @property
    def limit_name(self) -> str:
        """The word for `limit_mpa`."""
        return "yield" if self.proof_mpa is None else "proof load"


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of a standard: `over` < d ≤ `to` in mm, stresses in the unit named."""

    grade: str
    standard: str
    over: float
    to: float
    proof: float | None
    yield_: float
    tensile: float
    unit_mpa: float = 1.0
    from_memory: bool = False

    def holds(self, thread: Thread) -> bool:
        """Tell whether the row is for this size; sizes made of inches are compared rounded."""
        over, size, to = (round(mm, _DECIMALS) for mm in (self.over, thread.diameter_mm, self.to))
        return over < size <= to

    def strength(self) -> Strength:
        """Return the row in MPa."""
        factor = self.unit_mpa
        return Strength(
            self.grade,
            self.standard,
            None if self.proof is None else self.proof * factor,
            self.yield_ * factor,
            self.tensile * factor,
            self.standard + (", from memory" if self.from_memory else ""),
        )


# ISO 898-1, table 3: minimum stresses of carbon steel bolts, M1.6 to M39, as quoted in secondary
# sources. The minimum is not the nominal: 5.8 promises 520 and is called 500.
_ISO_898 = "ISO 898-1"
_ISO_898_FROM, _ISO_898_TO, _BREAK_88 = 1.5, 39.0, 16.0
_ISO_898_ROWS = tuple(
    _Row(grade, _ISO_898, over, to, proof, yield_, tensile, from_memory=from_memory)
    for grade, over, to, proof, yield_, tensile, from_memory in (
        ("4.6", _ISO_898_FROM, _ISO_898_TO, 225, 240, 400, False),
        ("4.8", _ISO_898_FROM, _ISO_898_TO, 310, 340, 420, True),
        ("5.6", _ISO_898_FROM, _ISO_898_TO, 280, 300, 500, True),
        ("5.8", _ISO_898_FROM, _ISO_898_TO, 380, 420, 520, False),
        ("6.8", _ISO_898_FROM, _ISO_898_TO, 440, 480, 600, True),
        ("8.8", _ISO_898_FROM, _BREAK_88, 580, 640, 800, False),
        ("8.8", _BREAK_88, _ISO_898_TO, 600, 660, 830, False),
        ("9.8", _ISO_898_FROM, _BREAK_88, 650, 720, 900, True),
        ("10.9", _ISO_898_FROM, _ISO_898_TO, 830, 940, 1040, False),
        ("12.9", _ISO_898_FROM, _ISO_898_TO, 970, 1100, 1220, False),
    )
)

# ISO 3506-1: stress at 0.2 % strain stands for proof. Classes 70 and 80 hold to M20 in the older
# edition. As quoted in secondary sources; A4-50, A4-70 and A2-80 have the classes' own values,
# from memory.
_ISO_3506 = "ISO 3506-1"
_ISO_3506_ROWS = tuple(
    _Row(grade, _ISO_3506, _ISO_898_FROM, to, proof, proof, tensile, from_memory=from_memory)
    for grade, to, proof, tensile, from_memory in (
        ("A2-50", 39, 210, 500, False),
        ("A4-50", 39, 210, 500, True),
        ("A2-70", 20, 450, 700, False),
        ("A4-70", 20, 450, 700, True),
        ("A2-80", 20, 600, 800, True),
        ("A4-80", 20, 600, 800, False),
    )
)

# SAE J429, table 1: inch sizes from 1/4 in; sizes in inches, stresses in ksi. As quoted in
# secondary sources.
_SAE = "SAE J429"
_SAE_ROWS = tuple(
    _Row(grade, _SAE, over * _INCH_MM, to * _INCH_MM, proof, yield_, tensile, _KSI_MPA)
    for grade, over, to, proof, yield_, tensile in (
        ("2", 0.249, 0.75, 55, 57, 74),
        ("2", 0.75, 1.5, 33, 36, 60),
        ("5", 0.249, 1.0, 85, 92, 120),
        ("5", 1.0, 1.5, 74, 81, 105),
        ("8", 0.249, 1.5, 120, 130, 150),
    )
)

# ASTM A193: no proof load; sizes in inches, stresses in ksi, as quoted in a secondary source. The
# metric edition (A193M, in MPa) is from memory.
_A193, _A193M = "ASTM A193", "ASTM A193M"
_A193_ROWS = tuple(
    _Row("B7", _A193, over * _INCH_MM, to * _INCH_MM, None, yield_, tensile, _KSI_MPA)
    for over, to, yield_, tensile in (
        (0.249, 2.5, 105, 125),
        (2.5, 4.0, 95, 115),
        (4.0, 7.0, 75, 100),
    )
)
_A193M_ROWS = (_Row("B7", _A193M, _ISO_898_FROM, 64, None, 720, 860, from_memory=True),)

_ROWS = (*_ISO_898_ROWS, *_ISO_3506_ROWS, *_SAE_ROWS, *_A193_ROWS, *_A193M_ROWS)
_INCH_ONLY = {_SAE, _A193}
_METRIC_ONLY = {_A193M}

_WORDS = re.compile(
    r"\b(?:PROPERTY|CLASS|GRADE|GR|ISO|898-1|3506-1|SAE|J429|ASTM|A193M?)(?=[\W\d]|$)\.?"
)


def strength_of(grade: str, thread: Thread) -> Strength | Unknown:
    """Return the strength that a grade promises in a thread of this size.

    Parameters
    ----------
    grade : str
        As marked on the head or typed: ``8.8``, ``class 10.9``, ``A2-70``, ``SAE 5``,
        ``grade 8``, ``A193 B7``. Property classes and stainless grades hold for metric and inch
        threads alike, by diameter; SAE grades for inch threads only.
    thread : Thread
        The thread; grades change with its diameter.

    Returns
    -------
    Strength or Unknown
        In MPa; or the words that say why the cross-check is off.

    Examples
    --------
    >>> from sequencer.trade.threads import read_thread
    >>> strength_of("8.8", read_thread("M16")).limit_mpa
    580.0
    >>> strength_of("8.8", read_thread("M18")).limit_mpa
    600.0
    """
    if not grade.strip():
        return Unknown("no grade is given, so the torque is not checked against the bolt")
    named = " ".join(_WORDS.sub(" ", grade.upper().replace(",", ".")).split()).strip(" -")
    rows = [row for row in _ROWS if row.grade == named and _fits(row, thread)]
    for row in rows:
        if row.holds(thread):
            return row.strength()
    if rows:
        standard = rows[0].standard
        words = f"{standard} gives grade {named} no strength at {thread.short}"
    else:
        words = f"grade `{grade.strip()}` is not one known here for {thread.short}"
    return Unknown(f"{words}, so the torque is not checked against the bolt")


def strongest_in(thread: Thread) -> Strength | None:
    """Return the strongest grade that the tables have for a thread; None if they have none."""
    rows = (row.strength() for row in _ROWS if _fits(row, thread) and row.holds(thread))
    return max(rows, key=lambda strength: strength.limit_mpa, default=None)


def _fits(row: _Row, thread: Thread) -> bool:
    if thread.metric:
        return row.standard not in _INCH_ONLY
    return row.standard not in _METRIC_ONLY


def own_strength(proof: Amount, source: str = "") -> Strength:
    """Return a strength stated in the model itself, such as ``grade: {proof: 970 MPa}``.

    Only the proof stress is known; it stands for yield and tensile stress as well, which is on
    the safe side.

    Raises
    ------
    ValueError
        If the amount is not a pressure.
    """
    mpa = float(in_unit(proof, "MPa"))
    return Strength(
        f"proof {proof.text.strip()}", "own figure", mpa, mpa, mpa, source or "no source given"
    )


def nominal_tensile_mpa(grade: str) -> float:
    """Return the nominal tensile stress in MPa that an ISO 898-1 class is named after.

    The first number times 100; the least that the class promises may be more.

    Raises
    ------
    ValueError
        If the grade is not an ISO 898-1 class.
    """
    if grade not in {row.grade for row in _ISO_898_ROWS}:
        raise ValueError(f"{grade!r} is not a class of {_ISO_898}")
    return float(grade.partition(".")[0]) * 100
