"""How friction turns torque into preload: nut factors by surface, as bands, and their scatter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import Band

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount


@dataclass(frozen=True, slots=True)
class NutFactor:
    """The nut factor K of T = K·D·F for one surface: its band, the usual figure, its sources."""

    surface: str
    band: Band
    usual: float
    source: str


_TM = "NASA TM-106943 p 4"
_MIL = "MIL-HDBK-60 table II"
_BOOK = "a textbook table of nut factors"

# Nut factors as printed. NASA TM-106943, p 4: unlubricated about 0.20, lubricated 0.11 to 0.15.
# MIL-HDBK-60, table II and 100.5.2: coefficients of friction ±20 %, here as K of 1/2-13:
# graphite 0.105, molybdenum disulphide 0.152, cadmium 0.163, machine oil 0.198, zinc 0.221. A
# machine-design textbook's table, as quoted in a secondary source: black 0.30, zinc 0.20,
# lubricated 0.18, cadmium 0.16, anti-seize 0.12. Each band below spans the rows that fit the
# surface, so it is wide on purpose; nobody prints a factor for a locking compound, which may lie
# anywhere between lubricated and dry.
_FACTORS = (
    NutFactor("dry", Band(0.16, 0.30), 0.20, f"{_TM}; {_MIL}; {_BOOK}"),
    NutFactor("oiled", Band(0.11, 0.20), 0.15, f"{_TM}; {_MIL}; {_BOOK}"),
    NutFactor("moly", Band(0.11, 0.18), 0.15, f"{_TM}; {_MIL}, ±20 %"),
    NutFactor("anti-seize", Band(0.09, 0.15), 0.12, f"{_TM}; {_MIL}; {_BOOK}"),
    NutFactor(
        "threadlocker",
        Band(0.11, 0.30),
        0.18,
        f"no published factor; between lubricated and dry ({_TM}; {_BOOK})",
    ),
    NutFactor("zinc", Band(0.20, 0.23), 0.20, f"{_MIL}; {_BOOK}"),
    NutFactor("cadmium", Band(0.16, 0.17), 0.16, f"{_MIL}; {_BOOK}"),
    NutFactor("black", Band(0.20, 0.30), 0.30, f"{_TM}; {_BOOK}"),
)
NUT_FACTORS: dict[str, NutFactor] = {factor.surface: factor for factor in _FACTORS}
"""The nut factor of each surface that has a name here."""

_NOT_SAID = NutFactor(
    "not stated", Band(0.09, 0.30), 0.20, f"any surface, from anti-seize to dry ({_MIL}; {_BOOK})"
)

# The coefficient of friction of thread and bearing face, ±20 %, and what the surface is.
# MIL-HDBK-60, table II.
FRICTION: dict[str, float] = {
    "steel, graphite in petrolatum or oil": 0.07,
    "titanium on steel, graphite in petrolatum": 0.08,
    "titanium, molybdenum disulphide grease": 0.10,
    "steel, molybdenum disulphide grease": 0.11,
    "steel, cadmium plated, none added": 0.12,
    "corrosion-resistant steel or nickel alloy, silver plated, none added": 0.14,
    "steel, machine oil": 0.15,
    "steel on bronze, none added": 0.15,
    "steel, zinc plated, none added": 0.17,
}

# Preload scatter by method, as ± parts of one. The documents disagree, so each figure keeps its
# source: NSTS 08307 rev A, 3.4 (bolts to 3/4 in); MIL-HDBK-60, table I; NASA-STD-5020B, table 3
# (joints that are not separation-critical).
SCATTER: dict[str, dict[str, float]] = {
    "by feel": {"MIL-HDBK-60": 0.35},
    "torque, unlubricated": {"NSTS 08307A": 0.35, "MIL-HDBK-60": 0.25, "NASA-STD-5020B": 0.35},
    "torque, cadmium plated": {"NSTS 08307A": 0.30},
    "torque, lubricated": {"NSTS 08307A": 0.25, "NASA-STD-5020B": 0.25},
    "turn of nut": {"MIL-HDBK-60": 0.15, "NASA-STD-5020B": 0.25},
    "preload-indicating washer": {"NSTS 08307A": 0.10, "MIL-HDBK-60": 0.10},
    "hydraulic tensioner": {"NSTS 08307A": 0.15},
    "ultrasonic": {"NSTS 08307A": 0.10},
    "bolt elongation": {"NSTS 08307A": 0.05, "MIL-HDBK-60": 0.05, "NASA-STD-5020B": 0.10},
    "instrumented bolt": {"NSTS 08307A": 0.05, "MIL-HDBK-60": 0.01},
    "yield-point sensing": {"MIL-HDBK-60": 0.08},
}


def nut_factor_for(surface: str, own: Amount | None = None) -> NutFactor:
    """Return the nut factor of a surface, as a band.

    Parameters
    ----------
    surface : str
        ``dry``, ``oiled``, ``moly``, ``anti-seize``, ``threadlocker``, ``zinc``, ``cadmium`` or
        ``black``; anything else, or nothing, gets the band of them all.
    own : Amount, optional
        A compound's own nut factor, without a unit; it wins over the table.

    Examples
    --------
    >>> nut_factor_for("anti-seize").usual, nut_factor_for("").band.high
    (0.12, 0.3)
    """
    if own is not None:
        low, high = own.low, own.high
        usual = float(own.value)
        band = Band(
            float(own.value if low is None else low), float(own.value if high is None else high)
        )
        return NutFactor(surface, band, usual, "stated for the compound")
    return NUT_FACTORS.get(surface.strip().lower(), _NOT_SAID)
