"""Pictures by the commands: looked for beside the file that names them, and told if missing."""

from __future__ import annotations

import io
import json
from typing import TYPE_CHECKING

import pypdf
import pytest
from PIL import Image

from tests.commands.running import run
from tests.sheets.pages import letters_of, look_at

if TYPE_CHECKING:
    from pathlib import Path

MODEL = """\
assembly: pump
steps:
  fit: {do: Fit the worm., picture: photos/worm.png}
"""
TOP = """\
assembly: top
uses:
  pump: {file: units/pump.yaml}
steps:
  pump-on: {do: Fit the pump., fits: pump}
"""


@pytest.fixture
def model(tmp_path: Path) -> Path:
    (tmp_path / "pump.yaml").write_text(MODEL, encoding="utf-8")
    return tmp_path / "pump.yaml"


def drawn(file: Path) -> None:
    file.parent.mkdir(exist_ok=True)
    Image.new("RGB", (60, 40), "white").save(file)


def pages(file: Path) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(file.read_bytes())).pages)


def test_missing_picture_stops_the_printing(model: Path) -> None:
    into = model.parent / "out"
    message = "error[no-picture]: the picture `photos/worm.png` of step `fit` is not there"
    checked = run("check", str(model), exit_code=1)
    assert f"pump.yaml:3:37: {message}" in checked.stderr
    printed = run("packet", str(model), "--into", str(into), exit_code=1)
    assert f"pump.yaml:3:37: {message}" in printed.stderr
    assert not into.exists()


@pytest.mark.parametrize("code", ["no-picture", "not-a-picture"])
def test_draft_is_printed_with_a_frame_for_it_and_the_call_fails(model: Path, code: str) -> None:
    into = model.parent / "out"
    if code == "not-a-picture":
        (model.parent / "photos").mkdir()
        (model.parent / "photos" / "worm.png").write_text("a worm", encoding="utf-8")
    result = run("packet", str(model), "--draft", "--json", "--into", str(into), exit_code=1)
    told = json.loads(result.stdout)
    assert told["ok"]
    assert told["draft"]
    assert [finding["code"] for finding in told["findings"]] == [code]
    (page,) = [page for page in pages(into / "pump-A.pdf") if "MISSING" in page.extract_text()]
    found, boxes = look_at(page)
    (words,) = [run for run in found if "PICTURE MISSING: photos/worm.png" in run.text]
    last = max(letter.right for letter in letters_of(page) if letter.y == pytest.approx(words.y))
    near = 20  # points between the words and their frame, at the most
    assert any(
        words.x - near < box.x < words.x < last < box.x + box.width < last + near
        and words.y - near < box.y < words.y < box.y + box.height
        for box in boxes
    )


def test_picture_is_printed_and_shown_on_a_tablet(model: Path) -> None:
    into = model.parent / "out"
    drawn(model.parent / "photos" / "worm.png")
    run("check", str(model))
    run("packet", str(model), "--into", str(into))
    assert any(page.images for page in pages(into / "pump-A.pdf"))
    run("packet", str(model), "--html", "--into", str(into))
    page = (into / "pump-A.html").read_text(encoding="utf-8")
    assert 'alt="Picture to step 1: Fit the worm."' in page
    assert '<img class="photo" src="data:image/png;base64,' in page
    assert "packet-photo:" not in page


def test_used_model_has_its_pictures_beside_it(tmp_path: Path) -> None:
    (tmp_path / "units").mkdir()
    (tmp_path / "units" / "pump.yaml").write_text(MODEL, encoding="utf-8")
    top = tmp_path / "top.yaml"
    top.write_text(TOP, encoding="utf-8")
    drawn(tmp_path / "photos" / "worm.png")
    result = run("check", str(top), exit_code=1)
    assert "units/pump.yaml:3:37: error[no-picture]" in result.stderr
    drawn(tmp_path / "units" / "photos" / "worm.png")
    run("check", str(top))
    for each in ((), ("--each",)):
        run("packet", str(top), *each, "--sheets", "steps", "--into", str(tmp_path / "out"))
    for name in ("top-A", "top-A-pump"):
        assert any(page.images for page in pages(tmp_path / "out" / f"{name}.pdf"))


def test_packet_for_taking_apart_shows_the_pictures_of_its_checks(tmp_path: Path) -> None:
    model = tmp_path / "pump.yaml"
    model.write_text(
        """\
assembly: pump
parts:
  worm: {name: Worm, inspect: pits}
checks:
  pits: {look: at the flanks, good: smooth, bad: pitted, picture: pits.png, else: renew worm}
steps:
  fit: {do: Fit the worm., fits: worm}
""",
        encoding="utf-8",
    )
    assert "no-picture" in run("strip", str(model), exit_code=1).stderr
    drawn(tmp_path / "pits.png")
    run("strip", str(model), "--into", str(tmp_path))
    assert any(page.images for page in pages(tmp_path / "pump-A-strip.pdf"))


def test_change_sheet_shows_a_picture_that_is_there_and_else_names_it(model: Path) -> None:
    into = ("--into", str(model.parent / "out"))
    asked = ("revise", str(model), "--done", "fit", "--redo", "fit", *into)
    run(*asked)
    (sheet,) = (model.parent / "out").glob("*.pdf")
    found = pages(sheet)
    assert not any(page.images for page in found)
    assert "Picture, in the packet: photos/worm.png" in "".join(
        page.extract_text() for page in found
    )
    drawn(model.parent / "photos" / "worm.png")
    run(*asked)
    found = pages(sheet)
    assert sum(len(page.images) for page in found) == 1
    assert "Picture, in the packet" not in "".join(page.extract_text() for page in found)
