"""Torque and preload, both ways: T = K·D·F, and the friction formulas behind the nut factor."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sequencer.trade.basics import Band

if TYPE_CHECKING:
    from sequencer.trade.nut_factors import NutFactor
    from sequencer.trade.strengths import Strength
    from sequencer.trade.threads import Thread

_MM = 1000.0

# Preload wanted in a joint that is taken apart again, as a part of the proof load: 75 %, a
# machine-design textbook as quoted in a secondary source; MIL-HDBK-60, 5.2, has 75 to 90 % of
# yield or proof.
USUAL_SHARE = 0.75


def torque_from_preload(preload_n: float, nut_factor: float, diameter_mm: float) -> float:
    """Return the torque T = K·D·F in N·m for a preload in N.

    NASA-STD-5020B, equation 24; NSTS 08307 rev A, 3.3. A cross-check: the maker's figure first.

    Examples
    --------
    >>> round(torque_from_preload(34_226, 0.20, 12), 1)
    82.1
    """
    return nut_factor * diameter_mm / _MM * preload_n


def preload_from_torque(torque_nm: float, nut_factor: float, diameter_mm: float) -> float:
    """Return the preload F = T/(K·D) in N for a torque in N·m.

    NASA-STD-5020B, equation 24; NSTS 08307 rev A, 3.3.

    Raises
    ------
    ZeroDivisionError
        If the nut factor or the diameter is nothing.
    """
    return torque_nm * _MM / (nut_factor * diameter_mm)


def nut_factor_from_test(torque_nm: float, preload_n: float, diameter_mm: float) -> float:
    """Return the nut factor K = T/(F·D) that a torque and a measured preload show.

    NASA-STD-5020B, equation 24, solved for K.

    Raises
    ------
    ZeroDivisionError
        If the preload or the diameter is nothing.
    """
    return torque_nm * _MM / (preload_n * diameter_mm)


def preload_band(torque_nm: Band, factor: NutFactor, thread: Thread) -> Band:
    """Return what preload in N a torque in N·m may leave, between the ends of the nut factor.

    The band is the honest answer: K is uncertain, and so is a hand on a wrench. It stands for the
    published scatter of a torque wrench (±25 to ±35 %) as well, which is not added once more.
    """
    return Band(
        preload_from_torque(torque_nm.low, factor.band.high, thread.diameter_mm),
        preload_from_torque(torque_nm.high, factor.band.low, thread.diameter_mm),
    )


def proof_load(thread: Thread, strength: Strength) -> float:
    """Return the proof load in N: proof stress (or yield without one) times the stress area."""
    return strength.limit_mpa * thread.stress_area_mm2


def torque_band(
    thread: Thread, strength: Strength, factor: NutFactor, share: float = USUAL_SHARE
) -> Band:
    """Return the torque in N·m that gives a share of the proof load, between the ends of K.

    A cross-check, never a specification: the maker's figure comes first.
    """
    wanted = share * proof_load(thread, strength)
    return Band(
        torque_from_preload(wanted, factor.band.low, thread.diameter_mm),
        torque_from_preload(wanted, factor.band.high, thread.diameter_mm),
    )


def usual_torque(
    thread: Thread, strength: Strength, factor: NutFactor, share: float = USUAL_SHARE
) -> float:
    """Return the torque in N·m that gives a share of the proof load at the usual nut factor."""
    wanted = share * proof_load(thread, strength)
    return torque_from_preload(wanted, factor.usual, thread.diameter_mm)


def with_scatter(nominal_n: float, scatter: float, relaxation: float = 0.0) -> Band:
    """Return the preload in N with its scatter: high (1 + Γ)·F, low (1 − Γ)·F/(1 + relaxation).

    NASA-STD-5020B, equations 25 and 26a, for the scatter; NASA TM-106943, tables I and II, for
    5 % relaxation taken as a division (0.75/1.05, which its text rounds to 0.714).

    Parameters
    ----------
    nominal_n : float
        The nominal preload in N.
    scatter, relaxation : float
        Parts of one, such as 0.25 and 0.05.
    """
    return Band((1 - scatter) * nominal_n / (1 + relaxation), (1 + scatter) * nominal_n)


def least_preload_of_several(nominal_n: float, scatter: float, bolts: int) -> float:
    """Return the least mean preload in N of several bolts: (1 − Γ/√n)·F.

    NASA-STD-5020B, equations 5 and 26b, for joints that are not separation-critical.

    Raises
    ------
    ValueError
        If there is no bolt.
    """
    if bolts < 1:
        raise ValueError("a joint has at least one bolt")
    return (1 - scatter / math.sqrt(bolts)) * nominal_n


def nut_factor_from_friction(thread: Thread, friction: float) -> float:
    """Return K = 0.159·lead/d + 1.156·µ for one coefficient of friction throughout.

    MIL-HDBK-60, 100.5.2, divided by the diameter; the lead of a single-start thread is its pitch.
    """
    return 0.159 * thread.pitch_mm / thread.diameter_mm + 1.156 * friction


def friction_torque(
    preload_n: float, thread: Thread, thread_friction: float, face_friction: float
) -> float:
    """Return the torque in N·m: T = F·(0.159·lead + d·(0.531·µ1 + 0.625·µ2)).

    MIL-HDBK-60, 100.5.1: µ1 in the thread, µ2 under the face that turns.
    """
    arm_mm = 0.159 * thread.pitch_mm + thread.diameter_mm * (
        0.531 * thread_friction + 0.625 * face_friction
    )
    return preload_n * arm_mm / _MM


# Minor diameter at the root, d3 = d − c·P: ISO 898-1 and ISO 724, as quoted in secondary sources.
_ROOT = 1.226869


def torque_at_yield_share(
    thread: Thread,
    yield_mpa: float,
    friction: float,
    face_mm: tuple[float, float],
    share: float = 0.9,
) -> float:
    """Return the torque in N·m that uses a share of the yield, tension and torsion together.

    MA = FM·(0.16·P + 0.58·d2·µ + DK/2·µ) with FM = share·Rp·A0/√(1 + 3·(1.5·d2/d0·(P/(π·d2) +
    1.155·µ))²), d0 = (d2 + d3)/2 and A0 its area: the elastic form of VDI 2230, from memory; it
    gives back a published table stated as VDI 2230 (2003) within 2 %.

    Parameters
    ----------
    thread : Thread
        A metric thread.
    yield_mpa, friction : float
        0.2 % yield in MPa, and one coefficient of friction for thread and face.
    face_mm : tuple of float
        Outer diameter of the bearing face and diameter of the hole under it, in mm.
    share : float
        How much of the yield is used, as a part of one.
    """
    pitch, pitch_diameter = thread.pitch_mm, thread.pitch_diameter_mm
    stress_diameter = (pitch_diameter + thread.diameter_mm - _ROOT * pitch) / 2
    slope = pitch / (math.pi * pitch_diameter) + 1.155 * friction
    torsion = 3 * (1.5 * pitch_diameter / stress_diameter * slope) ** 2
    area = math.pi / 4 * stress_diameter**2
    preload = share * yield_mpa * area / math.sqrt(1 + torsion)
    arm_mm = 0.16 * pitch + 0.58 * pitch_diameter * friction + sum(face_mm) / 4 * friction
    return preload * arm_mm / _MM
