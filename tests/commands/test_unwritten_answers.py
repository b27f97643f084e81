"""An answer that cannot be written, on a full disk or to nobody, is no fault of the program."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from sequencer.records.logfile import read_log

ROOT = Path(__file__).resolve().parent.parent.parent
FULL = Path("/dev/full")
HUB = str(ROOT / "assemblies" / "front-hub.yaml")
COMMAND = [sys.executable, "-c", "from sequencer.commands import main; main()"]
NO_SPACE = (
    "sequencer: the answer cannot be written: no space left on device. "
    "What was recorded or written into files is kept.\n"
)
on_a_full_disk = pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")


def _on_a_full_disk(*arguments: str, folder: Path = ROOT) -> tuple[int, str]:
    """Return the exit code of a command, and what it says on standard error."""
    with FULL.open("wb") as full:
        done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
            [*COMMAND, *arguments],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    return done.returncode, done.stderr


@on_a_full_disk
@pytest.mark.parametrize(
    "arguments",
    [("plan", HUB), ("plan", HUB, "--json"), ("check", "no-such-file.yaml", "--json"), ("--help",)],
)
def test_full_disk_is_told_plainly(arguments: tuple[str, ...]) -> None:
    assert _on_a_full_disk(*arguments) == (1, NO_SPACE)


@on_a_full_disk
def test_what_was_recorded_is_kept_where_ok_cannot_be_said(tmp_path: Path) -> None:
    (tmp_path / "unit.yaml").write_text("assembly: unit\nsteps: {a: Wipe it.}\n", encoding="utf-8")
    assert _on_a_full_disk("log", "start", "unit.yaml", folder=tmp_path) == (1, NO_SPACE)
    assert [entry.number for entry in read_log(tmp_path / "unit.log.jsonl").entries] == [1]


def test_nobody_reading_on_ends_the_command_without_a_word() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [*COMMAND, "plan", HUB],
        cwd=ROOT,
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
        check=False,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (1, "")
