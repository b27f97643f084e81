"""`sequencer tidy`: quotation marks round the texts that YAML breaks, and nothing else changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    UNREADABLE,
    Output,
    model_argument,
    output_options,
    settings,
)
from sequencer.commands.files import NotWrittenError, write_whole
from sequencer.problem import Problem, has_errors
from sequencer.reading import read_file
from sequencer.reading.decoding import UnreadableError, text_of_file
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.reading import Reading
    from sequencer.writing.tidy import Tidied


@click.command("tidy")
@model_argument
@click.option("--check", "only_tell", is_flag=True, help="Only tell what would be quoted.")
@output_options
def tidy_command(file: Path, *, only_tell: bool, as_json: bool, show_all: bool) -> None:
    """Put quotation marks round the texts of a model that YAML breaks.

    Such as a text with a colon, a ` #` or a sign at its start; and those that other programs would
    change, such as 0012 or no. Comments and layout stay as they are, to the byte.

    Exit code: 0 if the model can be read now, 1 with --check if something is to be quoted, or if
    the file cannot be written, 2 if it cannot be read even then: what is left is told.
    """
    from sequencer.writing.tidy import tidy

    output = Output(as_json=as_json, show_all=show_all)
    try:
        text = text_of_file(file, str(file))
    except UnreadableError:
        reading = read_file(file)
        output.finish(UNREADABLE, {"ok": False, "changes": []}, reading, reading.problems)
    tidied = tidy(text, str(file), file)
    reading = tidied.reading.with_settings(_any_choices(tidied.reading))
    problems = reading.problems
    if not tidied.is_whole:
        problems = (_too_many(file), *problems)
    code = UNREADABLE if has_errors(problems) else OK
    if tidied.changes and only_tell:
        code = NOT_OK
    elif tidied.changes:
        try:
            why, fix = "the file is as it was", "check the rights of the file and of its folder"
            write_whole(file, tidied.text.encode(), why=why, fix=fix)
        except NotWrittenError as fault:
            result = {"ok": False, "changes": []}
            output.finish(NOT_OK, result, reading, (fault.problem,))
    result = {"ok": code == OK, "changes": _as_json(tidied)}
    told = _as_text(file, tidied, only_tell=only_tell)
    output.finish(code, result, reading, problems, told)


def _any_choices(reading: Reading) -> dict[str, str]:
    """Return what the call chooses, and some choice for what stays open: no text depends on it."""
    open_ = {one.id: one.choices[0] for one in reading.options if not one.default}
    return {**open_, **settings()}


def _too_many(file: Path) -> Problem:
    return Problem(
        "too-many",
        "error",
        f"`{file}` breaks off in more places than can be mended in one run",
        why="nothing was changed; a file with so many slips is more likely no model at all",
        fix="check that it is the model, or mend the first slips by hand",
    )


def _as_json(tidied: Tidied) -> list[dict[str, object]]:
    return [
        {
            "line": change.place.line,
            "column": change.place.column,
            "before": change.before,
            "after": change.after,
        }
        for change in tidied.changes
    ]


def _as_text(file: Path, tidied: Tidied, *, only_tell: bool) -> str:
    if not tidied.changes:
        return f"{file}: nothing to quote"
    texts = counted(len(tidied.changes), "text")
    done = "to put in quotation marks" if only_tell else "put in quotation marks"
    lines = [f"{file}: {texts} {done}"]
    widest = len(str(tidied.changes[-1].place.line))
    lines += [f"  {change.place.line:>{widest}}: {change.after}" for change in tidied.changes]
    return "\n".join(lines)
