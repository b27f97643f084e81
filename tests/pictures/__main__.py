"""The picture in the README, made anew from the demo: `python -m tests.pictures`."""

from __future__ import annotations

import contextlib
import shutil
import struct
import subprocess
import sys
import tempfile
import zlib
from pathlib import Path

import click
from click.testing import CliRunner

from sequencer.commands import main

ROOT = Path(__file__).resolve().parent.parent.parent
PICTURE = Path(__file__).with_name("change-sheet.png")
LOG = "hoist.log.jsonl"
JOB = (
    ["log", "start", "assemblies/hoist-head.yaml", "--log", LOG, "--unit", "0018"],
    ["log", "done", "1-2,4-12", "--by", "Ada", "--sheet", "none"],
    ["log", "reading", "worm-float=0.04"],
    ["log", "done", "13-18", "--anyway"],
    ["revise", "--log", LOG, "--into", "out"],
)
"""The mistake that the README tells of, as it is typed there."""
_DOTS = 78  # per inch


def change_sheet(folder: Path) -> Path:
    """Go through the job of the README in a folder, and return the change sheet."""
    (folder / "assemblies").symlink_to(ROOT / "assemblies")
    with contextlib.chdir(folder):
        for line in JOB:
            result = CliRunner().invoke(main, line)
            if result.exit_code:
                raise click.ClickException(result.output)
    return folder / "out" / "hoist-change.pdf"


def png_of(grey: bytes) -> bytes:
    """Return a binary PGM picture as a PNG of 16 greys, with a frame round it.

    Parameters
    ----------
    grey : bytes
        A picture of 256 greys, as `pdftoppm -gray` writes it, without comments.
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
    pieces = ((b"IHDR", head), (b"IDAT", packed), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in pieces)


def _chunk(kind: bytes, data: bytes) -> bytes:
    check = zlib.crc32(kind + data)
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)


@click.command()
def draw() -> None:
    """Draw the first page of the change sheet that the README shows."""
    drawer = shutil.which("pdftoppm")
    if drawer is None:
        sys.exit("pdftoppm is missing, which draws the pages (Debian: poppler-utils)")
    with tempfile.TemporaryDirectory() as folder:
        sheet = change_sheet(Path(folder))
        asked = [drawer, "-r", str(_DOTS), "-gray", "-f", "1", "-l", "1", str(sheet)]
        drawn = subprocess.run(asked, check=True, stdout=subprocess.PIPE)  # noqa: S603  # our own page
    PICTURE.write_bytes(png_of(drawn.stdout))
    click.echo(f"{PICTURE.relative_to(ROOT)}: {PICTURE.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    draw()
