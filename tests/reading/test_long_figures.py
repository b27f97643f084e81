"""Figures with a run of spaces of any length in them are refused in no time worth naming."""

from __future__ import annotations

import pytest

from sequencer.model.quantities import AmountError
from sequencer.reading.figures import read_torque
from sequencer.reading.tabled import read_size

SPACES = " " * 30_000  # a search that tries each of them as a beginning would not come to an end
TOO_LONG = "a figure of over 200 characters"


@pytest.mark.parametrize("end", ["then 90°", ", then 90°", "+ 90°", "x"])
def test_long_torque_is_refused(end: str) -> None:
    with pytest.raises(AmountError, match=TOO_LONG):
        read_torque(f"40 N·m{SPACES}40 N·m{SPACES}{end}")


@pytest.mark.parametrize("end", ["step 0.5 mm", ", by 0.5 mm", "in steps of 0.5 mm", "x"])
def test_long_run_of_sizes_is_refused(end: str) -> None:
    with pytest.raises(AmountError, match=TOO_LONG):
        read_size(f"1 to 2 mm{SPACES}1 mm{SPACES}{end}")
