"""Threads by name: what people write on a drawing, and the sizes it stands for."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from fractions import Fraction

from sequencer.model.quantities import plain_text
from sequencer.trade.basics import TradeError, plain_number
from sequencer.trade.thread_tables import (
    INCH_MM,
    METRIC_ROWS,
    UNIFIED_ROWS,
    Series,
    ThreadRow,
    size_in_inches,
)

# Stress area π/4·(d − c·P)². ISO 898-1 and FED-STD-H28/2B, table II.B.1, formula 1b (ASME B1.1).
_STRESS_METRIC = 0.938194
_STRESS_UNIFIED = 0.9743
# Pitch diameter d2 = d − c·P, the same for both profiles. ISO 724, as quoted in a secondary source.
_PITCH_DIAMETER = 0.649519


@dataclass(frozen=True, slots=True)
class Thread:
    """A listed thread; lengths in mm, areas in mm².

    `name` is the whole name (``1/4-20 UNC LH``), `short` the part that torque tables use
    (``1/4-20``).
    """

    name: str
    short: str
    series: Series
    diameter_mm: float
    pitch_mm: float
    left_hand: bool = False

    @property
    def metric(self) -> bool:
        """Whether it is an ISO metric thread."""
        return self.series in ("metric coarse", "metric fine")

    @property
    def pitch_diameter_mm(self) -> float:
        """The pitch diameter d2 = d − 0.649519·P, in mm (ISO 724; ASME B1.1)."""
        return self.diameter_mm - _PITCH_DIAMETER * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """The tensile stress area in mm².

        Metric π/4·(d − 0.938194·P)² (ISO 898-1), unified π/4·(d − 0.9743·P)² (FED-STD-H28/2B,
        table II.B.1, formula 1b), for metals up to 180 000 psi ultimate strength. Tables in print
        round it to three figures, so they differ by up to 0.4 %.

        Examples
        --------
        >>> round(read_thread("M8").stress_area_mm2, 1)
        36.6
        """
        factor = _STRESS_METRIC if self.metric else _STRESS_UNIFIED
        return math.pi / 4 * (self.diameter_mm - factor * self.pitch_mm) ** 2


_HAND = re.compile(
    r"[\s,-]*(?<![A-Z])(?P<hand>LH|RH|LEFT[ -]?HAND(?:ED)?|RIGHT[ -]?HAND(?:ED)?)\b",
    re.IGNORECASE | re.ASCII,
)
_CLASS = re.compile(
    r"[\s-]+(?:[3-9][A-H]){1,2}(?:/(?:[3-9][A-H]){1,2})?$|[\s-]+[123][AB]$",
    re.IGNORECASE | re.ASCII,
)
_METRIC = re.compile(
    r"M\s?(?P<size>\d{1,3}(?:[.,]\d+)?)(?:\s?[X×*-]\s?(?P<pitch>\d{1,2}(?:[.,]\d+)?))?",
    re.IGNORECASE | re.ASCII,
)
_SERIES = re.compile(
    r"[\s-]*(?P<series>8[\s-]?UN|UNEF|UNR?[CFS]?|N[CF])$", re.IGNORECASE | re.ASCII
)
_UNIFIED = re.compile(
    r"(?:(?:#|NO\.?)\s?(?P<number>\d{1,2})"
    r"|(?P<mixed>\d{1,2}[\s-]\d{1,2}/(?:2|4|8|16)|\d{1,2}/(?:2|4|8|16))"
    r"|(?P<decimal>\d?\.\d{1,4})|(?P<whole>\d{1,2}))\s?(?:\"|''|IN\.?)?"
    r"(?:\s?-\s?(?P<pitch>\d{1,2}(?:\.5|\s1/2)?))?",
    re.IGNORECASE | re.ASCII,
)
_NEAR = 0.6
_SAME_SERIES = {"NC": "UNC", "NF": "UNF", "UNRC": "UNC", "UNRF": "UNF", "UN": "", "UNR": ""}


def read_thread(text: str) -> Thread:
    """Return the thread that a text names.

    Parameters
    ----------
    text : str
        As typed: ``M8``, ``M8×1.25``, ``M8x1 LH``, ``M10-1.5-6g``, ``3/8-16``, ``1/4-20 UNC-2A``,
        ``#10-32``, ``10-32``, ``1 1/8-7``, ``3/8 UNF``. A metric size alone means the coarse
        pitch. A plain whole number is a numbered size or inches, whichever the pitch fits.

    Returns
    -------
    Thread
        With diameter and pitch in mm.

    Raises
    ------
    TradeError
        If the text is no thread, or one that the tables (ISO 261, ASME B1.1) do not list.

    Examples
    --------
    >>> read_thread("10-32").name, read_thread("m8x1 lh").name, read_thread("1-8").name
    ('#10-32 UNF', 'M8×1 LH', '1-8 UNC')
    """
    plain = " ".join(plain_text(text).split())
    if not plain:
        raise TradeError("no thread is given", _nearest(""))
    left = False
    hand = _HAND.search(plain)
    if hand:
        left = hand["hand"].upper().startswith("L")
        plain = (plain[: hand.start()] + plain[hand.end() :]).strip()
    plain = _CLASS.sub("", plain)
    metric = _METRIC.fullmatch(plain)
    if metric:
        return _thread(_metric(metric, text.strip()), left=left)
    series = _SERIES.search(plain)
    unified = _UNIFIED.fullmatch(plain[: series.start()] if series else plain)
    if unified:
        row = _unified(unified, series["series"].upper() if series else "", text.strip())
        return _thread(row, left=left)
    raise TradeError(f"`{text.strip()}` is not a thread known here", _nearest(plain))


def _thread(row: ThreadRow, *, left: bool) -> Thread:
    short = _short(row)
    name = short if row.threads_per_inch is None else f"{short} {row.series.removeprefix('8-')}"
    return Thread(
        name + (" LH" if left else ""),
        short,
        row.series,
        float(row.diameter_mm),
        float(row.pitch_mm),
        left,
    )


def _short(row: ThreadRow) -> str:
    if row.threads_per_inch is None:
        return f"M{row.size}×{plain_number(row.pitch_mm)}"
    return f"{row.size}-{plain_number(row.threads_per_inch)}"


def _metric(found: re.Match[str], typed: str) -> ThreadRow:
    diameter = Fraction(found["size"].replace(",", "."))
    rows = [row for row in METRIC_ROWS if row.diameter_mm == diameter]
    if found["pitch"] is None:
        chosen = [row for row in rows if row.series == "metric coarse"]
    else:
        pitch = Fraction(found["pitch"].replace(",", "."))
        chosen = [row for row in rows if row.pitch_mm == pitch]
    if not chosen:
        raise _unlisted(typed, rows, METRIC_ROWS)
    return chosen[0]


def _unified(found: re.Match[str], series: str, typed: str) -> ThreadRow:
    sizes = _sizes(found)
    rows = [row for row in UNIFIED_ROWS if row.diameter_mm in sizes]
    series = _SAME_SERIES.get(series, series)
    pitch = found["pitch"] or ("8" if series.startswith("8") else "")
    chosen = rows
    if pitch:
        per_inch = sum(map(Fraction, pitch.split()), Fraction(0))
        chosen = [row for row in rows if row.threads_per_inch == per_inch]
    if series and not series.startswith("8"):
        chosen = [row for row in chosen if row.series == series]
    if len(chosen) == 1:
        return chosen[0]
    if chosen and not pitch:
        raise TradeError(f"`{typed}` does not say which pitch", _either(chosen))
    raise _unlisted(typed, rows, UNIFIED_ROWS)


def _sizes(found: re.Match[str]) -> tuple[Fraction, ...]:
    """Return the diameters in mm that the size as typed may stand for."""
    if found["number"]:
        return (size_in_inches(f"#{int(found['number'])}") * INCH_MM,)
    if found["whole"]:
        number = int(found["whole"])
        return (Fraction(number) * INCH_MM, size_in_inches(f"#{number}") * INCH_MM)
    return (size_in_inches((found["mixed"] or found["decimal"]).replace(" ", "-")) * INCH_MM,)


def _unlisted(typed: str, rows: list[ThreadRow], table: tuple[ThreadRow, ...]) -> TradeError:
    where = "ISO 261" if table is METRIC_ROWS else "ASME B1.1"
    what = f"`{typed}` is not in the table of threads ({where})"
    return TradeError(what, _either(rows) if rows else _nearest(typed))


def _either(rows: list[ThreadRow]) -> str:
    names = [f"`{_thread(row, left=False).name}`" for row in rows]
    return f"did you mean {' or '.join(names)}?"


def _nearest(typed: str) -> str:
    names = [_thread(row, left=False).name for row in (*METRIC_ROWS, *UNIFIED_ROWS)]
    spelled = typed.upper().replace("X", "×").replace("*", "×")
    near = difflib.get_close_matches(spelled, names, n=1, cutoff=_NEAR)
    if near and any(letter.isdigit() for letter in typed):
        return f"did you mean `{near[0]}`?"
    return "write it like `M8×1.25`, `3/8-16` or `#10-32`"
