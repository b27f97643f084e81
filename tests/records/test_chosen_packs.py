"""Which pack a reading asks for, told where the reading is recorded."""

from __future__ import annotations

import pytest

from sequencer.reading import read_text
from sequencer.records.chosen_packs import packs_asked_for
from sequencer.records.state import State
from tests.records.making import state

# A gap of 0.047 in without shims, 0.010 to 0.020 in wanted, shims of 0.005 and 0.010 in: the pump
# of the cases collected for this project.
PUMP = """\
assembly: pump
parts:
  cover: Cover
  shims:
    name: Shims
    pack:
      sizes: [0.005 in, 0.010 in]
      at_most: 4
      settled_by: gap
      effect: +1 in pack = -1 in gap
checks:
  gap: {measure: Gap, limit: 0.010 to 0.020 in}
trials:
  dry: {steps: [cover-dry, read], settles: shims}
steps:
  cover-dry: {do: Lay the cover on., fits: cover}
  read: {do: Read the gap., after: cover-dry, check: gap}
  cover-on: {do: Shims and cover on., after: read, fits: [shims, cover]}
"""


def _pump(*told: str) -> State:
    model = read_text(PUMP, "pump.yaml").assembly
    assert model is not None
    return state(model, *told)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("0.047 in", "Shims: 0.01 + 0.01 + 0.01 in gives 0.017 in; 1 other would do"),
        ("0.090 in", "Shims: no pack of the sizes at hand does it"),
    ],
)
def test_a_reading_tells_the_best_pack(value: str, words: str) -> None:
    assert packs_asked_for(_pump("cover-dry"), "gap", value) == (words,)


@pytest.mark.parametrize("value", ["wide", "at most 0.04 in", "3 N"])
def test_what_is_no_figure_asks_for_no_pack(value: str) -> None:
    assert packs_asked_for(_pump("cover-dry"), "gap", value) == ()


def test_once_the_pack_is_fitted_for_good_a_reading_is_the_result() -> None:
    assert packs_asked_for(_pump("cover-dry read", "cover-on"), "gap", "0.017 in") == ()
    assert packs_asked_for(_pump("cover-dry"), "other", "0.017 in") == ()
