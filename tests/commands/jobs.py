"""How the tests of a whole job go about it: a model, a log written at the bench, then `revise`."""

from __future__ import annotations

import json
import shlex
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from sequencer.commands import log_times, main

MODELS = Path(__file__).resolve().parent.parent / "models"
ZONE = timezone(timedelta(hours=2))

_OBJECTIONS = ("error", "warning")


@dataclass
class Job:
    """A folder with one model and its log; the clock goes on by a minute with every look at it."""

    folder: Path
    clock: list[datetime] = field(default_factory=lambda: [datetime(2031, 5, 2, 6, 0, tzinfo=ZONE)])

    def at(self, text: str) -> None:
        """Set the clock."""
        self.clock[0] = datetime.fromisoformat(text).replace(tzinfo=ZONE)

    def run(self, line: str, exit_code: int = 0) -> Result:
        """Call `sequencer` as typed in a shell."""
        result = CliRunner().invoke(main, shlex.split(line), input="")
        assert result.exit_code == exit_code, result.output
        return result

    def log(self, *lines: str) -> str:
        """Record what goes without objection, and return what was said last."""
        said = ""
        for line in lines:
            result = self.run(f"log {line}")
            assert "warning[" not in result.stderr, result.stderr
            said = result.stdout
        return said.partition(": ")[2].partition(": ")[2].strip()

    def refused(self, line: str) -> list[str]:
        """Return the objections to an entry that is not recorded."""
        found = json.loads(self.run(f"log {line} --json", exit_code=1).stdout)
        assert found["entry"] is None
        return [one["message"] for one in found["findings"] if one["severity"] in _OBJECTIONS]

    def insist(self, line: str) -> list[str]:
        """Record an entry all the same, and return what there was against it."""
        found = json.loads(self.run(f"log {line} --anyway --json").stdout)
        return [one["message"] for one in found["findings"] if one["severity"] in _OBJECTIONS]

    def json(self, line: str) -> dict[str, Any]:
        """Call `sequencer` with a line, and return what it tells as plain values."""
        loaded: dict[str, Any] = json.loads(self.run(f"{line} --json").stdout)
        return loaded

    def status(self) -> dict[str, Any]:
        return self.json("log status")

    def revise(self, line: str = "", exit_code: int = 0) -> dict[str, Any]:
        """Ask for the mend by the log, which has to be proved the least."""
        loaded: dict[str, Any] = json.loads(self.run(f"revise {line} --json", exit_code).stdout)
        assert loaded["proved"]
        return loaded

    def change(self, old: str, new: str) -> None:
        """Change the model that lies beside the log."""
        file = self.folder / "unit.yaml"
        text = file.read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        file.write_text(text.replace(old, new), encoding="utf-8")


def job_of(
    text: str, folder: Path, monkeypatch: pytest.MonkeyPatch, *changes: tuple[str, str]
) -> Job:
    """Return a job begun by a model, with pieces of its text changed; each piece is there once."""
    job = Job(folder)

    def now() -> datetime:
        job.clock[0] += timedelta(minutes=1)
        return job.clock[0]

    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (folder / "unit.yaml").write_text(text, encoding="utf-8")
    monkeypatch.setattr(log_times, "now", now)
    monkeypatch.chdir(folder)
    job.log("start unit.yaml")
    job.log("note Begun. --sheet none")
    return job
