"""What every command that records does alike: tell objections, ask, record, say `ok`."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import datetime
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, Concatenate, NoReturn, ParamSpec

import click

from sequencer.commands import log_times
from sequencer.commands.common import NOT_OK, OK
from sequencer.commands.log_open import Opened
from sequencer.commands.log_paper import NO_PAPER, PAPER, knows_sheet, no_sheet, spelt, wrong_sheet
from sequencer.problem import Problem
from sequencer.records.entries import Entry
from sequencer.records.logfile import LogError, append

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from sequencer.records.entries import What

_Arguments = ParamSpec("_Arguments")


@dataclass(frozen=True, slots=True)
class Said:
    """What may be said with every entry."""

    by: str
    at: str
    sheet: str
    anyway: bool


class NotRecorded(Exception):  # noqa: N818  # named for what it means; it was told already
    """Something was not recorded, and why has been told."""


class Recorder(Opened):
    """Records entries: objections are told first, and recorded all the same if confirmed."""

    def __init__(self, named: Path | None, said: Said, *, as_json: bool) -> None:
        super().__init__(named, as_json=as_json)
        self.said = said
        self.sheet = "" if said.sheet == "" else spelt(said.sheet)
        self.worked_from = PAPER
        self.at = self.moment(said.at)
        self.told: tuple[Problem, ...] = ()
        self.last = 0  # the number of the entry recorded last
        self._confirmed: set[str] = set()

    def moment(self, text: str) -> str:
        """Return a time as typed in the form of the log; a wrong one ends the call."""
        if not text:
            return ""
        try:
            moment = log_times.moment_of(text, log_times.now())
        except ValueError:
            raise click.BadParameter(
                f"{text!r} is no time: write 14:05, or 2031-05-02 14:05", param_hint="--at"
            ) from None
        return log_times.stamp(moment)

    def entry(self, what: What, by: str = "", at: str = "") -> Entry:
        """Return an entry, with its own name and time where these are given."""
        return Entry(
            time=log_times.stamp(log_times.now()),
            what=what,
            at=at or self.at,
            by=_sound(by or self.said.by),
            sheet=self.sheet,
        )

    @property
    def said_at(self) -> datetime | None:
        """When what is recorded has happened, where that was said."""
        return datetime.fromisoformat(self.at) if self.at else None

    def now(self) -> datetime | None:
        """Return when what is recorded has happened, where the model says times between steps."""
        moment = super().now()
        return self.said_at or moment if moment is not None else None

    def record(
        self, told: Sequence[What | Entry], findings: Sequence[Problem], *, paper: bool = False
    ) -> None:
        """Record what belongs together.

        Parameters
        ----------
        told : sequence of What or Entry
            What happened; an entry has its own time and name.
        findings : sequence of Problem
            Objections: a warning has to be confirmed, a note is told.
        paper : bool
            Whether this comes from a ticked sheet, so that its fingerprint is asked for.

        Raises
        ------
        NotRecorded
            If an objection was not confirmed, or the log cannot be written.
        """
        objections = [*(self.sheet_findings(ask=paper) if paper or self.sheet else ()), *findings]
        objections += self._times()
        self.have_confirmed((*self.findings, *objections))
        despite = dict.fromkeys(one.message for one in objections if one.severity != "note")
        entries = [one if isinstance(one, Entry) else self.entry(one) for one in told]
        try:
            appended = append(
                self.path,
                [_with_objections(one, despite) for one in entries],
            )
        except LogError as error:
            self.tell((error.problem,))
            self.told = (*self.told, error.problem)
            raise NotRecorded from error
        known = {(one.code, one.message) for one in self.findings}
        news = [one for one in appended.findings if (one.code, one.message) not in known]
        self.tell(news)
        self.told = (*self.told, *news)
        self.findings = ()
        self.last = appended.entries[-1].number
        self.reload()

    def have_confirmed(self, findings: Sequence[Problem]) -> None:
        """Tell objections and have them confirmed; what was confirmed before is not told again.

        Raises
        ------
        NotRecorded
            If they are not confirmed.
        """
        self.told = tuple(findings)
        fresh = [one for one in findings if one.message not in self._confirmed]
        self.tell(fresh)
        to_confirm = {one.message for one in fresh if one.severity != "note"}
        to_confirm -= {one.message for one in self.findings}  # about the log, not about this
        if to_confirm and not self.said.anyway and not self._asked_whether():
            raise NotRecorded
        self._confirmed |= to_confirm

    def done(self, text: str, **result: object) -> NoReturn:
        """Say `ok` with what was recorded, and exit."""
        self.say(text)
        self.finish(OK, self.told, log=str(self.path), entry=self.last, **result)

    def say(self, text: str) -> None:
        """Say `ok`: the entry is on the disk."""
        if not self.as_json:
            click.echo(f"ok: entry {self.last} in {self.path}: {text}")

    def _asked_whether(self) -> bool:
        if not self.as_json:
            try:
                if click.confirm("record it all the same?", err=True):
                    return True
            except click.Abort:
                click.echo(err=True)
            click.echo("not recorded (--anyway records it without asking)", err=True)
        return False

    def sheet_findings(self, *, ask: bool) -> list[Problem]:
        """Return what is wrong about the paper; its fingerprint is asked for once an issue."""
        if not self.sheet and ask and not knows_sheet(self.state):
            self.sheet = self._asked()
        if not self.sheet:
            missing = ask and not knows_sheet(self.state)
            return [no_sheet(self.state)] if missing else []
        if self.sheet in (self.state.model.fingerprint, NO_PAPER):
            return []
        return [wrong_sheet(self.state, self.sheet, self.worked_from)]

    def _asked(self) -> str:
        if self.as_json or self.said.anyway:
            return ""
        try:
            text = click.prompt(
                "model at the foot of the page, such as 7f3a·c91e (Enter: there is no paper)",
                default=NO_PAPER,
                show_default=False,
                err=True,
            )
        except click.Abort:
            click.echo(err=True)
            return ""
        return spelt(str(text))

    def _times(self) -> list[Problem]:
        if not self.at or datetime.fromisoformat(self.at) <= log_times.now():
            return []
        why = "what is recorded has happened"
        message = f"{self.at[:16].replace('T', ' ')} is still to come"
        fix = "give the day with it, such as --at '2031-05-02 22:40', if it was yesterday"
        return [Problem("to-come", "warning", message, why=why, fix=fix)]


def recording(
    command: Callable[Concatenate[Recorder, _Arguments], None],
) -> Callable[_Arguments, None]:
    """Give a command the options of every entry, and hand it a recorder."""

    @click.option(
        "--log", "named", type=click.Path(path_type=Path), help="The log; default: the only one."
    )
    @click.option("--by", default="", metavar="NAME", help="Who did it.")
    @click.option("--at", default="", metavar="TIME", help="When: 14:05, or 2031-05-02 14:05.")
    @click.option("--sheet", default="", help="The model at the foot of the paper; `none`: none.")
    @click.option(
        "--anyway", "--yes", "anyway", is_flag=True, help="Record it whatever there is against it."
    )
    @click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
    @wraps(command)
    def run(*args: _Arguments.args, **kwargs: _Arguments.kwargs) -> None:
        options: Mapping[str, object] = {name: kwargs.pop(name) for name in _OPTIONS}
        named, as_json = options["named"], bool(options["as_json"])
        by, at, sheet = (str(options[name]) for name in ("by", "at", "sheet"))
        said = Said(by, at, sheet, anyway=bool(options["anyway"]))
        recorder = Recorder(named if isinstance(named, Path) else None, said, as_json=as_json)
        try:
            command(recorder, *args, **kwargs)
        except NotRecorded:
            recorder.finish(NOT_OK, recorder.told, log=str(recorder.path), entry=None)

    return run


_OPTIONS = ("named", "by", "at", "sheet", "anyway", "as_json")


def _sound(text: str) -> str:
    """Return a text without halves of split pairs, which come of a wrong terminal encoding."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _with_objections(entry: Entry, despite: Iterable[str]) -> Entry:
    """Return an entry with what was objected to it, besides what it says itself."""
    return replace(entry, what=_plain(entry.what), despite=(*entry.despite, *despite))


def _plain(what: What) -> What:
    """Return what happened with every text sound."""
    texts: dict[str, Any] = {
        field.name: _sound(value)
        for field in fields(what)
        if isinstance(value := getattr(what, field.name), str)
    }
    return replace(what, **texts)
