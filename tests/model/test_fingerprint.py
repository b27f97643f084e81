"""The fingerprint that paper and file share."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sequencer.model.fingerprint import fingerprint
from sequencer.reading import read_text
from tests.reading.models import model

NUMBERS = """
    assembly: press
    compounds: {{oil: {{nut_factor: {factor}}}}}
    parts: {{shims: {{price: 4.50, pack: {{sizes: [{sizes}]}}}}}}
    joints: {{studs: {{at: [[0, 0], [{right}, 0]]}}}}
    steps: {{fit: {{do: Fit it., fits: shims, tighten: studs, apply: oil}}}}
    """


def of(factor: str = "0.15", sizes: str = "0.10 mm", right: str = "40") -> str:
    return fingerprint(model(NUMBERS.format(factor=factor, sizes=sizes, right=right)))


def test_it_is_two_groups_of_four_digits() -> None:
    assert re.fullmatch(r"[0-9a-f]{4}·[0-9a-f]{4}", of())


@pytest.mark.parametrize(
    "change",
    [{"factor": "0.16"}, {"sizes": "0.10 to 0.20 mm step 0.05 mm"}, {"right": "41"}],
    ids=lambda change: next(iter(change)),
)
def test_it_changes_with_every_figure(change: dict[str, str]) -> None:
    assert of(**change) != of()


def test_it_does_not_change_with_the_layout() -> None:
    assert of(sizes="0.10  mm") == of() == of(right="40.0")


MODEL = (Path(__file__).parent.parent / "models" / "mixer-head.yaml").read_text(encoding="utf-8")


def whole(text: str) -> str:
    reading = read_text(text, "model.yaml")
    assert reading.assembly is not None
    return fingerprint(reading.assembly)


def test_every_kind_of_figure_has_a_part_in_it() -> None:
    first = whole(MODEL)
    assert len(first) == 9
    for old, new in (
        ("[[0, 0], [30, 0]", "[[0, 0], [31, 0]"),  # where a fastener sits
        ("[30 %, 60 %, 100 %]", "[30 %, 70 %, 100 %]"),
        ("sizes: [0.10 mm", "sizes: [0.12 mm"),
        ("point: Main switch Q1", "point: Main switch Q2"),
    ):
        assert MODEL.count(old) == 1
        assert whole(MODEL.replace(old, new)) != first


def test_comments_and_long_forms_change_nothing() -> None:
    assert whole("# a note\n" + MODEL) == whole(MODEL)
    longer = MODEL.replace("torque: 22 N·m\n", "torque: {value: 22 N·m}\n")
    assert whole(longer) == whole(MODEL)
