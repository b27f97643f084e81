"""`sequencer fit`: limits by the tables, heating within what the part bears, what is refused."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sequencer.model.quantities import read_amount
from tests.commands.bench_runs import GOLDEN, check_refused, check_same_fields, run, values

WHOLE = {
    "sliding": ("fit H7/g6 '25 mm'", 0),
    "between": ("fit K7/h6 '30 mm' --limit '180 °C'", 0),
    "drive": ("fit H7/s6 '40 mm'", 0),
    "over-the-limit": ("fit H7/s6 '40 mm' --limit '120 °C'", 1),
    "chilled": ("fit H7/p6 '40 mm' --limit '120 °C' --chill '-80 °C'", 0),
    "inch": ("fit H7/p6 '1.5 in' --slip '0.002 in' --from '70 °F' --limit '500 °F'", 0),
}


@pytest.mark.parametrize("name", WHOLE)
def test_whole_output(name: str, golden: Callable[[Path, str], None]) -> None:
    golden(GOLDEN / f"fit-{name}.expected", run(*WHOLE[name]).stdout)
    check_same_fields(*WHOLE[name])


# Fit, size in mm, least and most clearance in µm: ISO 286-1, from memory.
FITS = [("H7/g6", 25, 7, 41), ("H7/p6", 40, -42, -1), ("H8/f7", 60, 30, 106)]


@pytest.mark.parametrize(("name", "size", "least", "most"), FITS)
def test_clearances_are_those_of_the_tables(name: str, size: int, least: int, most: int) -> None:
    found = values(f"fit {name} '{size} mm'")
    assert (found["least_clearance_um"], found["most_clearance_um"]) == (least, most)


def test_rise_for_a_drive_fit() -> None:
    """H7/s6 at 25 mm, a thousandth to slip, 11.5e-6 per K: a rise of 254 K; computed."""
    found = values("fit H7/s6 '25 mm' --expansion 11.5e-6 --from '20 °C'")
    assert found["heat_to_c"] == pytest.approx(274, abs=0.5)


def test_a_difference_is_never_taken_for_a_temperature() -> None:
    """The same job in Fahrenheit and in Celsius heats to the same."""
    line = "fit H7/s6 '40 mm' --slip '0.04 mm' --from "
    assert values(line + "'68 °F'")["heat_to_c"] == pytest.approx(
        values(line + "'20 °C'")["heat_to_c"], abs=1e-6
    )


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(["H7/p6", "H7/s6", "H7/r6", "N7/h6"]),
    st.integers(10, 200),
    st.integers(600, 2600),
)
@example("N7/h6", 155, 1398)  # 283.47 °F would be two thousandths of a degree too low
def test_no_printed_temperature_is_past_the_limit_or_too_low(
    name: str, size: int, tenths: int
) -> None:
    limit = f"{tenths / 10} °C"
    line = f"fit {name} '{size} mm' --limit '{limit}'"
    wanted = values(f"fit {name} '{size} mm'")["heat_to_c"]
    text = run(line, 0 if wanted <= tenths / 10 else 1).stdout
    (said,) = re.findall(r"(?:heat the bore to|heated to) ([0-9.]+ °C) \(([0-9.]+ °F)\)", text)
    for figure in said:
        celsius = read_amount(figure, ("temperature",)).si - 273.15
        assert celsius <= tenths / 10 + 1e-6
        assert celsius >= min(wanted, tenths / 10) - 1e-3


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("fit H7 '40 mm'", "fit"),
        ("fit H7/zz6 '40 mm'", "zz6"),
        ("fit H7/g6 '600 mm'", "500"),
        ("fit H7/g6 '10 to 20 mm'", "range"),
        ("fit H7/g6 '0 mm'", "nothing"),
        ("fit H7/s6 '40 mm' --limit '120'", "unit"),
        ("fit H7/s6 '40 mm' --slip '0 mm'", "nothing"),
        ("fit H7/s6 '40 mm' --expansion '0'", "nothing"),
    ],
)
def test_what_cannot_be_read_is_refused(line: str, word: str) -> None:
    check_refused(line, word)
