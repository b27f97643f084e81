"""What the PDF tells those who do not see it: headings, tables, figures, the order to read."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest

from tests.sheets.pages import Letter, letters_of, squeezed
from tests.sheets.sample import ORDER, winch

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from tests.sheets.pages import Printed

Texts = dict[tuple[int, int], str]
POINTS_A_MM = 72 / 25.4


@dataclass(slots=True)
class Element:
    """A piece of the structure: its kind, what is said in its stead, its text, what is in it."""

    kind: str
    alt: str
    own: list[tuple[int, int]] = field(default_factory=list)
    """Its text: pages, with the numbers by which each of them knows it."""
    kids: list[Element] = field(default_factory=list)

    def all(self) -> Iterator[Element]:
        yield self
        for kid in self.kids:
            yield from kid.all()

    def of(self, *kinds: str) -> list[Element]:
        return [one for one in self.all() if one.kind in kinds]

    def text(self, texts: Mapping[tuple[int, int], str]) -> str:
        return "".join(texts.get(place, "") for one in self.all() for place in one.own)


@pytest.fixture(scope="module")
def tree(printed: Printed) -> Element:
    catalog: Any = printed.reader.trailer["/Root"]
    pages = printed.reader.pages
    numbers = {page.indirect_reference: at for at, page in enumerate(pages)}
    return _element(catalog["/StructTreeRoot"], 0, numbers)


def _element(raw: Any, page: int, numbers: Mapping[Any, int]) -> Element:
    page = numbers[raw.raw_get("/Pg")] if "/Pg" in raw else page
    made = Element(str(raw.get("/S", "")), str(raw.get("/Alt", "")))
    kids = raw.get("/K", [])
    for kid in kids if isinstance(kids, list) else [kids]:
        found = kid.get_object()
        if isinstance(found, int):
            made.own.append((page, found))
        elif "/MCID" in found:
            made.own.append((numbers[found.raw_get("/Pg")], int(found["/MCID"])))
        elif "/S" in found:
            made.kids.append(_element(found, page, numbers))
    return made


@pytest.fixture(scope="module")
def letters(printed: Printed) -> list[tuple[int, Letter]]:
    pages = enumerate(printed.reader.pages)
    return [(at, letter) for at, page in pages for letter in letters_of(page)]


@pytest.fixture(scope="module")
def texts(letters: list[tuple[int, Letter]]) -> Texts:
    found: Texts = {}
    for page, letter in letters:
        if letter.mark is not None:
            found[page, letter.mark] = found.get((page, letter.mark), "") + letter.text
    return found


def test_all_but_heads_and_feet_of_pages_is_in_the_structure_once(
    printed: Printed, tree: Element, letters: list[tuple[int, Letter]]
) -> None:
    told = [place for one in tree.all() for place in one.own]
    assert len(told) == len(set(told))
    known = set(told)
    top = float(printed.reader.pages[0].mediabox.height) - 20 * POINTS_A_MM
    for page, letter in letters:
        is_furniture = letter.y > top or letter.y < 18 * POINTS_A_MM
        if letter.text.strip():
            assert ((page, letter.mark) in known) is not is_furniture, letter


def test_headings_go_down_by_one_level_at_a_time(tree: Element, texts: Texts) -> None:
    headings = tree.of("/H1", "/H2", "/H3", "/H4")
    levels = [int(one.kind[2:]) for one in headings]
    assert levels[0] == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))
    assert all(one.text(texts).strip() for one in headings)
    sheets = [one.text(texts) for one in tree.of("/H1")]
    for sheet in ("Before you start", "Kit: lay out first", "Sources", "Torque record"):
        assert sheets.count(sheet) == 1


def test_head_cells_of_tables_are_told_as_such(tree: Element, texts: Texts) -> None:
    heads = [one.text(texts).replace("\u2060", "") for one in tree.of("/TH")]
    assert {"Count", "Part", "Number", "Step"} <= set(heads)
    for table in tree.of("/Table"):
        assert table.of("/TR")
        assert all(kid.kind in ("/TH", "/TD") for row in table.of("/TR") for kid in row.kids)


def test_figures_say_in_words_what_they_show(tree: Element) -> None:
    figures = tree.of("/Figure")
    assert len(figures) > 2
    assert [figure for figure in figures if not figure.alt.strip()] == []
    assert figures[0].alt == "Steps 1 to 10"


def test_what_warns_is_read_out_before_what_to_do(tree: Element, texts: Texts) -> None:
    read_out = squeezed(tree.text(texts))
    for step in (step for step in winch().steps if step.id in ORDER):
        for text in (*step.warning, *step.caution, *step.notice):
            assert read_out.index(squeezed(text)) < read_out.index(squeezed(step.do))


def test_title_is_shown_and_the_language_known(printed: Printed) -> None:
    catalog: Any = printed.reader.trailer["/Root"]
    assert catalog["/Lang"] == "en"
    assert catalog["/MarkInfo"]["/Marked"].value
    assert catalog["/ViewerPreferences"]["/DisplayDocTitle"].value
