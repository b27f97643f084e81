"""`sequencer new`: a small model to start from."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import NoReturn

import click

from sequencer import report
from sequencer.commands.common import NOT_OK
from sequencer.commands.files import NotWrittenError, write_new
from sequencer.commands.schema import schema_text
from sequencer.problem import Problem
from sequencer.reading import read_text

_SUFFIX = ".yaml"
_NEXT = (
    ("check {file}", "is it sound, and does any order work?"),
    ("plan {file}", "the order, and the last chance for every part"),
    ("packet {file}", "the paper for the bench, as a PDF"),
    ("import parts.csv --into {file}", "parts or steps from a table"),
)


@click.command("new")
@click.argument("name", type=click.Path(path_type=Path))
def new_command(name: Path) -> None:
    """Write NAME.yaml, a small model with remarks to start from.

    It can be checked and printed as it is. A file that is there already is never overwritten.

    Exit code: 0, or 1 if the file is there already or cannot be written.
    """
    from sequencer.writing.schema import FILE
    from sequencer.writing.starter import starter

    file = name.parent / f"{name.name.removesuffix(_SUFFIX)}{_SUFFIX}"
    text = starter(file.stem)
    for problem in read_text(text, str(file)).problems:
        _refuse(replace(problem, place=None))  # in a file that is not there
    try:
        why = "there is no model yet"
        if not write_new(file, text.encode(), why=why, fix=_ELSEWHERE):
            _refuse(_exists(file))
        schema = file.with_name(FILE)
        why = "editors will not know the fields; the model itself was written"
        is_new = write_new(schema, schema_text().encode(), why=why, fix=_ELSEWHERE)
    except NotWrittenError as fault:
        _refuse(fault.problem)
    click.echo(f"{file}: a small model, to put your own parts and steps in the place of its own")
    if is_new:
        click.echo(f"{schema}: the format, for editors that offer the fields of a model")
    click.echo(f"\n{what_next(file, _NEXT)}")


_ELSEWHERE = "free the folder, or give a name in another"


def what_next(file: Path, commands: tuple[tuple[str, str], ...]) -> str:
    """Return the commands to go on with, each with what it does."""
    written = [(f"sequencer {command.format(file=file)}", what) for command, what in commands]
    widest = max(len(command) for command, _ in written)
    return "\n".join(["next:", *(f"  {command:<{widest}}  {what}" for command, what in written)])


def _exists(file: Path) -> Problem:
    return Problem(
        "exists",
        "error",
        f"`{file}` is there already",
        why="nothing was written, so nothing of it is lost",
        fix="choose another name, or move that file away",
    )


def _refuse(problem: Problem) -> NoReturn:
    click.echo(report.as_text([problem], {}), err=True)
    sys.exit(NOT_OK)
