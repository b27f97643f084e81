"""The command group: each command's module is loaded only when that command is called."""

from __future__ import annotations

import contextlib
import errno
import os
import sys
from importlib import import_module
from keyword import iskeyword
from typing import Any, NoReturn

import click

from sequencer import __version__
from sequencer.commands.grouping import Group

_COMMANDS = {
    "new": "a small model to start from",
    "import": "parts and steps from tables (CSV) into a model",
    "tidy": "quotation marks round the texts that YAML breaks",
    "check": "is the model sound, does an order exist, does the written order work",
    "plan": "the sequence, step by step, or the test of an order of your own",
    "explain": "what a finding means, why it matters, what to do",
    "why": "must this step come before that one, and by which facts",
    "revise": "after a mistake, the least that must come out, and how the job goes on",
    "packet": "the printed work package",
    "strip": "the printed packet for taking a finished unit apart",
    "schema": "the format of models, for editors that offer fields and check them",
    "export": "the kit, the steps or the torque record as a table (CSV)",
    "log": "the record of one build: what was done, measured, signed; what is next",
    "torque": "a torque in other units, against its bolt, with an adapter, in passes",
    "fit": "the limits of a fit, and how far to heat it on",
    "shims": "every pack of shims that brings a measured figure inside its limits",
    "shrink": "how far to heat a measured bore on to its shaft",
    "lift": "what one person should lift by hand",
}
_NOT_WRITTEN, _FAULT = 1, 3
_FULL = frozenset((errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO, errno.EBADF))


class _Commands(Group):
    """Finds the command `name` in the module `sequencer.commands.name`.

    One that is called by a word of Python has an underscore behind the name of its module.
    """

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's signature
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name not in _COMMANDS:
            return None
        module = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        command: click.Command = getattr(
            import_module(f"sequencer.commands.{module}"), f"{cmd_name}_command"
        )
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        with formatter.section("Commands"):
            formatter.write_dl(list(_COMMANDS.items()))

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run, and turn a fault of our own into a plain message and exit code 3.

        An answer that cannot be written is no such fault. Where nobody reads on, as behind
        `| head`, click ends without a word, with 1 as here.
        """
        try:
            return super().main(*args, **kwargs)
        except Exception as fault:  # the last resort: a traceback helps nobody here
            if isinstance(fault, OSError) and fault.filename is None and fault.errno in _FULL:
                _not_written(fault)
            if os.environ.get("SEQUENCER_TRACE"):
                raise
            kind = type(fault).__name__
            click.echo(
                f"sequencer: a fault in the program ({kind}: {fault}). Nothing of yours is lost. "
                "Please report it with the model file and the command you gave; "
                "with SEQUENCER_TRACE=1 set, the same command shows where it happened.",
                err=True,
            )
            sys.exit(_FAULT)


def _not_written(fault: OSError) -> NoReturn:
    """Say that the answer cannot be written, where that can be said; files are told elsewhere."""
    with contextlib.suppress(OSError):
        click.echo(
            f"sequencer: the answer cannot be written: {str(fault.strerror).lower()}. "
            "What was recorded or written into files is kept.",
            err=True,
        )
    sys.exit(_NOT_WRITTEN)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="sequencer")
def main() -> None:
    """Plan the order in which a mechanical unit goes together, and print the work package.

    FILE is a model: a YAML text that names the parts, the steps and what must come before what.
    """
