"""Entries in words."""

from __future__ import annotations

import pytest

from sequencer.records.describe import described
from sequencer.records.entries import Done, Entry, Undone, What
from tests.helpers import assembly, step
from tests.records.making import state

MODEL = assembly(*(step(name) for name in "abcdefg"))


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (Done(steps=("a",)), "step 1 done"),
        (Done(steps=("a", "b")), "steps 1, 2 done"),
        (Done(steps=tuple("abcefg")), "steps 1 to 3, 5 to 7 done"),
        (Done(steps=("a", "b", "c", "polish")), "steps 1 to 3, polish done"),
        (Undone(steps=tuple("gfe")), "steps 7, 6, 5 taken back"),
        (Done(steps=tuple("cabd")), "steps 3, 1, 2, 4 done"),
    ],
)
def test_steps_in_a_row_are_named_by_the_first_and_the_last_and_keep_their_order(
    what: What, words: str
) -> None:
    assert described(Entry(time="", what=what), state(MODEL)) == words
