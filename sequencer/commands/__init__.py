"""The commands: the only place that prints, exits and joins the stages."""

from sequencer.commands.group import main

__all__ = ["main"]
