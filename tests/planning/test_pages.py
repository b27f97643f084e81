"""Every finding has its page, and every page's example gives the finding."""

from __future__ import annotations

import ast
import re
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, get_args, get_type_hints

import pytest
from PIL import Image

from sequencer.planning.clash import Clash
from sequencer.planning.decide import decide
from sequencer.planning.mending import revise
from sequencer.planning.pages import PAGES, Page
from sequencer.planning.pages.options import OPTIONS
from sequencer.planning.pages.printing import PRINTING
from sequencer.planning.plan import check, plan, try_order
from sequencer.planning.stale import stale
from sequencer.reading import read_file, read_text
from sequencer.sheets.photos import read_photos

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem

SEQUENCER = Path(__file__).resolve().parent.parent.parent / "sequencer"
FINDERS = (SEQUENCER / "planning", SEQUENCER / "trade" / "findings")
MODEL = SEQUENCER / "model"
WHILE_READING = {page.code for page in OPTIONS}
WHILE_PRINTING = {page.code for page in PRINTING}
every_page = pytest.mark.parametrize("page", PAGES.values(), ids=lambda page: page.code)


def _codes_in(file: Path) -> Iterator[str]:
    """Yield the code of each finding that a module makes, as its source says."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "Problem":
            yield from _codes_of(node.args[0])


def _codes_of(code: ast.expr) -> Iterator[str]:
    if isinstance(code, ast.IfExp):
        yield from _codes_of(code.body)
        yield from _codes_of(code.orelse)
    elif isinstance(code, ast.Constant) and isinstance(code.value, str):
        yield code.value
    else:
        assert ast.unparse(code) == "clash.code", "a code that this test cannot read"
        yield from get_args(get_type_hints(Clash, localns={"Rule": object})["code"])


def test_every_finding_has_its_page_and_every_page_its_finding() -> None:
    files = (file for folder in FINDERS for file in folder.rglob("*.py"))
    found = {code for file in files for code in _codes_in(file)}
    assert found == set(PAGES) - WHILE_READING - WHILE_PRINTING
    resolving = {code for file in MODEL.rglob("*.py") for code in _codes_in(file)}
    assert resolving - {"state"} <= WHILE_READING


def _model(text: str) -> Assembly:
    reading = read_text(text, "unit.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly


def _decide_with_next_to_no_work(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sequencer.planning.plan.decide", partial(decide, most_peels=1))


def _while_reading(page: Page, folder: Path) -> tuple[Problem, ...]:
    for name, text in (("unit.yaml", page.example), *page.beside):
        (folder / name).write_text(text, encoding="utf-8")
    return read_file(Path("unit.yaml")).problems


def _while_printing(page: Page, folder: Path) -> tuple[Problem, ...]:
    for name, text in page.beside:
        (folder / name).write_text(text, encoding="utf-8")
    if page.code == "picture-size":
        Image.new("1", (9000, 7000)).save(folder / "plan.png")
    return read_photos(_model(page.example), lambda _: folder, folder)[1]


def _findings(page: Page) -> tuple[Problem, ...]:
    model = _model(page.example)
    if page.order:
        assert check(model) == (), "only the order of one's own is at fault"
        return try_order(model, page.order).findings
    if page.done:
        assert check(model) == (), "only what was done is at fault"
        return revise(model, page.done, page.redo).findings
    return (*check(model), *stale(model, [step.id for step in model.steps]))


@every_page
def test_the_example_gives_the_finding_and_no_other(
    page: Page, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    if page.code == "undecided":
        _decide_with_next_to_no_work(monkeypatch)
    monkeypatch.chdir(tmp_path)
    if page.code in WHILE_READING:
        findings = _while_reading(page, tmp_path)
    elif page.code in WHILE_PRINTING:
        findings = _while_printing(page, tmp_path)
    else:
        findings = _findings(page)
    assert {finding.code for finding in findings} == {page.code}
    if page.says:
        assert {finding.message for finding in findings} == {page.says}
    assert page.severity.split()[0] == findings[0].severity


def test_the_advice_for_undecided_settles_it(monkeypatch: pytest.MonkeyPatch) -> None:
    example = PAGES["undecided"].example
    *others, shelf_in, clamp_off = re.split(r"^(?=  [a-z-]+:)", example, flags=re.MULTILINE)
    advised = "".join((*others, clamp_off, shelf_in))
    assert plan(_model(example)).order == ("clamp-on", "glue-dry", "clamp-off", "shelf-in")
    assert [finding.code for finding in check(_model(example))] == ["shut-out"]
    _decide_with_next_to_no_work(monkeypatch)
    assert [finding.code for finding in check(_model(example))] == ["undecided"]
    assert [finding.code for finding in check(_model(advised))] == []


@every_page
def test_a_page_is_written_out(page: Page) -> None:
    assert page.says or page.code == "undecided", "its example is too small to give it"
    for text in (page.short, page.severity):
        assert text
        assert not text.endswith(".")
    for text in (page.what, page.why, page.do):
        assert text.endswith(".")
        assert "  " not in text
