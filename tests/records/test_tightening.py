"""How far a tightening got, by the passes and fasteners of the model."""

from __future__ import annotations

import pytest

from sequencer.reading import read_text
from sequencer.records.entries import PartDone
from sequencer.records.tightening import Tightening, tightening_of

# Ten head bolts in seven passes with one that backs them off: the figures are those of the head
# in the cases collected for this project.
HEAD = """\
assembly: head
parts: {head: {name: Head}}
joints:
  bolts:
    thread: M12
    count: 10
    torque: 42 N·m
    pattern: cross
    passes: [29 N·m, 69 N·m, back 180°, back 180°, 42 N·m, 80 to 90°, 40 to 45°]
  small: {thread: M8, count: 4, torque: 20 N·m}
steps:
  lay-on: {do: Lay the head on., fits: head}
  tighten: {do: Tighten the head bolts., after: lay-on, tighten: bolts}
  small-ones: {do: Tighten the small bolts., after: tighten, tighten: small}
"""


def _of(step: str) -> Tightening:
    model = read_text(HEAD, "head.yaml").assembly
    assert model is not None
    return tightening_of(model, step)


def _at(pass_: int, count: int, of: int | None = None) -> PartDone:
    return PartDone(step="tighten", pass_=pass_, count=count, of=of)


@pytest.mark.parametrize(
    ("part", "said"),
    [
        (
            _at(2, 6),
            "left in pass 2 of 7 after 6 of 10 fasteners: "
            "begin pass 2 again at the first fastener, 1",
        ),
        (_at(2, 10), "left after pass 2 of 7: begin pass 3"),
        (_at(3, 0), "left before pass 3 of 7: begin it at the first fastener, 1"),
        (_at(7, 10), "left after the last pass, pass 7 of 7: only its tick is missing"),
    ],
)
def test_an_interrupted_pass_begins_again_at_the_first_fastener(part: PartDone, said: str) -> None:
    """Pass 2 of 7 was done on 6 of 10 when work stopped."""
    assert _of("tighten").halted(part) == said


def test_without_passes_in_the_model_only_what_was_typed_is_said() -> None:
    small = _of("small-ones")
    assert small.halted(_at(2, 3, of=3)) == (
        "left in pass 2 of 3 after 3 fasteners: begin pass 2 again at the first fastener"
    )
    assert list(small.objections(_at(2, 3, of=3), None, "it")) == []


def test_no_bolt_is_turned_by_an_angle_before_all_have_had_the_torque() -> None:
    told = list(_of("tighten").objections(_at(6, 1), _at(5, 6), "step 2 (`tighten`)"))
    assert told == [
        "pass 6 (80 to 90°) turns by an angle, and only 6 of 10 fasteners have had pass 5 (42 N·m)"
    ]
    assert list(_of("tighten").objections(_at(6, 1), _at(5, 10), "step 2 (`tighten`)")) == []


@pytest.mark.parametrize(
    ("part", "message"),
    [
        (_at(1, 11), "step 2 (`tighten`) has 10 fasteners, not 11"),
        (_at(2, 3, of=3), "step 2 (`tighten`) has 7 passes, not 3"),
        (_at(8, 1), "there is no pass 8 of 7"),
        (
            _at(4, 1),
            "pass 2 was left after 6 of 10 fasteners, and nothing says that it was gone through "
            "before pass 4",
        ),
    ],
)
def test_a_pass_that_the_model_does_not_have_is_told(part: PartDone, message: str) -> None:
    found = list(_of("tighten").objections(part, _at(2, 6), "step 2 (`tighten`)"))
    assert found[0] == message
