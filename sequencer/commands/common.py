"""What every command does alike: read the model, tell findings, choose the exit code."""

from __future__ import annotations

import json
import sys
from collections import Counter
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

import click

from sequencer import report
from sequencer.problem import located
from sequencer.reading import read_file

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Fact, Problem
    from sequencer.reading import Reading

OK, NOT_OK, UNREADABLE = 0, 1, 2
_SHOWN = 20
_SETTINGS = "sequencer.settings"
_NOTHING: Mapping[str, str] = MappingProxyType({})

_Command = TypeVar("_Command", bound="Callable[..., Any]")


def model_argument(command: _Command) -> _Command:
    """Give a command its FILE argument, and `--set` for the options of the model.

    What is set is not handed to the command: `Output.read` reads the model by it.
    """
    path = click.Path(path_type=Path)
    return settings_option(click.argument("file", type=path, metavar="FILE")(command))


def settings_option(command: _Command) -> _Command:
    """Give a command `--set` alone, see `model_argument`."""
    settings = click.option(
        "--set",
        metavar="OPTION=CHOICE",
        multiple=True,
        expose_value=False,
        callback=_keep_settings,
        help="Choose for an option of the model; may be given several times.",
    )
    return settings(command)


def _keep_settings(
    ctx: click.Context, param: click.Parameter, values: tuple[str, ...]
) -> tuple[str, ...]:
    """Keep what `--set` says; a setting that is none, or two of one option, ends the call."""
    kept: dict[str, str] = {}
    for value in values:
        option, equals, choice = (piece.strip() for piece in value.partition("="))
        if not option or not equals or not choice:
            raise click.BadParameter(f"write OPTION=CHOICE, not `{value}`", ctx, param)
        if kept.setdefault(option, choice) != choice:
            raise click.BadParameter(f"`{option}` is set twice, to different choices", ctx, param)
    ctx.meta[_SETTINGS] = kept
    return values


def settings() -> Mapping[str, str]:
    """Return what the call sets options to, by their names."""
    context = click.get_current_context(silent=True)
    kept: dict[str, str] = context.meta.get(_SETTINGS, {}) if context else {}
    return kept


def output_options(command: _Command) -> _Command:
    """Give a command `--json` and `--all`."""
    every = click.option("--all", "show_all", is_flag=True, help="Show every finding, not only 20.")
    as_json = click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
    return every(as_json(command))


class Output:
    """One run's way of telling: results on stdout, findings on stderr, or all of it as JSON."""

    def __init__(self, *, as_json: bool, show_all: bool = False) -> None:
        self.as_json = as_json
        self.limit = None if show_all else _SHOWN

    def read(self, file: Path, taken: Mapping[str, str] = _NOTHING) -> tuple[Reading, Assembly]:
        """Return the model, or tell what is wrong with the file and exit with 2.

        `taken` are choices made before, which hold where the call says nothing else.
        """
        reading = read_file(file, {**taken, **settings()})
        if reading.assembly is None:
            self.finish(UNREADABLE, {"ok": False}, reading, reading.problems)
        return reading, reading.assembly

    def finish(
        self,
        code: int,
        result: Mapping[str, object],
        reading: Reading,
        findings: Iterable[Problem],
        text: str = "",
    ) -> NoReturn:
        """Print the result and the findings, and exit.

        `result` holds the JSON keys besides `findings`; `text` is the result for people.
        """
        told = [located(finding, reading.place_of) for finding in findings]
        if self.as_json:
            whole = {**result, "findings": [report.as_json(finding) for finding in told]}
            click.echo(json.dumps(whole, ensure_ascii=False, indent=2))
            sys.exit(code)
        if told:
            click.echo(report.as_text(told, reading.lines, limit=self.limit), err=True)
            tell_of_tidy(told)
        if text:
            click.echo(text)
        sys.exit(code)


def tell_of_tidy(findings: Iterable[Problem]) -> None:
    """Say what `sequencer tidy` would do about findings, if it can do anything."""
    files = Counter(finding.mend.place.file for finding in findings if finding.mend is not None)
    for file, count in files.items():
        texts = f"{count} of these texts" if count > 1 else "one of these texts"
        click.echo(f"\n`sequencer tidy {file}` puts {texts} in quotation marks", err=True)


def options_taken(assembly: Assembly) -> dict[str, dict[str, str]]:
    """Return the choices that a model was resolved by, as a JSON key; nothing without options."""
    taken = {taken.option: taken.choice for taken in assembly.taken}
    return {"options": taken} if taken else {}


def fact_as_json(fact: Fact, reading: Reading) -> dict[str, object]:
    """Return one fact with its place in the file, as JSON has it."""
    place = reading.place_of(fact.path)
    return {
        "text": fact.text,
        "why": fact.why,
        "file": place.file if place else None,
        "line": place.line if place else None,
        "column": place.column if place else None,
    }


def listed_names(text: str) -> list[str]:
    """Return the names of a list with commas between, or of a file given as `@file`."""
    if text.startswith("@"):
        path = Path(text[1:])
        try:
            text = sys.stdin.read() if str(path) == "-" else path.read_text(encoding="utf-8-sig")
        except UnicodeDecodeError as fault:
            raise click.BadParameter(f"cannot read {path}: it is no text in UTF-8") from fault
        except OSError as fault:
            reason = (fault.strerror or "no reason given").lower()
            raise click.BadParameter(f"cannot read {path}: {reason}") from fault
    return text.replace(",", " ").split()


def each_once(names: list[str], where: str) -> list[str]:
    """Return names of which none stands twice; one that does ends the call."""
    twice = sorted(name for name, count in Counter(names).items() if count > 1)
    if twice:
        raise click.BadParameter(f"{', '.join(twice)} stands twice in {where}")
    return names
