"""What the tests of the page do again and again: begin the job, show it a log, keep a log of it."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

from click.testing import CliRunner, Result

from sequencer.commands import main
from sequencer.records.entries import Entry
from sequencer.records.logfile import read_log
from tests.tablet.browsing import Screen

CAPSTAN = Path(__file__).with_name("capstan.yaml")


class Log:
    """The log of a unit in a folder."""

    def __init__(self, folder: Path, unit: str = "") -> None:
        self.file = folder / "capstan.log.jsonl"
        self.run("start", str(CAPSTAN), "--unit", unit)

    def run(self, *words: str, exit_code: int = 0) -> Result:
        called = ["log", *words, "--log", str(self.file)]
        result = CliRunner().invoke(main, called, input="")
        assert result.exit_code == exit_code, result.output
        return result

    @property
    def entries(self) -> tuple[Entry, ...]:
        return read_log(self.file).entries

    @property
    def done(self) -> list[str]:
        told: list[str] = json.loads(self.run("status", "--json").stdout)["done"]
        return told


def begin(screen: Screen) -> None:
    """Sign for the isolation, and do the first step, with its gauges."""
    screen.isolate()
    screen.tap('#step-1 [data-place="go"] [data-value="yes"]')
    screen.tap('#step-1 [data-place="no_go"] [data-value="no"]')
    screen.tick(1)


def model_of(screen: Screen) -> str:
    return str(screen.run("return Page.bench.data.fingerprint"))


def told_by_a_tablet(screen: Screen, steps: dict[str, datetime]) -> str:
    """Return an export that says when steps were ticked."""
    head = {"tablet": 1, "fingerprint": model_of(screen), "unit": ""}
    lines = [
        {"id": f"of {step}", "at": at.isoformat(timespec="seconds"), "kind": "done", "by": "AB"}
        | {"steps": [step], "sheet": model_of(screen)}
        for step, at in steps.items()
    ]
    return "\n".join(json.dumps(line) for line in [head, *lines])


def show(screen: Screen, text: str) -> None:
    screen.run("document.getElementById('log-text').value = arguments[0]", text)
    screen.tap("#import")
