"""Threads by name: every spelling that people use, and help with those that are no thread."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.basics import TradeError
from sequencer.trade.thread_tables import METRIC_ROWS, UNIFIED_ROWS, ThreadRow
from sequencer.trade.threads import Thread, read_thread

SPELLINGS = [
    ("M8", "M8×1.25"),
    ("M8×1.25", "M8×1.25"),
    ("M8x1", "M8×1"),
    ("m8 x 1", "M8×1"),
    ("M8-1.25", "M8×1.25"),
    ("M8*1,25", "M8×1.25"),
    ("M10x1.25-6g", "M10×1.25"),
    ("M10 - 4g6g", "M10×1.5"),
    ("M10x1.5-LH", "M10×1.5 LH"),
    ("M10x1.5LH", "M10×1.5 LH"),
    ("M9×1", "M9×1"),
    ("3/8-16", "3/8-16 UNC"),
    ("3/8 – 16", "3/8-16 UNC"),
    ('3/8"-16 UNC', "3/8-16 UNC"),
    ("3/8 UNF", "3/8-24 UNF"),
    ("3/8 in UNF", "3/8-24 UNF"),
    ("3/8 NC", "3/8-16 UNC"),
    ("1/4-20 UNC-2A", "1/4-20 UNC"),
    ("1/4-20 UNC 2B LH", "1/4-20 UNC LH"),
    (".250-20", "1/4-20 UNC"),
    ("0.5625-18", "9/16-18 UNF"),
    ("#10-32", "#10-32 UNF"),
    ("10-32", "#10-32 UNF"),
    ("No. 10-24", "#10-24 UNC"),
    ("7/16-20 UNF", "7/16-20 UNF"),
    ("1-8", "1-8 UNC"),
    ("1-64", "#1-64 UNC"),
    ("1-14", "1-14 UNS"),
    ("1 1/8-7", "1-1/8-7 UNC"),
    ("1-1/8-12", "1-1/8-12 UNF"),
    ("1 1/4-8 UN", "1-1/4-8 UN"),
    ("1-1/4 8UN", "1-1/4-8 UN"),
    ("2-4 1/2", "2-4.5 UNC"),
    ("5/8-18 left hand", "5/8-18 UNF LH"),
]


@pytest.mark.parametrize(("typed", "name"), SPELLINGS)
def test_spelling_names_the_thread(typed: str, name: str) -> None:
    thread = read_thread(typed)
    assert thread.name == name
    assert thread.left_hand == name.endswith("LH")


REFUSED = [
    ("M8x1.2", "M8×1.25"),
    ("M8x125", "M8×1.25"),
    ("3/8-15", "3/8-16 UNC"),
    ("3/8-16 UNF", "3/8-24 UNF"),
    ("3/8", "3/8-24 UNF"),
    ("10-30", "#10-32 UNF"),
    ("3/7-16", "3/8-16 UNC"),
    ("M13", "M8×1.25"),
    ("M8x1.25 x 40", "M8×1.25"),
    ("1/0-20", "1/4-20 UNC"),
    ("", "M8×1.25"),
    ("finger tight", "M8×1.25"),
    ("9**9**9", "M8×1.25"),
]


@pytest.mark.parametrize(("typed", "offered"), REFUSED)
def test_other_text_is_refused_with_a_thread_to_type(typed: str, offered: str) -> None:
    with pytest.raises(TradeError) as error:
        read_thread(typed)
    assert f"`{offered}`" in error.value.fix


def test_size_with_two_pitches_asks_for_one() -> None:
    with pytest.raises(TradeError, match="does not say which pitch"):
        read_thread("1/2")


@pytest.mark.parametrize("row", [*METRIC_ROWS, *UNIFIED_ROWS], ids=lambda row: row.size)
def test_every_listed_thread_reads_back_from_its_names(row: ThreadRow) -> None:
    metric = row.threads_per_inch is None
    typed = f"M{row.size}×{float(row.pitch_mm)}" if metric else f"{row.size}-{row.threads_per_inch}"
    thread = read_thread(typed.replace("9/2", "4.5"))
    assert (thread.series, thread.pitch_mm) == (row.series, float(row.pitch_mm))
    assert read_thread(thread.name) == thread
    assert read_thread(thread.short) == thread


def _thread_or_help(text: str) -> Thread | str:
    try:
        return read_thread(text)
    except TradeError as error:
        return error.fix


@given(st.text(alphabet="M#0123456789/-.x× UNCFLH", max_size=14))
def test_any_text_is_a_thread_or_a_plain_refusal(text: str) -> None:
    answer = _thread_or_help(text)
    if isinstance(answer, Thread):
        assert 0 < answer.pitch_mm < answer.diameter_mm
        assert answer.stress_area_mm2 > 0
    else:
        assert "`" in answer
