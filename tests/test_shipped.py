"""What ships: every model checks clean, and the wheel carries layouts and models."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.planning.plan import check, plan
from sequencer.reading import read_file, read_text
from sequencer.report import as_text
from sequencer.shipped import shipped_folder

ROOT = Path(__file__).resolve().parent.parent
MODELS = sorted((ROOT / "assemblies").glob("*.yaml"))
SOUND = [model for model in MODELS if "mistakes" not in model.stem]
DEMO = ROOT / "assemblies" / "hoist-head.yaml"
LONGEST = ROOT / "assemblies" / "air-compressor.yaml"
ADAPTER = "adapter-setting"
"""A note that every adapter brings, be it ever so sound: what its wrench is set to."""


def _read(model: Path) -> Assembly:
    reading = read_file(model)
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly


@pytest.mark.parametrize("model", SOUND, ids=lambda model: model.stem)
def test_a_shipped_model_checks_clean(model: Path) -> None:
    assembly = _read(model)
    assert [found for found in check(assembly) if found.code != ADAPTER] == []
    assert "Invented" in assembly.notice


def test_the_demo_is_as_large_as_a_real_job() -> None:
    demo = _read(DEMO)
    choices = [step for step in demo.steps if len(step.ways_in) > 1]
    torques = [joint.torque.value.amount for joint in demo.joints if joint.torque]
    units = {amount.unit.symbol for amount in torques if amount}
    assert len(demo.steps) >= 25
    assert len(demo.together) == 2
    assert len(choices) >= 3
    assert len(demo.joints) >= 5
    assert len(units) >= 3
    assert len(demo.checks) >= 6
    assert sum(1 for step in demo.steps if step.hold) == 2


def test_the_longest_model_has_what_a_long_job_has() -> None:
    longest = _read(LONGEST)
    assert 140 <= len(longest.steps) <= 150
    assert len({step.do for step in longest.steps}) == len(longest.steps)
    assert len(longest.trials) == 3
    assert len(longest.units) >= 8
    assert len(longest.lines) == 1
    assert len([part for part in longest.parts if part.pack]) == 3
    assert len([part for part in longest.parts if part.aid]) >= 8
    assert len([joint for joint in longest.joints if joint.passes]) >= 6
    assert {joint.pattern for joint in longest.joints} >= {"cross", "inside out"}
    assert len([step for step in longest.steps if step.hold]) == 7
    assert len([step for step in longest.steps if len(step.ways_in) > 1]) >= 2
    assert len(longest.isolation) == 3


def test_the_wheel_carries_what_the_program_looks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    forced = project["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    for folder, target in forced.items():
        assert (ROOT / folder).is_dir()
        assert target == f"sequencer/_shipped/{folder}"
        assert shipped_folder(folder) == ROOT / folder
    with pytest.raises(FileNotFoundError):
        shipped_folder("no-such-folder")


_LINES = DEMO.read_text(encoding="utf-8").splitlines(keepends=True)
_PIECES = st.sampled_from(
    ["", ":", " ", "  ", "- ", "#", "{", "}", "[", "]", '"', "'", "\t", "\u00a0", "9**9", "*a", "µ"]
)


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_no_change_to_the_demo_makes_a_traceback(data: st.DataObject) -> None:
    lines = list(_LINES)
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(lines) - 1))
        change = data.draw(st.sampled_from(["cut", "double", "swap", "put in", "shift"]))
        if change == "cut":
            del lines[at]
        elif change == "double":
            lines.insert(at, lines[at])
        elif change == "swap":
            other = data.draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        elif change == "put in":
            column = data.draw(st.integers(0, len(lines[at])))
            piece = data.draw(_PIECES)
            lines[at] = lines[at][:column] + piece + lines[at][column:]
        else:
            lines[at] = data.draw(st.sampled_from(["  ", "    "])) + lines[at]
    text = "".join(lines)
    reading = read_text(text, "demo.yaml")
    findings = reading.problems
    if reading.assembly is not None:
        findings = (*findings, *check(reading.assembly))
        plan(reading.assembly)
    else:
        assert findings
    count = text.count("\n") + 1
    for problem in reading.problems:
        assert problem.place is not None
        assert 1 <= problem.place.line <= count
    as_text(findings, reading.lines, limit=None)
