"""The packet as HTML: what is asked for, escaped, and replaceable piece by piece."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.complete import complete
from sequencer.model.steps import Step
from sequencer.planning.results import Plan
from sequencer.problem import Problem
from sequencer.sheets.packet import SHEETS, LayoutFault, packet_html
from tests.sheets.pages import Printed, holds
from tests.sheets.sample import FINGERPRINT, ORDER, winch, winch_plan

if TYPE_CHECKING:
    from collections.abc import Callable

GOLDEN = Path(__file__).parent.parent / "golden" / "sheets"


def body(html: str) -> str:
    return html[html.index("<body") :]


def one_step(**fields: object) -> Assembly:
    step = Step(id="s", do="Do it.")
    return complete(Assembly(assembly="a", steps=(replace(step, **fields),)))  # type: ignore[arg-type] # the fields are the caller's affair


def printed_alone(**fields: object) -> str:
    return packet_html(one_step(**fields), Plan(("s",)), fingerprint="f", sheets=("steps",))


def test_packet_of_the_winch_is_as_kept(
    winch_html: str, golden: Callable[[Path, str], None]
) -> None:
    golden(GOLDEN / "winch.html", body(winch_html))


def test_sheets_come_as_asked_in_their_own_order() -> None:
    for name in SHEETS:
        html = packet_html(winch(), winch_plan(), fingerprint=FINGERPRINT, sheets=(name,))
        assert html.count("<main") == 1
        assert f'<main class="sheet {name}">' in html
    both = packet_html(
        winch(), winch_plan(), fingerprint=FINGERPRINT, sheets=("checklist", "cover")
    )
    assert both.index('"sheet cover"') < both.index('"sheet checklist"')


def test_checklist_alone_refers_to_no_pages(winch_html: str) -> None:
    alone = packet_html(winch(), winch_plan(), fingerprint=FINGERPRINT, sheets=("checklist",))
    assert 'href="#step-' not in alone
    assert 'href="#step-' in winch_html
    assert Printed.of(alone).logged == ()


@pytest.mark.parametrize("wrong", [{"sheets": ("poster",)}, {"paper": "A5"}])
def test_unknown_sheet_or_paper_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"poster|A5"):
        packet_html(winch(), winch_plan(), fingerprint="f", **wrong)  # type: ignore[arg-type] # wrong on purpose


def test_without_an_order_the_written_one_is_printed() -> None:
    html = packet_html(winch(), Plan(None), fingerprint="f", sheets=("checklist",), draft=("no",))
    words = re.sub(r"<[^>]*>|\u2060", "", html)
    starts = [
        words.index(step.do.partition(".")[0][:24]) for step in winch().steps if step.id in ORDER
    ]
    assert starts == sorted(starts)


def test_text_of_the_author_is_escaped_and_rendered_once() -> None:
    nasty = "Torque <M8> AT&T &copy <!-- --> </section> <style>*{display:none}</style> {{ 7*7 }}"
    html = printed_alone(do=nasty, warning=(nasty,))
    assert "<M8>" not in html
    assert "display:none}</style>" not in html
    assert html.count("{{ 7*7 }}") == 2
    assert html.count("<style>") == 1


def test_what_no_page_can_hold_is_left_out() -> None:
    assert "Do\ufffdit\tnow\n." in printed_alone(do="Do\ud800it\x07\tnow\n.")


def test_line_breaks_of_the_author_are_kept() -> None:
    page = Printed.of(printed_alone(do="One\n\nThree", note=("a\nb",))).pages[0]
    assert "Three" in page
    assert "OneThree" not in page.replace(" ", "")
    assert "ab" not in page


@pytest.mark.parametrize("sheets", [("cover",), ("before",), ("cover", "before")])
def test_findings_are_told_once_before_the_start(sheets: tuple[str, ...]) -> None:
    finding = Problem("no-source", "note", "the torque of `ties` has no source", fix="name one")
    html = packet_html(winch(), winch_plan(), fingerprint="f", sheets=sheets, findings=(finding,))
    assert html.count("the torque of Tie bolts has no source. Name one") == 1


@pytest.mark.parametrize("sheets", [("cover",), ("before",), ("cover", "before")])
def test_why_it_is_a_draft_is_told_once_before_the_start(sheets: tuple[str, ...]) -> None:
    html = packet_html(winch(), winch_plan(), fingerprint="f", sheets=sheets, draft=("too soon",))
    assert html.count("too soon") == 1
    assert html.count("DRAFT: do not work from this.") == len(sheets)


def test_notice_too_long_for_the_foot_stands_whole_on_the_cover() -> None:
    notice = "Not for use on real equipment of any kind. " * 9
    page = Printed.of(
        packet_html(
            replace(winch(), notice=notice), winch_plan(), fingerprint="f", sheets=("cover",)
        )
    ).pages[0]
    assert holds(page, notice)
    assert "of any kind… unit no." in " ".join(page.split())


def test_layout_of_ones_own_stands_in_for_the_shipped_one(tmp_path: Path) -> None:
    folder = tmp_path / "checklist"
    folder.mkdir()
    own = '<main class="sheet checklist"><p>{{ view.runs | length }} runs here</p></main>'
    (folder / "sheet.html").write_text(own, encoding="utf-8")
    html = packet_html(winch(), winch_plan(), fingerprint="f", layouts=tmp_path)
    assert "<p>6 runs here</p>" in html
    assert "Signed off" in html
    assert ".item" in html  # its style is still the shipped one


@pytest.mark.parametrize("broken", ["{{ view.nothing }}", "{% if %}", "{% include 'gone.html' %}"])
def test_layout_that_does_not_work_is_named_with_its_line(tmp_path: Path, broken: str) -> None:
    (tmp_path / "cover").mkdir()
    own = tmp_path / "cover" / "sheet.html"
    own.write_text(f"<p>fine</p>\n{broken}", encoding="utf-8")
    with pytest.raises(LayoutFault) as raised:
        packet_html(winch(), winch_plan(), fingerprint="f", layouts=tmp_path)
    assert str(raised.value).startswith(f"layout {own}, line 2: ")


def test_folder_of_layouts_must_be_there(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no such folder"):
        packet_html(winch(), winch_plan(), fingerprint="f", layouts=tmp_path / "gone")
