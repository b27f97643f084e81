"""`sequencer strip`: what is printed, the JSON, and what stops it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pypdf import PdfReader

from sequencer.commands import main

UNIT = """\
assembly: lamp
issue: C
options: {glass: {choices: [clear, dark], default: clear}}
parts:
  base: Base
  seal: {name: Seal, renew: always}
  glass: {name: Glass, instead: [{when: glass == dark, name: Dark glass}]}
  cap: Cap
  sleeve: {name: Sleeve, aid: true}
joints: {rim: {name: Rim screws, count: 3, torque: 2 N·m}}
checks: {gap: {measure: Gap at the rim, limit: at most 0.2 mm}}
steps:
  base-down: {do: Stand it., fits: base}
  sleeve-on: {do: Push it on., fits: sleeve, onto: base}
  glass-on: {do: Set it on., fits: [seal, glass], onto: sleeve, ways_in: {top: [cap]}}
  sleeve-off: {do: Pull it off., takes_off: sleeve}
  gap-read: {do: Read it., after: sleeve-off, check: gap}
  cap-on:
    do: Screw it on.
    fits: cap
    after: gap-read
    tighten: rim
    undo: {do: Back the screws out., spoils: glass, time: 8 min}
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "lamp.yaml").write_text(UNIT, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, ["strip", *arguments])
    assert result.exit_code == exit_code, result.output
    return result


def test_the_packet_goes_into_out_under_the_name_of_the_model(folder: Path) -> None:
    assert run("lamp.yaml").stdout == "out/lamp-C-strip.pdf\n"
    assert len(PdfReader(folder / "out" / "lamp-C-strip.pdf").pages) >= 3
    told = run("lamp.yaml", "--set", "glass=dark", "--into", "here", "--paper", "letter").stdout
    assert told == "here/lamp-C-dark-strip.pdf\n"
    page = PdfReader(folder / "here" / "lamp-C-dark-strip.pdf").pages[0]
    assert float(page.mediabox.width) == pytest.approx(612, abs=1)


def test_json_tells_the_steps_in_order_with_what_comes_off() -> None:
    told = json.loads(run("lamp.yaml", "--json").stdout)
    assert told["ok"] is True
    assert told["order"] == ["cap-on", "sleeve-off", "glass-on", "sleeve-on", "base-down"]
    assert list(told["steps"]) == told["order"]
    assert told["steps"]["cap-on"] == {
        "takes_off": {"cap": 1},
        "puts_on": {},
        "loosens": ["rim"],
        "way_in": None,
        "do": "Back the screws out.",
        "spoils": ["glass"],
        "renews": [],
        "reads": [],
        "minutes": 8.0,
        "guessed": False,
    }
    assert told["steps"]["sleeve-off"]["puts_on"] == {"sleeve": 1}
    assert told["steps"]["sleeve-off"]["reads"] == ["gap"]
    assert told["steps"]["glass-on"]["way_in"] == "top"
    assert (told["spoiled"], told["buy"]) == (["glass", "seal"], {"seal": 1, "glass": 1})
    assert (told["stays"], told["no_return"]) == ([], [])
    assert told["options"] == {"glass": "clear"}


def test_without_an_order_nothing_is_printed(folder: Path) -> None:
    circle = UNIT.replace(
        "{do: Stand it., fits: base}", "{do: Stand it., fits: base, after: cap-on}"
    )
    (folder / "lamp.yaml").write_text(circle, encoding="utf-8")
    result = run("lamp.yaml", exit_code=1)
    assert result.stdout == "nothing printed: no order works\n"
    assert "error[" in result.stderr
    assert json.loads(run("lamp.yaml", "--json", exit_code=1).stdout)["order"] is None
    assert not (folder / "out").exists()


def test_an_error_stops_it_unless_a_draft_is_asked_for(folder: Path) -> None:
    extra = UNIT.replace("  cap: Cap\n", "  cap: Cap\n  left-over: Left over\n")
    (folder / "lamp.yaml").write_text(extra, encoding="utf-8")
    stopped = run("lamp.yaml", exit_code=1).stdout
    assert stopped == "nothing printed: there are errors (--draft prints all the same, marked so)\n"
    run("lamp.yaml", "--draft", "--sheets", "front,strip")
    pages = PdfReader(folder / "out" / "lamp-C-strip.pdf").pages
    assert all("DRAFT" in page.extract_text() for page in pages)


def test_a_sheet_that_is_none_is_told() -> None:
    told = run("lamp.yaml", "--sheets", "cover", exit_code=2).stderr
    assert "cover is no sheet: choose from front, isolation, strip, labels, condition, buy" in told


def test_an_unreadable_file_is_exit_code_2(folder: Path) -> None:
    (folder / "lamp.yaml").write_text("assembly: lamp\nsteps: {a: {doo: x}}\n", encoding="utf-8")
    run("lamp.yaml", exit_code=2)
