"""The fingerprint that paper and file share."""

from __future__ import annotations

import re

import pytest

from sequencer.model.fingerprint import fingerprint
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
