"""`sequencer schema`: the format of models, for editors, and for people a field at a time."""

from __future__ import annotations

import difflib
import json
import sys

import click

from sequencer.problem import Problem
from sequencer.report import as_text

_NOT_OK = 1


def schema_text() -> str:
    """Return the schema as it is kept beside models."""
    from sequencer.writing.schema import schema

    return json.dumps(schema(), ensure_ascii=False, indent=2) + "\n"


@click.command("schema")
@click.argument("field", required=False)
def schema_command(field: str | None) -> None:
    """Print the format of models as a JSON Schema (2020-12), for editors.

    Keep it as assembly.schema.json beside your models; an editor that knows such schemas finds it
    by the first line of a model, and then offers fields and says what belongs in them.

    With FIELD, such as steps, torque or ways_in, tell in words what may stand under that field;
    with model, what a model may hold. Exit code: 0, or 1 if nothing stands under it.
    """
    if field is None:
        click.echo(schema_text(), nl=False)
        return
    from sequencer.writing.listing import listings, names_listed

    names = names_listed()
    name = field if field in names or f"{field}s" not in names else f"{field}s"
    found = listings(name)
    if not found:
        click.echo(as_text([_no_such(field, names)], {}), err=True)
        sys.exit(_NOT_OK)
    for listing in found:
        formatter = click.HelpFormatter()
        formatter.write_text(listing.head)
        formatter.indent()
        formatter.write_dl(listing.rows)
        click.echo(formatter.getvalue())


def _no_such(field: str, names: list[str]) -> Problem:
    near = difflib.get_close_matches(field, names, n=1)
    listed = ", ".join(f"`{name}`" for name in names)
    return Problem(
        "unknown",
        "error",
        f"no fields stand under `{field}`",
        why="only what has fields of its own can be told of",
        fix=f"did you mean `{near[0]}`?" if near else f"use one of {listed}",
    )
