"""Corrections: entries stay in the file, and count as they were put right."""

from __future__ import annotations

from dataclasses import replace

from sequencer.records.corrections import counting
from sequencer.records.entries import Correct, Done, Entry, Note, Reading, What
from tests.records.making import TIME


def entries(*whats: What) -> list[Entry]:
    first = Note(text="the first entry is the model")
    return [Entry(number=at, time=TIME, what=what) for at, what in enumerate((first, *whats), 1)]


def counts(*whats: What) -> list[What]:
    """What counts, but for the first entry and the corrections themselves."""
    return [
        entry.what
        for entry in counting(entries(*whats)).entries
        if entry.number > 1 and not isinstance(entry.what, Correct)
    ]


DONE = Done(steps=("a", "b", "c"))
READ = Reading(check="float", value="0.4 mm")


def test_a_corrected_entry_does_not_count() -> None:
    assert counts(DONE, READ, Correct(corrects=2)) == [READ]


def test_a_corrected_value_counts_in_the_place_of_the_wrong_one() -> None:
    right = replace(READ, value="0.04 mm")
    assert counts(READ, DONE, Correct(corrects=2, value="0.04 mm")) == [right, DONE]


def test_the_last_of_several_corrected_values_counts() -> None:
    wrong, right = Correct(corrects=2, value="4 mm"), Correct(corrects=2, value="0.04 mm")
    assert counts(READ, wrong, right) == [replace(READ, value="0.04 mm")]


def test_one_step_of_several_is_taken_out() -> None:
    assert counts(DONE, Correct(corrects=2, step="b")) == [Done(steps=("a", "c"))]
    both = (Correct(corrects=2, step="b"), Correct(corrects=2, step="a"))
    assert counts(DONE, *both, Correct(corrects=2, step="c")) == []


def test_a_correction_that_is_corrected_has_no_effect() -> None:
    assert counts(DONE, Correct(corrects=2), Correct(corrects=3)) == [DONE]
    again = (Correct(corrects=2), Correct(corrects=3), Correct(corrects=4))
    assert counts(DONE, *again) == []


def test_neither_the_first_entry_nor_a_later_one_can_be_corrected() -> None:
    log = entries(DONE, Correct(corrects=1), Correct(corrects=4), Correct(corrects=9), READ)
    assert [entry.number for entry in counting(log).entries] == [1, 2, 3, 4, 5, 6]


def test_what_corrected_an_entry_is_told_beside_it() -> None:
    log = entries(DONE, Correct(corrects=2, why="read the wrong line"))
    assert counting(log).corrections == {2: (log[2],)}
