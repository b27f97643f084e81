"""Calculators behind a torque, of nuts that drag, of threads and of lifting: whole, and refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.quantities import read_amount, to_si
from tests.commands.bench_runs import GOLDEN, check_refused, check_same_fields, run, values

# Kept text, command line, exit code.
WHOLE = {
    "torque-preload-scatter": (
        "torque preload '40 N·m' --thread M10 --surface oiled --method 'torque, unlubricated' "
        "--relaxation 5 --bolts 4",
        0,
    ),
    "torque-passes-legacy": (
        "torque passes '38 N·m ± 5 %' --wrench '10 to 60 N·m' --reads '1 N·m' --legacy",
        0,
    ),
    "torque-pattern": ("torque pattern 16", 0),
    "torque-pattern-odd": ("torque pattern 5", 0),
    "torque-thread": ("torque thread 1/4-28 --grade 5 --surface cadmium", 0),
    "torque-thread-metric": ("torque thread M10 --grade 10.9", 0),
    "torque-engagement": ("torque engagement --thread M8 --into aluminium", 0),
    "torque-engagement-weaker": (
        "torque engagement --thread 1/2-13 --grade 2 --into '20000 psi'",
        0,
    ),
    "torque-engagement-hollow": (
        "torque engagement --thread 1.5-8 --bore 0.792in --minor 1.390in",
        0,
    ),
    "torque-friction": ("torque friction '20 kN' --thread M10 --friction 'steel, machine oil'", 0),
    "torque-nut-factor": ("torque nut-factor '40 N·m' '26 kN' --thread M10", 0),
    "torque-yield": (
        "torque yield --thread M10 --grade A2-70 --friction 0.10 --face 16mm --hole 11mm",
        0,
    ),
    "torque-heat": ("torque heat '40000 psi' --from '70 °F'", 0),
    "torque-drag": (
        "torque drag '50 to 60 in-lb' --drag '8 in-lb' --counted added --castle faa "
        "--reading '68 in-lb'",
        1,
    ),
    "torque-drag-included": (
        "torque drag '50 to 60 in-lb' --drag '8 in-lb' --counted included --breakaway '3 in-lb' "
        "--castle msfc",
        0,
    ),
    "shrink-bearing": (
        "shrink 4.000in 4.004in --slip 0.005in --expansion '6.7e-6 per °F' --from '70 °F' "
        "--limit '250 °F' --chill '-40 °F'",
        1,
    ),
    "shrink": ("shrink 79.94mm 80.02mm --slip 0.1mm", 0),
    "lift": ("lift '26 lb' --reach 10in --height 22in --travel 37in --per-minute 3 "
             "--coupling fair", 0),
    "lift-averaged": ("lift '24 kg' --reach 40cm --per-minute 10 --working '8 min'", 1),
}  # fmt: skip


@pytest.mark.parametrize("name", WHOLE)
def test_whole_output(name: str, golden: Callable[[Path, str], None]) -> None:
    golden(GOLDEN / f"more-{name}.expected", run(*WHOLE[name]).stdout)
    check_same_fields(*WHOLE[name])


def test_every_kept_text_is_compared() -> None:
    kept = {file.stem.removeprefix("more-") for file in GOLDEN.glob("more-*.expected")}
    assert kept == set(WHOLE)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("torque preload '40 N·m' --thread M10 --method torque", ["by feel", "`torque`"]),
        ("torque preload '40 N·m' --thread M10 --method 'by feel' --relaxation 100", ["`100`"]),
        ("torque engagement --thread M10", ["tapped into", "aluminium"]),
        ("torque engagement --thread M10 --into '200 MPa'", ["tapped into", "--grade"]),
        ("torque friction '20 kN' --thread M10 --friction slimy", ["`slimy`", "machine oil"]),
        ("torque yield --thread 1/2-13 --grade 5 --friction 0.1 --face 1in --hole 1in",
         ["metric"]),
        ("torque drag '50 in-lb' --drag '8 mm' --counted added", ["mm"]),
        ("lift '20 N·m'", ["N·m"]),
    ],
)  # fmt: skip
def test_bad_input_is_told(line: str, words: list[str]) -> None:
    check_refused(line, *words)


def test_a_bearing_is_never_told_to_be_heated_past_its_limit() -> None:
    """A rise of 335.8 °F, which is 186.6 K, would be 405.8 °F; heat and chill leave 0.0038 in."""
    line = WHOLE["shrink-bearing"][0]
    found = values(line, 1)
    assert found["rise_k"] == pytest.approx(186.6, abs=0.05)
    assert found["heat_to_c"] == pytest.approx((250 - 32) / 1.8)
    assert found["clearance_hot_mm"] / 25.4 == pytest.approx(0.0008, abs=0.00005)
    assert found["clearance_mm"] / 25.4 == pytest.approx(0.0038, abs=0.00005)
    told = run(line, 1).stdout
    assert "not reachable within the limit" in told
    for never in ("405", "406", "207", "208"):
        assert never not in told


def test_whether_drag_is_added_or_included_has_no_default() -> None:
    """Three documents add the measured drag, one takes the figure as the reading."""
    told = run("torque drag '50 in-lb' --drag '8 in-lb'", 2).stderr
    assert "Missing option '--counted'" in told


@pytest.mark.parametrize(
    ("line", "key", "printed", "within"),
    [
        # MIL-HDBK-60, 6.3.2: 285 °F.
        ("torque heat '40000 psi' --from '70 °F' --expansion '6.2e-6 per °F'",
         "heat_to_c", (285 - 32) / 1.8, 0.5),
        # MIL-HDBK-60, table II and 100.5.2: K 0.198 of 1/2-13 with machine oil, 10 000 lbf.
        ("torque friction '10000 lbf' --thread 1/2-13 --friction 'steel, machine oil'",
         "torque_nm", 0.198 * 0.0127 * 44482.2, 1.0),
        # NIOSH 94-110, example 4, by full figures.
        ("lift '26 lb' --reach 10in --height 22in --travel 37in --per-minute 3 --coupling fair",
         "limit", 34.81, 0.01),
    ],
)  # fmt: skip
def test_published_examples_come_back(line: str, key: str, printed: float, within: float) -> None:
    assert values(line)[key] == pytest.approx(printed, abs=within)


@settings(max_examples=60, deadline=None)
@given(
    st.integers(10, 999),
    st.integers(1, 300),
    st.integers(0, 99),
    st.sampled_from(["N·m", "ft·lbf", "in·lbf"]),
    st.sampled_from(["N·m", "ft·lbf", "in·lbf"]),
)
def test_no_reading_to_reach_leaves_its_band(
    low: int, width: int, drag: int, unit: str, other: str
) -> None:
    """The figure and the drag in any pair of units: both ends printed lie inside, in both."""
    figure, measured = f"{low / 10} to {(low + width) / 10} {unit}", f"{drag / 10 + 0.1} {other}"
    line = f"torque drag '{figure}' --drag '{measured}' --counted added"
    first = run(line).stdout.splitlines()[0].partition(": read ")[2]
    asked, added = (read_amount(text, ("torque",)) for text in (figure, measured))
    assert asked.low is not None
    assert asked.high is not None
    extra = to_si(added.value, added.unit)
    for text in first.removesuffix(")").split(" ("):
        printed = read_amount(text, ("torque",))
        assert printed.low is not None
        assert printed.high is not None
        slack = 1e-6
        assert to_si(printed.low, printed.unit) >= to_si(asked.low, asked.unit) + extra - slack
        assert to_si(printed.high, printed.unit) <= to_si(asked.high, asked.unit) + extra + slack
