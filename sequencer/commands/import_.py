"""`sequencer import`: tables of parts and steps into a model."""

from __future__ import annotations

import codecs
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sequencer import report
from sequencer.commands.common import NOT_OK
from sequencer.commands.files import NotWrittenError, write_whole
from sequencer.commands.new import what_next
from sequencer.problem import Problem, has_errors
from sequencer.reading import read_text
from sequencer.reading.decoding import TABLES, UnreadableError, lines_of, text_of_file
from sequencer.sheets.words import counted
from sequencer.writing.importing import Asked, Imported, import_table

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.report import Lines

_SHOWN = 20
_SEPARATORS = {"tab": "\t", "comma": ",", "semicolon": ";", "bar": "|", "\\t": "\t"}
_NEVER_BETWEEN = "\"' .\r\n"
_WHY = "the model is as it was"
_NEXT = (
    ("check {file}", "what is still missing, and does any order work?"),
    ("plan {file}", "the order, and the last chance for every part"),
)


def one_sign(_context: click.Context, _option: click.Parameter, typed: str | None) -> str | None:
    """Take one sign, or the name of one."""
    if typed is None or (len(typed) == 1 and not typed.isalnum() and typed not in _NEVER_BETWEEN):
        return typed
    if typed in _SEPARATORS:
        return _SEPARATORS[typed]
    raise click.BadParameter("give one sign, or tab, comma, semicolon or bar")


def _encoding(_context: click.Context, _option: click.Parameter, typed: str | None) -> str | None:
    if typed is None:
        return None
    try:
        b"\xff\xfea".decode(typed, "replace")  # what is no encoding of texts refuses this
        return codecs.lookup(typed).name
    except (LookupError, ValueError) as fault:
        raise click.BadParameter("try utf-8, cp1252 or utf-16") from fault


@click.command("import")
@click.argument(
    "tables", type=click.Path(path_type=Path), nargs=-1, required=True, metavar="TABLE..."
)
@click.option(
    "--into",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="The model to put them into, or to make; without it, a model is printed.",
)
@click.option("--as", "section", type=click.Choice(["parts", "steps"]), help="What they hold.")
@click.option("--separator", callback=one_sign, help="Between cells: a sign, or tab.")
@click.option("--encoding", callback=_encoding, help="What they are saved in, such as cp1252.")
@click.option("--decimal", type=click.Choice([",", "."]), help="The decimal mark.")
@click.option("--all", "show_all", is_flag=True, help="Show every finding, not only 20.")
def import_command(  # noqa: PLR0913  # click hands over every option
    tables: tuple[Path, ...],
    *,
    into: Path | None,
    section: str | None,
    separator: str | None,
    encoding: str | None,
    decimal: str | None,
    show_all: bool,
) -> None:
    """Put the parts and steps of tables (CSV) into a model.

    The first row names the columns: the fields of parts or steps, or what people usually call
    them. Separator, encoding and decimal mark are found, or asked for. Ids stay text as they stand,
    with a warning where a spreadsheet seems to have changed them.

    Exit code: 0, or 1 if a table cannot be taken as it is; then nothing is written.
    """
    if into is not None and into.suffix.lower() in TABLES:
        raise click.BadParameter(f"{into} is called like a table, and a model is wanted: a .yaml")
    asked = Asked(section, separator, encoding, decimal)
    done = [_read(table, asked) for table in tables]
    limit = None if show_all else _SHOWN
    problems = [problem for table in done for problem in table.problems]
    lines = {table.file: table.lines for table in done}
    if has_errors(problems):
        _tell(problems, lines, limit)
        sys.exit(NOT_OK)
    try:
        text, left_out = _text(done, into, lines)
        if into is not None:
            write_whole(into, text.encode(), why=_WHY)
    except (_NotMergedError, NotWrittenError) as stop:
        stopped = stop.problems if isinstance(stop, _NotMergedError) else (stop.problem,)
        _tell([*problems, *stopped], lines, limit)
        sys.exit(NOT_OK)
    _tell([*problems, *left_out], lines, limit)
    if into is None:
        click.echo(text, nl=False)
        return
    _report(into, done, left_out)


class _NotMergedError(Exception):
    """A model that the tables cannot be put into; `problems` say why."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__(problems[0].message)
        self.problems = problems


def _read(file: Path, asked: Asked) -> Imported:
    try:
        data = file.read_bytes()
    except (OSError, ValueError) as fault:  # ValueError: a NUL in the name
        reason = (fault.strerror if isinstance(fault, OSError) else str(fault)) or "no reason given"
        message = f"`{file}` cannot be opened: {reason.lower()}"
        fix = "check the name, the folder and the rights of the file"
        why = "there is nothing to put into a model"
        problem = Problem("no-file", "error", message, why=why, fix=fix)
        return Imported(str(file), problems=[problem])
    return import_table(data, str(file), asked)


def _text(
    done: list[Imported], into: Path | None, lines: dict[str, tuple[str, ...]]
) -> tuple[str, list[Problem]]:
    """Return the text of the model with the tables in it, and what was left out."""
    from sequencer.writing.merging import UnfitError, merged, new_model

    if into is None or not into.exists():
        return new_model(_name(into or Path(done[0].file)), done), []
    try:
        text = text_of_file(into, str(into))
        lines[str(into)] = lines_of(text)
        made = merged(text, str(into), *done)
    except UnreadableError as fault:
        lines[str(into)] = fault.lines
        raise _NotMergedError((fault.problem,)) from fault
    except UnfitError as fault:
        raise _NotMergedError(fault.problems) from fault
    lines[str(into)] = lines_of(made.text)
    return made.text, list(made.left_out)


def _name(file: Path) -> str:
    return re.sub(r"[^\w.-]+", "-", file.stem).strip("-_.") or "model"


def _report(into: Path, done: Iterable[Imported], left_out: list[Problem]) -> None:
    counts: dict[str, int] = {}
    without = {problem.place for problem in left_out}
    for table in done:
        new = sum(entry.place not in without for entry in table.entries)
        counts[table.section] = counts.get(table.section, 0) + new
    said = " and ".join(counted(count, section[:-1]) for section, count in counts.items())
    click.echo(f"{into}: {said} put in")
    reading = read_text(text_of_file(into, str(into)), str(into))
    if reading.assembly is None:
        errors = sum(problem.severity == "error" for problem in reading.problems)
        click.echo(f"it is no whole model yet: {counted(errors, 'thing')} to add or to mend")
    click.echo(f"\n{what_next(into, _NEXT)}")


def _tell(problems: list[Problem], lines: Lines, limit: int | None) -> None:
    if problems:
        click.echo(report.as_text(problems, lines, limit), err=True)
