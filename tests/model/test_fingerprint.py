"""Paper and file share a fingerprint, whatever the model holds."""

from __future__ import annotations

from pathlib import Path

from sequencer.model.fingerprint import fingerprint
from sequencer.reading import read_text

MODEL = (Path(__file__).parent.parent / "models" / "mixer-head.yaml").read_text(encoding="utf-8")


def of(text: str) -> str:
    reading = read_text(text, "model.yaml")
    assert reading.assembly is not None
    return fingerprint(reading.assembly)


def test_every_kind_of_figure_has_a_part_in_it() -> None:
    first = of(MODEL)
    assert len(first) == 9
    for old, new in (
        ("[[0, 0], [30, 0]", "[[0, 0], [31, 0]"),  # where a fastener sits
        ("[30 %, 60 %, 100 %]", "[30 %, 70 %, 100 %]"),
        ("sizes: [0.10 mm", "sizes: [0.12 mm"),
        ("point: Main switch Q1", "point: Main switch Q2"),
    ):
        assert MODEL.count(old) == 1
        assert of(MODEL.replace(old, new)) != first


def test_comments_and_long_forms_change_nothing() -> None:
    assert of("# a note\n" + MODEL) == of(MODEL)
    longer = MODEL.replace("torque: 22 N·m\n", "torque: {value: 22 N·m}\n")
    assert of(longer) == of(MODEL)
