"""Authors' text in HTML: the same words, figures and part numbers in one piece."""

from __future__ import annotations

import html
import re
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.sheets.markup import figure, prose

WHOLE = (
    "55 N·m",
    "55–60 N·m",
    "55 to 60 N·m",
    "150 N·m ± 5 %",
    "55 ± 5 N·m",
    "1.5 mm",
    "M8×1.25",
    "3/8-16",
    "25 × 35 × 7",
    "12-3456-7890-AB",
    "20 °C",
    "2 h",
    "issue G",
)


JOINER = "\u2060"


def broken_at(words: str) -> list[str]:
    """Return the pieces that a line may end after: a space, a hyphen or a stroke parts them."""
    return re.findall(rf"(?:[^ /–-]|[ /–-]{JOINER})+[ /–-]?", words)


@pytest.mark.parametrize("piece", WHOLE)
def test_figure_or_part_number_is_kept_in_one_piece(piece: str) -> None:
    words = prose(f"First {piece}, then go on")
    assert words.replace(JOINER, "") == f"First {piece}, then go on"
    assert [one.replace(JOINER, "") for one in broken_at(words)][1] == f"{piece}, "
    assert broken_at(figure(piece)) == [figure(piece)]


@pytest.mark.parametrize(
    "text", ["20 pieces of string", "Step 3 comes next", "e.g. this", "1-1-" * 40]
)
def test_plain_words_are_left_alone(text: str) -> None:
    assert prose(text) == text


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
def test_text_comes_out_as_it_went_in(text: str) -> None:
    without_marks = re.sub(r"<[^>]*>", "", prose(text))
    islands = str.maketrans("", "", f"\u2066\u2069{JOINER}")
    assert html.unescape(without_marks).translate(islands) == text.translate(islands)


@given(st.text("<>&\"'abc 5mm-", max_size=40))
def test_no_author_can_write_a_tag(text: str) -> None:
    assert re.findall(r"<[^>]*>", prose(text)) == []
    assert re.findall(r"<[^>]*>", figure(text)) == []


def test_figures_between_letters_from_right_to_left_are_islands() -> None:
    joined = prose("הדק ל 55 N·m, ואז PN 0012-AB.")
    assert f"55 {JOINER}N·m" in joined
    assert f"0012-{JOINER}AB" in joined
    words = joined.replace(JOINER, "")
    assert words == '<span dir="rtl">הדק ל \u206655 N·m\u2069, ואז \u2066PN 0012-AB\u2069.</span>'
    assert prose("Mark it שלום 5 mm").startswith('<span dir="ltr">')


@pytest.mark.parametrize("piece", ["1-", "1", "a/", "1 ", "1 to ", "5 mm ", "א5"])
def test_no_text_is_slow(piece: str) -> None:
    started = time.process_time()
    prose(piece * (100_000 // len(piece)))
    assert time.process_time() - started < 3


def test_very_long_figure_may_break() -> None:
    assert figure("9" * 60) == "9" * 60


def test_a_letter_stays_with_what_it_is_the_shape_of() -> None:
    wanted = f"the O-{JOINER}ring, a V-{JOINER}belt"
    assert str(prose("the O-ring, a V-belt")) == wanted
