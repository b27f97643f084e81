"""Gauges held against the limits that they are read against."""

from __future__ import annotations

import pytest

from sequencer.problem import Problem
from sequencer.trade.findings import findings
from tests.reading.models import model


def found(reads: str, limit: str, how: str = "measure: Play") -> list[Problem]:
    text = f"""
    assembly: spindle
    tools: {{gauge: {{reads: {reads}}}}}
    checks: {{play: {{{how}, with: gauge, limit: {limit}}}}}
    steps: {{look: {{do: Look., check: play}}}}
    """
    return list(findings(model(text)))


def test_a_caliper_cannot_tell_a_band_narrower_than_its_division() -> None:
    """A bore and a journal by caliper to 0.02 mm against 0.025 mm of band; feelers in 0.001 in."""
    (told,) = found("0.001 in", "0.0025 to 0.0030 in")
    assert (told.code, told.severity) == ("too-coarse", "warning")
    assert told.message == (
        "`gauge` reads 0.001 in, so it cannot tell 0.0025 to 0.0030 in of check `play`"
    )
    assert [fact.text for fact in told.facts] == [
        "the limit is 0.0025 to 0.0030 in",
        "`gauge` reads 0.001 in",
    ]
    assert told.why.startswith("a figure inside the limit may be outside it")
    assert told.fix.startswith("use a finer gauge")


# Division, limit, severity: a tenth and a quarter of the band are the borders.
BORDERS = [
    ("0.01 mm", "0.10 to 0.20 mm", None),
    ("0.011 mm", "0.10 to 0.20 mm", "note"),
    ("0.025 mm", "0.10 to 0.20 mm", "note"),
    ("0.026 mm", "0.10 to 0.20 mm", "warning"),
    ("0.1 mm", "0.10 to 0.20 mm", "warning"),
    ("0.05 mm", "at most 0.05 mm", None),
    ("0.06 mm", "at most 0.05 mm", "warning"),
    ("1 mm", "at least 3 mm", None),
    ("1 thou", "0.10 to 0.35 mm", "note"),
    ("2 N·m", "0.10 to 0.20 mm", None),
]


@pytest.mark.parametrize(("reads", "limit", "severity"), BORDERS)
def test_a_tenth_is_fine_and_a_quarter_the_most(
    reads: str, limit: str, severity: str | None
) -> None:
    assert [told.severity for told in found(reads, limit)] == ([severity] if severity else [])


def test_what_is_not_known_is_not_judged() -> None:
    text = """
    assembly: spindle
    tools: {gauge: Gauge}
    checks:
      play: {measure: Play, with: gauge, limit: 0.10 to 0.11 mm}
      look: {measure: Wear, with: by eye, limit: 0.10 to 0.11 mm}
    steps: {s: {do: S., check: [play, look]}}
    """
    assert list(findings(model(text))) == []
