"""The pictures in the README, made anew from the demo: `python -m tests.pictures`.

Each PNG holds a digest of what its sheet says and of the styles it is set with, so that a test can
tell without drawing it whether it still shows that.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any
from unittest.mock import patch

import click
from click.testing import CliRunner

from sequencer.commands import main

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ROOT = Path(__file__).resolve().parent.parent.parent
FOLDER = Path(__file__).resolve().parent
AGAIN = "python -m tests.pictures"
MODEL = "assemblies/hoist-head.yaml"
LOG = "hoist.log.jsonl"
JOB = (
    ("log", "start", MODEL, "--log", LOG, "--unit", "0018"),
    ("log", "done", "1-2,4-12", "--by", "Ada", "--sheet", "none"),
    ("log", "reading", "worm-float=0.04"),
    ("log", "done", "13-18", "--anyway"),
    ("revise", "--log", LOG, "--into", "out"),
)
"""The mistake that the README tells of, as it is typed there."""
_DOTS = 78  # per inch
_KEY = b"sheet"
_FINGERPRINT = re.compile(r"[0-9a-f]{4}·[0-9a-f]{4}")


@dataclass(frozen=True, slots=True)
class Picture:
    """A page that the README shows: the calls that print it, and words that stand on no other.

    Of several pages with all the words it is the first.
    """

    name: str
    calls: tuple[tuple[str, ...], ...]
    words: tuple[str, ...] = ()

    @property
    def file(self) -> Path:
        """Where it is kept."""
        return FOLDER / f"{self.name}.png"


def _sheet(name: str, sheet: str, *words: str) -> Picture:
    return Picture(name, (("packet", MODEL, "--sheets", sheet, "--into", "out"),), words)


PICTURES = (
    _sheet("cover", "cover"),
    _sheet("step-page", "steps", "STOP", "wrench no."),
    _sheet("torque-record", "torque-record"),
    Picture("change-sheet", JOB),
)


def html_of(picture: Picture) -> str:
    """Return the document that a picture is a page of, without laying it out."""
    found: list[str] = []

    def keep(html: str, **_: object) -> bytes:
        found.append(html)
        return b"%PDF"

    _print(picture, keep)
    return found[-1]


def pdf_of(picture: Picture) -> tuple[str, bytes]:
    """Return the document that a picture is a page of, and its pages."""
    from sequencer.sheets.pdf import write_pdf

    found: list[tuple[str, bytes]] = []

    def keep(html: str, **options: Any) -> bytes:
        found.append((html, write_pdf(html, **options)))
        return found[-1][1]

    _print(picture, keep)
    return found[-1]


def _print(picture: Picture, write: Callable[..., bytes]) -> None:
    """Make the calls of a picture in a folder of their own, with another writer of pages."""
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        Path("assemblies").symlink_to(ROOT / "assemblies")
        with patch("sequencer.sheets.pdf.write_pdf", write):
            for line in picture.calls:
                result = CliRunner().invoke(main, line)
                if result.exit_code:
                    raise click.ClickException(result.output)


def digest_of(html: str) -> str:
    """Return what stands for a document, but for fingerprints: these change with the file format.

    The styles stand in the document, so that it tells the look as well as the words.
    """
    return hashlib.sha256(_FINGERPRINT.sub("", html).encode()).hexdigest()[:16]


def page_with(pdf: bytes, words: tuple[str, ...]) -> int:
    """Return the number of the first page on which all of these words stand, from 1."""
    from pypdf import PdfReader

    for number, page in enumerate(PdfReader(io.BytesIO(pdf)).pages, start=1):
        text = page.extract_text()
        if all(word in text for word in words):
            return number
    raise click.ClickException(f"no page says {' and '.join(words)}")


def png_of(grey: bytes, told: str = "") -> bytes:
    """Return a binary PGM picture as a PNG of 16 greys, with a frame round it.

    Parameters
    ----------
    grey : bytes
        A picture of 256 greys, as `pdftoppm -gray` writes it, without comments.
    told : str
        What the picture says of itself where nobody looks, for `told_in`.
    """
    _, size, _, dots = grey.split(b"\n", 3)
    width, height = map(int, size.split())
    rows = []
    for top in range(height):
        row = bytearray(dots[top * width : (top + 1) * width])
        row[0] = row[-1] = 0
        if top in (0, height - 1):
            row = bytearray(width)
        row += bytes(width % 2)
        rows.append(bytes(row[at] & 0xF0 | row[at + 1] >> 4 for at in range(0, len(row), 2)))
    head = struct.pack(">IIBBBBB", width, height, 4, 0, 0, 0, 0)
    packed = zlib.compress(b"".join(b"\x00" + row for row in rows), 9)
    text = ((b"tEXt", _KEY + b"\x00" + told.encode("ascii")),) if told else ()
    pieces = ((b"IHDR", head), *text, (b"IDAT", packed), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in pieces)


def told_in(png: bytes) -> str:
    """Return what a picture says of itself; nothing if it does not."""
    for kind, data in _chunks(png):
        if kind == b"tEXt" and data.startswith(_KEY + b"\x00"):
            return data[len(_KEY) + 1 :].decode("ascii")
    return ""


def _chunk(kind: bytes, data: bytes) -> bytes:
    check = zlib.crc32(kind + data)
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)


def _chunks(png: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        yield png[at + 4 : at + 8], png[at + 8 : at + 8 + length]
        at += length + 12


def _drawn(drawer: str, pdf: bytes, page: int) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        sheet = Path(folder) / "sheet.pdf"
        sheet.write_bytes(pdf)
        one = ["-f", str(page), "-l", str(page)]
        asked = [drawer, "-r", str(_DOTS), "-gray", *one, str(sheet)]
        done = subprocess.run(asked, check=True, stdout=subprocess.PIPE)  # noqa: S603  # our own page
    return done.stdout


@click.command()
@click.argument("names", nargs=-1, type=click.Choice([one.name for one in PICTURES]))
def draw(names: tuple[str, ...]) -> None:
    """Draw the pages that the README shows: all of them, or those that are named."""
    drawer = shutil.which("pdftoppm")
    if drawer is None:
        sys.exit("pdftoppm is missing, which draws the pages (Debian: poppler-utils)")
    for picture in PICTURES:
        if names and picture.name not in names:
            continue
        html, pdf = pdf_of(picture)
        grey = _drawn(drawer, pdf, page_with(pdf, picture.words))
        picture.file.write_bytes(png_of(grey, digest_of(html)))
        size = picture.file.stat().st_size / 1000
        click.echo(f"{picture.file.relative_to(ROOT)}: {size:.0f} kB")


if __name__ == "__main__":
    draw()
