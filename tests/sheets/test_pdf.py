"""The renderer: what it may fetch, what it says meanwhile, and what happens without it."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from sequencer.sheets.packet import packet_html
from sequencer.sheets.pdf import write_pdf
from tests.sheets.pages import Printed
from tests.sheets.sample import winch, winch_plan

ROOT = Path(__file__).resolve().parent.parent.parent

PRINT_IT = """
import hashlib
from sequencer.sheets.packet import packet_html
from sequencer.sheets.pdf import write_pdf
from tests.sheets.sample import FINGERPRINT, winch, winch_plan
html = packet_html(winch(), winch_plan(), fingerprint=FINGERPRINT)
print(hashlib.sha256(write_pdf(html)).hexdigest())
"""

PRINT_WITHOUT_PANGO = """
import cffi

def dlopen(self, name, flags=0):
    raise OSError(f"cannot load library '{name}'")

cffi.FFI.dlopen = dlopen
from sequencer.sheets.pdf import RendererMissing, write_pdf
try:
    write_pdf("<p>x</p>")
except RendererMissing as error:
    print(error)
    print(error.fix)
"""


def run(code: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-W", "error", "-c", code],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_machine_without_fonts_prints_the_same_bytes(printed: Printed, tmp_path: Path) -> None:
    empty = tmp_path / "fonts.conf"
    empty.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
        f"<cachedir>{tmp_path}/cache</cachedir></fontconfig>",
        encoding="utf-8",
    )
    done = run(
        PRINT_IT, FONTCONFIG_FILE=str(empty), SOURCE_DATE_EPOCH="1000000000", TZ="Asia/Tokyo"
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == hashlib.sha256(printed.pdf).hexdigest()


def test_without_pango_the_package_to_install_is_named() -> None:
    done = run(PRINT_WITHOUT_PANGO)
    assert done.returncode == 0, done.stderr
    first, *fixes = done.stdout.splitlines()
    assert first.startswith("Pango, the library that pages are laid out with, cannot be loaded")
    for system, package in (
        ("Debian", "libpango-1.0-0 libpangoft2-1.0-0"),
        ("Fedora", "pango"),
        ("Arch", "pango"),
        ("Alpine", "pango"),
        ("macOS", "brew install pango"),
        ("Windows", "mingw-w64-x86_64-pango"),
    ):
        assert any(fix.startswith(system) and package in fix for fix in fixes)


def test_progress_is_told_page_by_page(winch_html: str) -> None:
    told: list[str] = []
    write_pdf(winch_html, tell=told.append)
    assert told[0] == "laying out page 1"
    assert "laying out page 12" in told
    assert told[-1] == "writing the PDF"


def own_cover(folder: Path, html: str) -> str:
    (folder / "cover").mkdir(parents=True)
    (folder / "cover" / "sheet.html").write_text(html, encoding="utf-8")
    return packet_html(winch(), winch_plan(), fingerprint="f", sheets=("cover",), layouts=folder)


SQUARE = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M1 1h7v7z"/></svg>'


def test_layout_may_use_files_of_its_own_folder(tmp_path: Path) -> None:
    html = own_cover(tmp_path, '<img alt="mark" src="mark.svg">')
    (tmp_path / "mark.svg").write_text(SQUARE, encoding="utf-8")
    assert Printed.of(html, layouts=tmp_path).logged == ()


@pytest.mark.parametrize(
    "address",
    [
        "../secret.svg",
        "cover/../../secret.svg",
        "link.svg",
        "file:///etc/hostname",
        "http://127.0.0.1:9/x.svg",
        "ftp://127.0.0.1:9/x.svg",
        "packet-font:../secret.svg",
    ],
)
def test_nothing_else_is_fetched(tmp_path: Path, address: str) -> None:
    folder = tmp_path / "layouts"
    html = own_cover(folder, f'<img alt="the picture" src="{address}">')
    (tmp_path / "secret.svg").write_text(SQUARE, encoding="utf-8")
    (folder / "link.svg").symlink_to(tmp_path / "secret.svg")
    (line,) = Printed.of(html, layouts=folder).logged
    assert "not a file of the layouts" in line


def test_file_cannot_be_attached(tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_text("a secret", encoding="utf-8")
    link = f'<link rel=attachment href="{(tmp_path / "secret.txt").as_uri()}">'
    html = own_cover(tmp_path / "layouts", link)
    printed = Printed.of(html, layouts=tmp_path / "layouts")
    assert dict(printed.reader.attachments) == {}
