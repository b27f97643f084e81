"""`sequencer torque`: published worked examples, whole outputs, and what is refused."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from sequencer.commands import main
from sequencer.model.quantities import read_amount, to_si
from tests.commands.bench_runs import GOLDEN, check_refused, check_same_fields, run, values

# Kept text, command line, exit code.
WHOLE = {
    "convert": ("torque convert '60 ft-lb'", 0),
    "convert-band": ("torque convert '55 to 60 N·m'", 0),
    "sane-slip": ("torque sane '80 ft-lb' --thread 1/4-20 --grade 5 --surface dry", 1),
    "sane": ("torque sane '50 N·m ± 5 %' --thread M10 --grade 8.8 --surface dry", 0),
    "preload": ("torque preload '40 N·m' --thread M10 --surface oiled", 0),
    "from-preload": ("torque from-preload '25 kN' --thread M10 --surface oiled", 0),
    "adapter": ("torque adapter '300 ft-lb' --length 18in --adapter 6in", 0),
    "adapter-square": ("torque adapter '300 ft-lb' --length 18in --adapter 6in --angle 90", 0),
    "passes": ("torque passes '38 N·m ± 5 %' --wrench '10 to 60 N·m' --reads '1 N·m'", 0),
    "passes-no-mark": ("torque passes '38 N·m' --wrench '10 to 60 N·m' --reads '5 N·m'", 1),
}


@pytest.mark.parametrize("name", WHOLE)
def test_whole_output(name: str, golden: Callable[[Path, str], None]) -> None:
    golden(GOLDEN / f"torque-{name}.expected", run(*WHOLE[name]).stdout)
    check_same_fields(*WHOLE[name])


# What is typed, unit, printed figure and its tolerance, source.
CONVERSIONS = [
    ("60 ft-lb", "N·m", 81.3, 0.05, "common practice, no source"),
    ("80 in·lb", "N·m", 9.0, 0.05, "common practice, no source"),
    ("60 ft-lb", "in·lbf", 720, 0, "twelve inches in a foot"),
    ("1 kgf·m", "ft·lbf", 7.233, 0.0005, "a manual for bicycles, as quoted"),
]


@pytest.mark.parametrize(
    ("typed", "unit", "printed", "tolerance"), [case[:-1] for case in CONVERSIONS]
)
def test_conversion_is_the_printed_one(
    typed: str, unit: str, printed: float, tolerance: float
) -> None:
    found = values(f"torque convert '{typed}'")[unit]
    assert found == pytest.approx(printed, abs=tolerance or 1e-9)


@given(st.integers(1, 4000), st.integers(1, 400), st.sampled_from(["N·m", "ft·lbf", "in·lbf"]))
def test_no_converted_band_is_left_through_rounding(low: int, width: int, unit: str) -> None:
    typed = read_amount(f"{low / 10} to {(low + width) / 10} {unit}", ("torque",))
    lines = CliRunner().invoke(main, ["torque", "convert", typed.text]).stdout.splitlines()
    printed = [
        read_amount(line.partition("= ")[2], ("torque",)) for line in lines if "  = " in line
    ]
    assert len(printed) == 6
    assert typed.low is not None
    assert typed.high is not None
    for amount in printed:
        assert amount.low is not None
        assert amount.high is not None
        assert to_si(typed.low, typed.unit) <= to_si(amount.low, amount.unit)
        assert to_si(amount.high, amount.unit) <= to_si(typed.high, typed.unit)


# Torque, wrench, adapter, angle, printed setting, tolerance; sources as in the tests of adapters.
ADAPTERS = [
    ("300 ft-lb", "18in", "6in", "0", 225, 0),  # common practice, no source
    ("300 ft-lb", "18in", "-6in", "0", 450, 0),  # the same, pointing back
    ("300 ft-lb", "18in", "6in", "180°", 450, 0),
    ("300 ft-lb", "18in", "6in", "90", 300, 0),  # US Army TM 9-2350-277-20-2
    ("300 in-lb", "10in", "4in", "0", 214, 0.5),  # US Army TM 1-1500-204-23-9 fig 8-16
    ("40 ft-lb", "12in", "4in", "0", 30, 0),  # US Army TM 9-2350-277-40&P
    ("40 ft-lb", "1ft", "101.6 mm", "0", 30, 0),  # the same in other units of length
]


@pytest.mark.parametrize(("torque", "length", "adapter", "angle", "printed", "off"), ADAPTERS)
def test_setting_with_an_adapter_is_the_printed_one(
    torque: str, length: str, adapter: str, angle: str, printed: float, off: float
) -> None:
    line = f"torque adapter '{torque}' --length {length} --adapter '{adapter}' --angle {angle}"
    assert values(line)["setting"] == pytest.approx(printed, abs=off or 1e-9)


def test_torque_from_preload_is_the_printed_one() -> None:
    """M12, 34 226 N at K 0.20: 82.1 N·m, a worked example as quoted in a secondary source."""
    found = values("torque from-preload '34226 N' --thread M12 --nut-factor 0.20")
    assert found["usual_nm"] == pytest.approx(82.1, abs=0.05)
    assert found["torque_nm"] == [found["usual_nm"], found["usual_nm"]]


def test_preload_and_torque_are_each_others_inverse() -> None:
    force = values("torque preload '40 N·m' --thread M10 --surface oiled")["preload_n"]
    back = values(f"torque from-preload '{force[0]} N' --thread M10 --surface oiled")["torque_nm"]
    assert back[1] == pytest.approx(40)


def test_cover_screw_in_foot_pounds_is_caught_as_a_unit_slip() -> None:
    """80 in·lb on a cover screw typed as 80 ft·lb: common practice, no source."""
    typed = "torque sane '80 {}' --thread 1/4-20 --grade 5 --surface dry"
    slipped = values(typed.format("ft-lb"), exit_code=1)
    assert (slipped["over_stressed"], slipped["unit_meant"]) == (True, "in·lbf")
    meant = values(typed.format("in-lb"))
    assert not any(meant[odd] for odd in ("over_stressed", "slack", "unit_slip"))


def test_slack_bolt_is_not_sane() -> None:
    slack = values("torque sane '8 N·m' --thread M10 --grade 10.9 --surface dry", exit_code=1)
    assert slack["slack"]


def test_high_end_above_the_proof_load_is_noted() -> None:
    told = run("torque sane '60 N·m' --thread M10 --grade 8.8 --surface oiled").stdout
    assert "the high end of the band is above the proof load" in told


def test_grade_without_a_proof_load_is_judged_by_yield() -> None:
    told = values("torque sane '50 ft-lb' --thread 1/2-13 --grade 'A193 B7' --surface oiled")
    assert told["share_of"] == "yield"


def test_surface_left_out_widens_the_band() -> None:
    low, high = values("torque preload '40 N·m' --thread M10")["preload_n"]
    dry_low, dry_high = values("torque preload '40 N·m' --thread M10 --surface dry")["preload_n"]
    assert low <= dry_low < dry_high < high


@pytest.mark.parametrize("shares", ["30,60,100", "50 %, 100 %", "40,70", "100"])
def test_no_pass_leaves_its_band(shares: str) -> None:
    line = (
        f"torque passes '38 N·m ± 5 %' --wrench '10 to 60 N·m' --reads '1 N·m' --shares '{shares}'"
    )
    told = values(line)
    low, high = told["band"]
    assert (low, high) == pytest.approx((36.1, 39.9))
    for one in told["passes"]:
        assert one["setting"] == int(one["setting"])
        assert low * one["share"] <= one["setting"] <= high * one["share"]
    assert [one["way"] for one in told["passes"][-2:]] == ["pattern", "round"]


def test_foot_pound_wrench_stays_in_a_metric_band() -> None:
    told = values("torque passes '38 N·m ± 5 %' --wrench '5 to 75 ft-lb' --reads '1 ft-lb'")
    final = Fraction(told["passes"][-1]["setting"])
    assert 36.1 <= to_si(final, read_amount("1 ft-lb", ("torque",)).unit) <= 39.9


REFUSED = [
    ("torque convert '60 lb'", "foot-pounds and inch-pounds"),
    ("torque convert '60'", "no unit"),
    ("torque convert '5 mm'", "a length"),
    ("torque convert ''", "missing"),
    ("torque sane '80 ft-lb' --thread M99 --grade 5", "M99"),
    ("torque sane '80 ft-lb' --thread M8 --grade 77", "grade `77`"),
    ("torque sane '80 ft-lb' --thread M8 --grade 8.8 --surface drry", "drry", "dry, oiled"),
    ("torque sane '0 N·m' --thread M8 --grade 8.8", "not above nothing"),
    ("torque preload '40 N·m' --thread M8 --nut-factor 0", "not above nothing"),
    ("torque from-preload '25 kg' --thread M8", "a mass"),
    ("torque adapter '300 ft-lb' --length 18in --adapter -18in", "reaches back"),
    ("torque adapter '300 ft-lb' --length 0in --adapter 6in", "not above nothing"),
    ("torque adapter '300 ft-lb' --length 18in --adapter 6in --angle square", "square"),
    ("torque passes '38 N·m' --wrench '60 N·m' --reads '1 N·m'", "scale"),
    ("torque passes '38 N·m' --wrench '10 to 60 N·m' --reads '1 ft-lb'", "unit"),
    ("torque passes '38 N·m' --wrench '10 to 60 N·m' --reads '1 N·m' --shares 60,30", "rise"),
]


@pytest.mark.parametrize("case", REFUSED, ids=[case[0] for case in REFUSED])
def test_what_cannot_be_used_is_told_with_what_to_type(case: tuple[str, ...]) -> None:
    check_refused(*case)


def test_missing_option_is_a_wrong_call() -> None:
    assert "--thread" in run("torque preload '40 N·m'", exit_code=2).stderr


def test_lines_of_working_fit_a_terminal() -> None:
    for line, exit_code in WHOLE.values():
        working = run(line, exit_code).stdout.partition("\n\n")[2]
        assert max(map(len, working.splitlines())) <= 80


def test_every_kept_text_is_compared() -> None:
    kept = {re.sub("^torque-", "", file.stem) for file in GOLDEN.glob("torque-*.expected")}
    assert kept == set(WHOLE)


@pytest.mark.parametrize("line", ["torque convert '60 ft-lb'", "torque adapter --help"])
def test_calculating_loads_nothing_slow(line: str) -> None:
    script = (
        "import atexit, sys\n"
        "atexit.register(lambda: print(*sys.modules, file=sys.stderr))\n"
        "from sequencer.commands import main\n"
        f"main({shlex.split(line)!r})"
    )
    root = Path(__file__).resolve().parent.parent.parent
    done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=root
    )
    loaded = set(done.stderr.split())
    assert "sequencer.commands.torque" in loaded
    assert not loaded & {"weasyprint", "networkx", "pint", "jinja2"}
    if "--help" in line:
        assert not any(name.startswith("sequencer.trade") for name in loaded)
