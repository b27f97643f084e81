"""The whole message of every fault, as it is printed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import yaml

from sequencer.reading import nodes, read_file
from sequencer.report import as_text

if TYPE_CHECKING:
    from collections.abc import Callable

CASES = Path(__file__).parent.parent / "golden" / "reading"


@pytest.mark.parametrize("case", sorted(CASES.glob("*.yaml")), ids=lambda case: case.stem)
def test_the_whole_message(
    case: Path, golden: Callable[[Path, str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(CASES)
    reading = read_file(Path(case.name))
    assert reading.problems
    golden(case.with_suffix(".expected"), as_text(reading.problems, reading.lines) + "\n")


def test_every_expected_text_has_its_model() -> None:
    assert {case.stem for case in CASES.glob("*.expected")} == {
        case.stem for case in CASES.glob("*.yaml")
    }


# The two builds of the YAML parser differ here, and both have a right to.
PARSERS_DIFFER = {"no-space-in-braces"}


@pytest.mark.parametrize(
    "case",
    [case for case in sorted(CASES.glob("*.yaml")) if case.stem not in PARSERS_DIFFER],
    ids=lambda case: case.stem,
)
def test_the_message_does_not_depend_on_the_build_of_the_parser(
    case: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(nodes, "LOADER", yaml.SafeLoader)
    monkeypatch.chdir(CASES)
    reading = read_file(Path(case.name))
    expected = case.with_suffix(".expected").read_text(encoding="utf-8")
    assert as_text(reading.problems, reading.lines) + "\n" == expected
