"""Which spanner fits: widths across flats by thread and standard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from sequencer.trade.threads import Thread

# Widths across flats in mm of hexagon bolts and nuts to ISO 4014, 4017 and 4032, as carried by a
# package of fastener sizes.
_ISO_MM: dict[float, float] = {
    3: 5.5, 3.5: 6, 4: 7, 5: 8, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24, 18: 27, 20: 30,
    22: 34, 24: 36, 27: 41, 30: 46, 33: 50, 36: 55,
}  # fmt: skip
# DIN 931 is the same but for these, as carried by the same package.
_DIN_OTHER_MM: dict[float, float] = {10: 17, 12: 19, 14: 22, 22: 32}

# Widths across flats of inch hexagon bolts, in inches: ASME B18.2.1, from memory.
_INCH = {
    "1/4": "7/16", "5/16": "1/2", "3/8": "9/16", "7/16": "5/8", "1/2": "3/4", "9/16": "13/16",
    "5/8": "15/16", "3/4": "1-1/8", "7/8": "1-5/16", "1": "1-1/2",
}  # fmt: skip

_STANDARDS_MM = {"ISO 4014": _ISO_MM, "DIN 931": {**_ISO_MM, **_DIN_OTHER_MM}}


def across_flats(thread: Thread, standard: str) -> str | Unknown:
    """Return the width across flats with its unit, such as ``16 mm`` or ``9/16 in``.

    Parameters
    ----------
    thread : Thread
        The thread of the bolt or nut.
    standard : str
        ``ISO 4014``, ``DIN 931`` or ``ASME B18.2.1``; M10, M12, M14 and M22 differ between the
        first two, so the standard must be said.
    """
    if standard == "ASME B18.2.1":
        inches = None if thread.metric else _INCH.get(thread.short.rpartition("-")[0])
        size = None if inches is None else f"{inches} in"
    else:
        widths = _STANDARDS_MM.get(standard, {}) if thread.metric else {}
        width = widths.get(thread.diameter_mm)
        size = None if width is None else f"{width:g} mm"
    return size or Unknown(f"no width across flats is known here for {thread.short} by {standard}")
