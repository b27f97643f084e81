"""Thread engagement against FED-STD-H28/2B, appendix B, and published rules of thumb."""

from __future__ import annotations

import importlib

import pytest

from sequencer.trade.joint_length import ENGAGEMENT_RULES
from sequencer.trade.thread_strength import (
    HollowBolt,
    equal_strength_engagement,
    hollow_engagement,
    strength_ratio,
    weaker_thread_engagement,
)
from sequencer.trade.threads import read_thread
from tests.outside.tables import INCH_MM


# FED-STD-H28/2B, 90.1: minor diameter of the internal thread and engagement, in inches.
@pytest.mark.parametrize(("minor", "engagement"), [(1.390, 0.777), (1.3775, 0.714)])
def test_hollow_bolt_of_the_worked_example(minor: float, engagement: float) -> None:
    bolt = HollowBolt(area=1.492, bore=0.792, minor=minor, pitch_diameter=1.4093, pitch=1 / 8)
    assert hollow_engagement(bolt) == pytest.approx(engagement, abs=0.001)


def test_weaker_iron_asks_two_and_a_half_times_the_engagement() -> None:
    """FED-STD-H28/2B, 90.2: 20 000 psi in 60 000 psi gives 2.5; of 1.750 in, 0.7 in carries."""
    ratio = strength_ratio(20_000, 60_000)
    assert ratio == pytest.approx(2.5, abs=0.01)
    assert 1.750 / ratio == pytest.approx(0.7, abs=0.001)


@pytest.mark.parametrize("name", ["1/4-20", "1/2-13", "1-8"])
def test_equal_strength_engagement_agrees_with_a_package(name: str) -> None:
    """Formula 13 of table II.B.2, as carried by screw-thread-lib."""
    package = importlib.import_module("screw_thread_lib")  # it ships no type hints
    other = package.Assembly.from_ASME_B11_UN_2A2B(name)
    thread = read_thread(name)
    found = equal_strength_engagement(thread) / INCH_MM
    assert found == pytest.approx(other.LEr_FEDSTD_13("1b"), rel=1e-4)
    assert weaker_thread_engagement(thread, 20_000, 60_000) == pytest.approx(
        2.5 * found * INCH_MM, rel=0.01
    )
    assert weaker_thread_engagement(thread, 90_000, 60_000) == pytest.approx(found * INCH_MM)


# Steel, iron and brass: rule of thumb as quoted in a secondary source; aluminium: common
# practice, no source. In diameters.
@pytest.mark.parametrize(
    ("into", "diameters"), [("steel", 1), ("iron", 1.5), ("brass", 1.5), ("aluminium", 2)]
)
def test_rule_of_thumb_by_tapped_material(into: str, diameters: float) -> None:
    assert ENGAGEMENT_RULES[into].diameters == diameters
