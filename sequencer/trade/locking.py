"""Self-locking nuts and their drag, and castle nuts that must line up with their hole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.basics import Band
from sequencer.trade.torque_tables import INCH_POUND_NM

if TYPE_CHECKING:
    from sequencer.trade.threads import Thread

Counted: TypeAlias = Literal["added", "included"]

# MSFC-STD-486B, table XI, in in·lbf: size, most locking torque on UNC and UNF alike, least
# breakaway torque on UNC and on UNF (- where none is printed).
_DRAG = """
#2 2.5 - -
#4 5 - -
#6 10 1.0 1.0
#8 15 1.5 1.5
#10 18 2.0 2.0
1/4 30 4.5 3.5
5/16 60 7.5 6.5
3/8 80 12.0 9.5
7/16 100 16.5 14.0
1/2 150 24.0 18.0
9/16 200 30.0 24.0
5/8 300 40.0 32.0
3/4 400 60.0 50.0
7/8 600 82.0 70.0
1 800 110.0 90.0
"""
# The pitches that the table's first column prints beside the sizes above: UNC, then UNF.
_PITCHES = {
    "#2": ("56",), "#4": ("40",), "#6": ("32",), "#8": ("32",), "#10": ("24", "32"),
    "1/4": ("20", "28"), "5/16": ("18", "24"), "3/8": ("16", "24"), "7/16": ("14", "20"),
    "1/2": ("13", "20"), "9/16": ("12", "18"), "5/8": ("11", "18"), "3/4": ("10", "16"),
    "7/8": ("9", "14"), "1": ("8", "12"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Drag:
    """What the locking element of a nut may take, in N·m: most going on, least coming off."""

    most_nm: float
    least_breakaway_nm: float | None
    source: str = "MSFC-STD-486B, table XI"


def _drags() -> dict[str, Drag]:
    table = {}
    for line in _DRAG.split("\n")[1:-1]:
        size, most, *leasts = line.split()
        for pitch, least in zip(_PITCHES[size], leasts, strict=False):
            breakaway = None if least == "-" else float(least) * INCH_POUND_NM
            table[f"{size}-{pitch}"] = Drag(float(most) * INCH_POUND_NM, breakaway)
    return table


DRAGS: dict[str, Drag] = _drags()
"""MSFC-STD-486B, table XI, by the short name of the thread."""


def drag_of(thread: Thread) -> Drag | None:
    """Return what the drag of a self-locking nut may be on a thread; None if not in the table."""
    return DRAGS.get(thread.short)


def band_to_reach(torque: Band, drag: float, counted: Counted) -> Band:
    """Return what the wrench must read at the end, with a drag measured; all in one unit.

    Parameters
    ----------
    torque : Band
        The torque as the maker gives it.
    drag : float
        What the nut takes to run down before it seats, measured on this nut.
    counted : str
        ``added``: the figure is above the drag, which is added to it (FAA AC 43.13-1B, 7-40;
        MSFC-STD-486B, A3.8; MIL-HDBK-60, 110.3). ``included``: the figure is the final reading
        (NASA-STD-5020B, 4.8.3, unless the document says otherwise). The documents differ, so
        there is no default: the model has to say.

    Raises
    ------
    ValueError
        If `counted` is neither, or the drag is negative.
    """
    if counted not in ("added", "included") or drag < 0:
        raise ValueError("say whether the drag is `added` or `included`, and how much it is")
    extra = drag if counted == "added" else 0.0
    return Band(torque.low + extra, torque.high + extra)


def torque_making_preload(reading: Band, running_most: float, breakaway_least: float) -> Band:
    """Return the part of a final reading that makes preload; all in one unit.

    Tmax = Tspec,max − Tbreakaway,min and Tmin = Tspec,min − Trunning,max: NASA-STD-5020B,
    equations 29 and 30, for a figure that includes the drag.
    """
    return Band(reading.low - running_most, reading.high - breakaway_least)


@dataclass(frozen=True, slots=True)
class CastleRule:
    """How far past the specified torque a castle nut may go to line up, as a part of its high."""

    source: str
    over: float


# FAA AC 43.13-1B, 7-40: start at the low limit and do not go past the high one (drag added to
# both). MSFC-STD-486B: the final torque may exceed the specified one by up to 10 %.
CASTLE_RULES: dict[str, CastleRule] = {
    rule.source: rule
    for rule in (CastleRule("FAA AC 43.13-1B", 0.0), CastleRule("MSFC-STD-486B", 0.10))
}


def castle_band(torque: Band, rule: CastleRule, drag: float = 0.0) -> Band:
    """Return where the slot must line up on the wrench, by a named rule; all in one unit.

    The wrench starts at the low end and goes on until the slot lines up; it never goes back.
    """
    return Band(torque.low + drag, torque.high * (1 + rule.over) + drag)


CastleStep: TypeAlias = Literal["tighten on", "fit the pin", "change the washer or the nut"]


def castle_step(band: Band, reading: float, *, lined_up: bool) -> CastleStep:
    """Return what to do with a castle nut at a reading; backing off is never an answer."""
    if reading > band.high or (reading == band.high and not lined_up):
        return "change the washer or the nut"
    if reading < band.low or not lined_up:
        return "tighten on"
    return "fit the pin"
