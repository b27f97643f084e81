"""The word most likely meant is the one that difflib finds, only sooner."""

from __future__ import annotations

import difflib

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.nearest import nearest

WORDS = st.text(alphabet="abct_m", max_size=8)


@settings(max_examples=300, deadline=None)
@given(WORDS, st.lists(WORDS, max_size=8), st.sampled_from([0.1, 0.6, 0.7, 1.0]))
def test_it_is_what_difflib_finds_among_all_words(
    word: str, words: list[str], cutoff: float
) -> None:
    close = difflib.get_close_matches(word, words, n=1, cutoff=cutoff)
    assert nearest(word, tuple(words), cutoff) == next(iter(close), None)


def test_a_word_that_is_known_is_its_own_nearest() -> None:
    assert nearest("time", ("times", "time", "tim")) == "time"
