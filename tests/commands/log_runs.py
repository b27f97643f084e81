"""How the tests of the log call it: in a folder of its own, at a time of its own."""

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
from sequencer.records.entries import Entry
from sequencer.records.logfile import read_log

ZONE = timezone(timedelta(hours=2))

# A pinion unit: a gate by measurement, a hold point, a joint in passes, an aid, states, two units
# of work that do not wait for each other.
PINION = """\
assembly: pinion
title: Pinion unit of a winch, rebuild
issue: B
notice: Invented for demonstration. Not for use on real equipment.
parts:
  housing: {name: Housing}
  race: {name: Bearing race, once: true}
  sleeve: {name: Crush sleeve, number: 44-01, once: true}
  guard: {name: Seal guard, aid: true}
  seal: {name: Pinion seal, renew: always}
  nut: {name: Pinion nut, renew: always}
  cover: {name: Cover}
joints:
  cover-screws:
    name: Cover screws
    thread: M8
    count: 10
    torque: 20 to 24 N·m
checks:
  depth:
    measure: Seat depth of the race
    limit: at least 12.00 mm
    else: {again_from: race-in, change: the drift, most: 3}
  drag:
    measure: Turning torque of the pinion
    limit: 1.7 to 3.4 N·m
    else: renew sleeve
  marks:
    look: Marks on the teeth
    good: in the middle
    bad: at an edge
    else: {accept_by: engineer}
states:
  chocked: {begins: chock-on, ends: chock-off, keep: position, why: The housing rolls}
steps:
  chock-on: {do: Chock the housing on the bench., fits: housing, position: level}
  race-in: {do: Drive the race home., fits: race, after: chock-on}
  measure: {do: Measure how deep the race sits., after: race-in, check: depth}
  sleeve-on: {do: Slide the sleeve on., fits: sleeve, after: measure}
  guard-on: {do: Push the guard over the splines., fits: guard, after: sleeve-on}
  seal-on: {do: Press the seal in over the guard., fits: seal, onto: guard}
  guard-off: {do: Pull the guard off., takes_off: guard, after: seal-on}
  nut-on:
    do: Tighten the nut until the pinion drags as it should.
    fits: nut
    after: guard-off
    check: drag
    hold: inspector
    leave: Hang a tag on the pinion flange.
  cover-on: {do: Set the cover on., fits: cover, after: nut-on, leaves: loose}
  cover-tight:
    do: Tighten the cover screws crosswise in three passes.
    secures: cover-on
    tighten: cover-screws
    leave: Lay a sheet over the open cover.
  look: {do: Look at the marks., after: cover-tight, check: marks}
  chock-off: {do: Take the chock away., after: look}
together:
  - [guard-on, seal-on, guard-off]
"""
SHEET = "--sheet none"


@dataclass
class Bench:
    """A folder with one model, and the log that is kept beside it."""

    folder: Path
    clock: list[datetime] = field(default_factory=lambda: [datetime(2031, 5, 2, 6, 0, tzinfo=ZONE)])

    @property
    def log(self) -> Path:
        return self.folder / "pinion.log.jsonl"

    @property
    def fingerprint(self) -> str:
        """What changes with every field that the model file learns."""
        return getattr(self.entries[0].what, "fingerprint", "")

    @property
    def entries(self) -> tuple[Entry, ...]:
        return read_log(self.log).entries

    def run(self, line: str, exit_code: int = 0, typed: str = "") -> Result:
        """Call `sequencer log` as typed in a shell, with what is typed in afterwards."""
        result = CliRunner().invoke(main, ["log", *shlex.split(line)], input=typed)
        assert result.exit_code == exit_code, result.output
        return result

    def json(self, line: str, exit_code: int = 0) -> dict[str, Any]:
        result = self.run(f"{line} --json", exit_code)
        assert result.stderr == ""
        loaded: dict[str, Any] = json.loads(result.stdout)
        return loaded

    def told(self, *lines: str) -> str:
        """Return all that several calls say, each under its line, for a text kept whole."""
        told = []
        for line in lines:
            result = CliRunner().invoke(main, ["log", *shlex.split(line)], input="")
            told.append(f"$ sequencer log {line}\n{result.stderr}{result.stdout}")
            told[-1] += f"(exit code {result.exit_code})\n" if result.exit_code else ""
        return "\n".join(told).replace(self.fingerprint, "7f3a·c91e")


def bench_in(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    """Return a bench whose clock goes on by a minute whenever it is looked at."""
    bench = Bench(folder)

    def now() -> datetime:
        bench.clock[0] += timedelta(minutes=1)
        return bench.clock[0]

    monkeypatch.setattr(log_times, "now", now)
    (folder / "pinion.yaml").write_text(PINION, encoding="utf-8")
    monkeypatch.chdir(folder)
    return bench
