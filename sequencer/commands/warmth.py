"""Temperatures and expansion as calculators read and say them."""

from __future__ import annotations

import re

_PER = re.compile(r"^(?P<figure>.+?)\s*(?:per|/)\s*(?P<unit>°?\s?[CFK])$", re.IGNORECASE)


def expansion_per_k(text: str) -> float:
    """Return a coefficient of expansion per kelvin, typed per kelvin, per °C or per °F.

    Raises
    ------
    AmountError
        If it is not a number above nothing.
    """
    from sequencer.commands.bench import above_nothing
    from sequencer.trade.heating import kelvin_rise

    found = _PER.match(text.strip())
    figure = found["figure"] if found else text
    value = float(above_nothing(figure, "number", limits=False).value)
    return value / kelvin_rise(1) if found and found["unit"].upper().endswith("F") else value


def in_both_scales(celsius: float) -> str:
    """Return a temperature to the nearest degree, in °C and °F."""
    fahrenheit = celsius * 1.8 + 32
    return f"{celsius:.0f} °C ({fahrenheit:.0f} °F)".replace("-", "−")
