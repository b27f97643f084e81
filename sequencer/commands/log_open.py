"""Find a log and read it: the copy of its model, the state that it tells, how the job goes on."""

from __future__ import annotations

import json
import sys
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from sequencer import report
from sequencer.commands import log_times
from sequencer.commands.common import OK, UNREADABLE
from sequencer.problem import Problem, located
from sequencer.records.faults import torn
from sequencer.records.logfile import LogError, read_log
from sequencer.records.replay import model_of, state_of

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime

    from sequencer.model.assembly import Assembly
    from sequencer.planning.onward import Onward
    from sequencer.reading import Reading
    from sequencer.records.entries import Entry, Model
    from sequencer.records.logfile import Log
    from sequencer.records.state import State

ENDING = ".log.jsonl"
_MOST_BELOW = 3  # logs in folders of this one that are named


def log_beside(model: Path) -> Path:
    """Return where the log of a model is kept unless something else is said."""
    return model.with_name(f"{model.stem}{ENDING}")


def chosen_log(named: Path | None) -> Path:
    """Return the log that is meant: the one named, or the only one in this folder.

    A model named instead of a log stands for the log beside it.
    """
    if named is not None:
        return log_beside(named) if named.suffix in (".yaml", ".yml") else named
    found = sorted(Path().glob(f"*{ENDING}"))
    if len(found) == 1:
        return found[0]
    if not found:
        below = ", ".join(str(path) for path in sorted(Path().glob(f"*/*{ENDING}"))[:_MOST_BELOW])
        raise click.UsageError(
            f"there is no log (*{ENDING}) in this folder: name it with --log"
            + (f" ({below})" if below else "")
            + ", or begin one with `sequencer log start MODEL`"
        )
    names = ", ".join(str(path) for path in found)
    raise click.UsageError(f"there are several logs in this folder: name one with --log ({names})")


def copy_of(model: Model) -> Reading:
    """Read the copy of a model, with the files that it uses, as a log holds it."""
    from sequencer.reading import read_text

    return read_text(model.text, model.file, model.settings, Path(model.file), dict(model.used))


class Opened:
    """A log that was read: its model, the state that it tells, and how the job can go on."""

    def __init__(self, named: Path | None, *, as_json: bool = False) -> None:
        self.path = chosen_log(named)
        self.as_json = as_json
        try:
            self.log: Log = read_log(self.path)
        except LogError as error:
            self.stop(UNREADABLE, error.problem)
        findings = list(self.log.findings)
        if self.log.torn:
            findings.append(torn(self.path))
        self.findings = tuple(findings)
        self.reading, self.assembly = self._model()
        self.state: State = state_of(self.log.entries, self.assembly)

    def _model(self) -> tuple[Reading, Assembly]:
        """Read the copy of the model that the log holds."""
        model = model_of(self.log.entries)
        if model is None:
            message = f"`{self.path}` holds no model: it is no log, or its beginning is lost"
            fix = "name another with --log, or begin one with `sequencer log start MODEL`"
            why = "without the model nobody knows what the steps are"
            self.stop(UNREADABLE, Problem("no-log", "error", message, why=why, fix=fix))
        reading = copy_of(model)
        if reading.assembly is None:
            self.stop(UNREADABLE, *reading.problems)
        return reading, reading.assembly

    @cached_property
    def onward(self) -> Onward:
        """How the job can go on from any steps done."""
        from sequencer.planning.onward import Onward

        return Onward(self.assembly, self.state.model.order, tuple(self.state.skipped))

    @property
    def settled(self) -> tuple[str, ...]:
        """The steps done, and those left out, which nothing waits for any more."""
        return (*self.state.done, *self.state.skipped)

    def now(self) -> datetime | None:
        """Return the time of day where the model says times that run between steps."""
        return log_times.now() if self.state.running.says_times else None

    def as_if(self, entries: Sequence[Entry]) -> None:
        """Take the state that the log would tell with these entries at its end, until `reload`."""
        self._take((*self.log.entries, *entries))

    def reload(self) -> None:
        """Read the log once more, after something was recorded."""
        self.log = read_log(self.path)
        if model_of(self.log.entries) != self.state.model:
            self.reading, self.assembly = self._model()
        self._take(self.log.entries)

    def _take(self, entries: Sequence[Entry]) -> None:
        before = self.state
        self.state = state_of(entries, self.assembly)
        if (self.state.model, [*self.state.skipped]) != (before.model, [*before.skipped]):
            self.__dict__.pop("onward", None)

    def tell(self, findings: Sequence[Problem]) -> None:
        """Print findings on stderr, with the lines of the model that they rest on."""
        reading = getattr(self, "reading", None)
        if not findings or self.as_json:
            return
        places = [located(one, reading.place_of) if reading else one for one in findings]
        click.echo(report.as_text(places, reading.lines if reading else {}), err=True)

    def stop(self, code: int, *findings: Problem, **result: object) -> NoReturn:
        """Tell why nothing was done, and exit."""
        self.tell(findings)
        self.finish(code, findings, **result)

    def finish(self, code: int, findings: Sequence[Problem], **result: object) -> NoReturn:
        """Print the JSON result where it is asked for, and exit."""
        if self.as_json:
            told = [report.as_json(finding) for finding in findings]
            whole = {"ok": code == OK, **result, "findings": told}
            click.echo(json.dumps(whole, ensure_ascii=False, indent=2))
        sys.exit(code)
