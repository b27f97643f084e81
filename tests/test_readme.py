"""The README tells the truth: its models read, its commands print what it shows."""

from __future__ import annotations

import re
import shlex
import zlib
from pathlib import Path

import pytest
from click.testing import CliRunner

from sequencer.commands import main
from sequencer.reading import read_text
from tests.pictures.__main__ import (
    AGAIN,
    JOB,
    PICTURES,
    Picture,
    digest_of,
    html_of,
    png_of,
    told_in,
)

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
CUT = "[…]"


def _blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("block", _blocks("console"), ids=lambda block: block.splitlines()[0])
def test_commands_print_what_the_readme_shows(
    block: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "assemblies").symlink_to(ROOT / "assemblies")
    for command in block.split("$ sequencer ")[1:]:  # one after the other, in one folder
        typed, _, shown = command.partition("\n")
        printed = CliRunner().invoke(main, shlex.split(typed)).output
        at = 0
        for piece in shown.strip("\n").split(CUT):
            found = printed.find(piece.strip("\n"), at)
            assert found >= 0, f"not printed:\n{piece}\nbut:\n{printed[at:]}"
            at = found + len(piece.strip("\n"))


def test_program_in_the_readme_runs(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "assemblies").symlink_to(ROOT / "assemblies")
    (program,) = _blocks("python")
    exec(program, {})  # noqa: S102  # a person would run it too
    assert re.search(
        r"^\(('[\w-]+', )*'[\w-]+',?\) \(.*\) \d+\.\d+$", capsys.readouterr().out, re.MULTILINE
    )
    assert (tmp_path / "checklist.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("block", _blocks("yaml"), ids=lambda block: block.splitlines()[0])
def test_a_model_in_the_readme_is_one_that_ships(block: str) -> None:
    shipped = [file.read_text(encoding="utf-8") for file in (ROOT / "assemblies").glob("*.yaml")]
    entries = re.sub(r"^(?:joints|options|parts|steps|uses):\n", "", block)
    assert any(entries in text for text in shipped)
    if block.startswith("assembly:"):
        assert not read_text(block, "README.md").problems


def test_there_are_two_commands_that_set_up_and_go() -> None:
    assert len(_blocks("sh")) == 2
    assert "sequencer packet assemblies/hoist-head.yaml" in _blocks("sh")[0]
    assert "pytest" in _blocks("sh")[1]


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
def test_a_picture_is_there_small_and_grey(picture: Picture) -> None:
    shown = re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)
    assert str(picture.file.relative_to(ROOT)) in shown
    data = picture.file.read_bytes()
    assert data.startswith(b"\x89PNG")
    assert len(data) < 150_000
    assert (data[24], data[25]) == (4, 0), "16 greys, no colour"


def test_every_picture_in_the_readme_is_drawn_by_the_command() -> None:
    shown = re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)
    assert sorted(shown) == sorted(str(one.file.relative_to(ROOT)) for one in PICTURES)


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
def test_a_picture_shows_the_sheet_as_it_is_printed_now(picture: Picture) -> None:
    stale = f"{picture.file.name} shows an older sheet: draw it anew with `{AGAIN}`, and look at it"
    assert told_in(picture.file.read_bytes()) == digest_of(html_of(picture)), stale


def test_the_picture_of_a_mistake_is_of_the_job_that_the_readme_tells_of() -> None:
    for line in JOB:
        assert f"$ sequencer {shlex.join(line)}\n" in README


def test_a_digest_tells_words_and_styles_but_no_fingerprint() -> None:
    page = "<style>p { margin: 1mm }</style><p>model 7f3a·c91e</p>"
    assert digest_of(page) == digest_of(page.replace("7f3a·c91e", "0000·1111"))
    assert digest_of(page) != digest_of(page.replace("1mm", "2mm"))
    assert digest_of(page) != digest_of(page.replace("model", "Model"))


def test_a_picture_says_what_it_shows() -> None:
    page = b"P5\n1 1\n255\n\xff"
    assert told_in(png_of(page, "0123")) == "0123"
    assert told_in(png_of(page)) == ""


def test_picture_is_a_png_of_the_greys_drawn() -> None:
    page = bytes([255] * 3 + [255, 0x42, 255] + [255] * 3)
    data = png_of(b"P5\n3 3\n255\n" + page)
    size, packed = data[16:24], data[data.index(b"IDAT") + 4 :]
    assert size == bytes([0, 0, 0, 3, 0, 0, 0, 3])
    assert zlib.decompressobj().decompress(packed) == bytes(
        [0, 0x00, 0x00, 0, 0x04, 0x00, 0, 0x00, 0x00]
    )
