"""Groups of commands: a slip in a command's name is guessed, and the list says all of each."""

from __future__ import annotations

import difflib

import click

_WIDE = 200


class Group(click.Group):
    """A group that guesses which command was meant, and cuts no line of its list off."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command; where there is none, say which is nearest."""
        name = args[0]
        near = difflib.get_close_matches(name, self.list_commands(ctx), n=1)
        if near and name not in near and self.get_command(ctx, name) is None:
            ctx.fail(f"No such command {name!r}. Did you mean {near[0]!r}?")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the commands, each with the first sentence of what it does."""
        commands = {name: self.get_command(ctx, name) for name in self.list_commands(ctx)}
        rows = [
            (name, command.get_short_help_str(_WIDE).rstrip("."))
            for name, command in commands.items()
            if command is not None
        ]
        with formatter.section("Commands"):
            formatter.write_dl(rows)
