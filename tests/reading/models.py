"""Short ways to read models in tests."""

from __future__ import annotations

from textwrap import dedent
from typing import TYPE_CHECKING

from sequencer.model.quantities import Amount, read_amount
from sequencer.model.units import UNITS
from sequencer.reading import read_text

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly


def model(text: str) -> Assembly:
    """Read a model that has nothing wrong with it."""
    reading = read_text(dedent(text), "model.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly


def amount(text: str, *quantities: str) -> Amount:
    return read_amount(text, quantities or tuple(UNITS))
