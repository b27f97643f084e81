"""The command group: names of commands, each loaded only when it is called."""

from __future__ import annotations

import click


@click.group()
@click.version_option(package_name="sequencer")
def main() -> None:
    """Order the assembly of a mechanical unit, find the traps, print the work package."""
