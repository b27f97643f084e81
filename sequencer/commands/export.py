"""`sequencer export`: the kit, the steps or the torque record as a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import NOT_OK, OK, Output, model_argument
from sequencer.commands.files import NotWrittenError, write_whole
from sequencer.commands.import_ import one_sign
from sequencer.problem import has_errors
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.sheets.tables import Grid

_TABLES = ("kit", "steps", "torque")
_MARK = "\ufeff"  # by which spreadsheets know UTF-8


@click.command("export")
@model_argument
@click.argument("table", type=click.Choice(_TABLES))
@click.option(
    "--into",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="CSV",
    help="The file to write; without it, the table is printed.",
)
@click.option(
    "--separator", default=",", show_default=True, callback=one_sign, help="Between cells."
)
@click.option("--decimal", type=click.Choice([".", ","]), default=".", show_default=True)
@click.option("--all", "show_all", is_flag=True, help="Show every finding, not only 20.")
def export_command(
    file: Path, table: str, *, into: Path | None, separator: str, decimal: str, show_all: bool
) -> None:
    """Print the kit, the steps in their order, or the torque record as a table (CSV).

    Ids that a spreadsheet would take for numbers, dates or formulas have a ' in front, which is its
    sign for text; `import` takes it away again. A file begins with the mark by which spreadsheets
    know UTF-8.

    Exit code: 0, 1 if `check` finds errors (then there is no table) or the file cannot be written,
    2 if the model cannot be read.
    """
    from sequencer.planning.plan import check
    from sequencer.writing.cells import table_text

    output = Output(as_json=False, show_all=show_all)
    reading, assembly = output.read(file)
    findings = (*reading.problems, *check(assembly))
    if has_errors(findings):
        text = f"no table: {file} has errors, see `sequencer check {file}`"
        output.finish(NOT_OK, {}, reading, findings, text)
    grid = _grid(assembly, table)
    text = table_text(grid.heads, grid.rows, separator, decimal)
    if into is None:
        click.echo(text, nl=False)
        output.finish(OK, {}, reading, ())
    try:
        write_whole(into, f"{_MARK}{text}".encode(), why="there is no table")
    except NotWrittenError as fault:
        output.finish(NOT_OK, {}, reading, (fault.problem,))
    output.finish(OK, {}, reading, (), f"{into}: {counted(len(grid.rows), 'row')}")


def _grid(assembly: Assembly, table: str) -> Grid:
    from sequencer.model.fingerprint import fingerprint
    from sequencer.planning.plan import plan
    from sequencer.sheets.job import job_of
    from sequencer.sheets.tables import TABLES

    job = job_of(assembly, plan(assembly), fingerprint=fingerprint(assembly), sheets=())
    return TABLES[table](job)
