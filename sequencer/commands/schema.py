"""`sequencer schema`: the format of models, for editors."""

from __future__ import annotations

import json

import click


def schema_text() -> str:
    """Return the schema as it is kept beside models."""
    from sequencer.writing.schema import schema

    return json.dumps(schema(), ensure_ascii=False, indent=2) + "\n"


@click.command("schema")
def schema_command() -> None:
    """Print the format of models as a JSON Schema (2020-12), for editors.

    Keep it as assembly.schema.json beside your models; an editor that knows such schemas finds it
    by the first line of a model, and then offers fields and says what belongs in them.
    """
    click.echo(schema_text(), nl=False)
