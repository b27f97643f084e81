"""`sequencer shims`: worked examples, every pack tried, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import combinations_with_replacement
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.commands.bench_runs import GOLDEN, check_refused, check_same_fields, run, values

# A bucket shim, as worked in public manuals: old 2.425, measured 0.25, wanted 0.15 mm.
BUCKET = (
    "shims '0.25 mm' --limit '0.11 to 0.18 mm' --sizes '2.30 to 2.80 mm step 0.05 mm' "
    "--effect '+1 mm pack = -1 mm clearance' --start '2.425 mm' --at-most 1 --aim '0.15 mm'"
)
# A pump gap without shims, as worked in a public manual: 0.047 in, wanted 0.010 to 0.020 in.
PUMP = (
    "shims '0.047 in' --limit '0.010 to 0.020 in' --sizes '0.005 in, 0.010 in' "
    "--effect '+1 in pack = -1 in gap' --at-most 5"
)
# A rounding table, as printed in one manual: 0.53 becomes 0.55, made of 0.40 and 0.15 mm.
TABLE = (
    "shims '0.53 mm' --limit '-0.03 to 0.03 mm' --aim '0 mm' --sizes '0.15 mm, 0.40 mm' "
    "--effect '+1 mm pack = -1 mm gap' --rounding '0-2 = 0, 3-7 = 5, 8-9 = 10'"
)
NONE = (
    "shims '0.5 mm' --limit '0 to 0.01 mm' --sizes '0.3 mm' --effect '+1 mm pack = -1 mm gap' "
    "--rounding '0-4 = 0, 5-9 = 10'"
)
WHOLE = {"bucket": (BUCKET, 0), "pump": (PUMP, 0), "table": (TABLE, 0), "none": (NONE, 1)}


@pytest.mark.parametrize("name", WHOLE)
def test_whole_output(name: str, golden: Callable[[Path, str], None]) -> None:
    golden(GOLDEN / f"shims-{name}.expected", run(*WHOLE[name]).stdout)
    check_same_fields(*WHOLE[name])


def test_both_shims_that_serve_are_listed_and_not_just_the_nearest() -> None:
    found = values(BUCKET)
    assert found["ideal"] == 2.525
    assert [(pack["total"], pack["result"]) for pack in found["packs"]] == [
        (2.5, 0.175),
        (2.55, 0.125),
    ]


def test_direction_is_what_is_said_and_never_assumed() -> None:
    """Shims under the casing ring: taking them out closes the gap."""
    other = (
        "shims '0.047 in' --limit '0.010 to 0.020 in' --sizes '0.005 in, 0.010 in' --at-most 5 "
        "--start '0.050 in' --effect '+1 in pack = +1 in gap'"
    )
    assert [pack["total"] for pack in values(PUMP)["packs"]] == [0.03, 0.035]
    assert [pack["total"] for pack in values(other)["packs"]] == [0.02, 0.015]


def test_preload_is_a_float_below_nothing() -> None:
    """Measuring shim 1.10 and end float 0.36 mm, wanted 0.33 mm of preload: 1.79 mm."""
    line = (
        "shims '0.36 mm' --limit '-0.36 to -0.30 mm' --aim '-0.33 mm' --start '1.10 mm' "
        "--sizes '1.40 to 2.20 mm step 0.05 mm' --effect '+1 mm pack = -1 mm float' --at-most 1"
    )
    found = values(line)
    assert found["ideal"] == 1.79
    assert [(pack["total"], pack["result"]) for pack in found["packs"]] == [(1.8, -0.34)]


def test_a_figure_below_nothing_is_no_option() -> None:
    line = (
        "shims '-0.05 mm' --limit '0.00 to 0.02 mm' --start '0.20 mm' --sizes '0.10 mm, 0.15 mm' "
        "--effect '+1 mm pack = -1 mm float'"
    )
    assert [pack["total"] for pack in values(line)["packs"]] == [0.15]


sizes = st.lists(st.integers(1, 60), min_size=1, max_size=4, unique=True)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 200), st.integers(-20, 150), st.integers(0, 40), sizes, st.integers(1, 4))
def test_every_pack_that_serves_is_found_and_no_other(
    measured: int, low: int, width: int, at_hand: list[int], most: int
) -> None:
    """All in hundredths of a millimetre; more pack gives less."""

    def mm(hundredths: int) -> str:
        return f"{hundredths / 100:.2f} mm"

    totals = {
        sum(pack)
        for count in range(1, most + 1)
        for pack in combinations_with_replacement(at_hand, count)
    }
    wanted = {total for total in totals if low <= measured - total <= low + width}
    line = (
        f"shims '{mm(measured)}' --limit '{low / 100:.2f} to {mm(low + width)}' "
        f"--sizes '{', '.join(map(mm, at_hand))}' --effect '+1 mm pack = -1 mm gap' "
        f"--at-most {most}"
    )
    found = values(line, exit_code=0 if wanted else 1)
    assert {round(pack["total"] * 100) for pack in found["packs"]} == wanted
    for pack in found["packs"]:
        assert len(pack["shims"]) <= most
        made = sum(Fraction(str(shim)) for shim in pack["shims"])
        assert made == Fraction(str(pack["total"]))
        assert round(pack["result"] * 100) == measured - round(pack["total"] * 100)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        (BUCKET.replace("0.11 to 0.18 mm", "at most 0.18 mm"), "both ends"),
        (BUCKET.replace("'0.25 mm'", "'0.2 to 0.3 mm'"), "range"),
        (BUCKET.replace("step 0.05 mm", "step 0 mm"), "sizes"),
        (BUCKET.replace("'2.30 to 2.80 mm step 0.05 mm'", "'0 mm'"), "no thickness"),
        (BUCKET.replace("pack = -1", "pack is -1"), "pack"),
        (BUCKET.replace("pack = -1 mm", "pack = 0 mm"), "effect"),
        (TABLE.replace("8-9 = 10", "8 = 10"), "digits"),
        (BUCKET.replace("0.25 mm", "0.25"), "unit"),
    ],
)
def test_what_cannot_be_read_is_refused(line: str, word: str) -> None:
    check_refused(line, word)
