"""`sequencer log`: the record of one build, as it was done."""

from __future__ import annotations

import click

from sequencer.commands.grouping import Group
from sequencer.commands.log_correct import correct_command
from sequencer.commands.log_csv import csv_command
from sequencer.commands.log_measure import reading_command, torque_command
from sequencer.commands.log_parts import (
    arrived_command,
    fitted_command,
    short_command,
    spoiled_command,
)
from sequencer.commands.log_show import (
    list_command,
    next_command,
    print_command,
    status_command,
    stop_command,
)
from sequencer.commands.log_sign import accept_command, sign_command
from sequencer.commands.log_start import issue_command, start_command
from sequencer.commands.log_steps import (
    done_command,
    note_command,
    part_done_command,
    skip_command,
    undone_command,
)
from sequencer.commands.log_tablet import tablet_command
from sequencer.commands.log_type import type_command


class _InOrder(Group):
    """Lists its commands in the order in which they were added."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's signature
        return list(self.commands)


@click.group("log", cls=_InOrder)
def log_command() -> None:
    """Record what was done on one unit, and what there is to do next.

    The log is a text file beside the model that is only ever added to: when `ok` is said, the
    entry is on the disk. It tells what happened: what is out of turn or out of limit is said
    plainly, and recorded all the same if you confirm it. Exit code: 0 if it was recorded, 1 if
    not, 2 if the log cannot be read or the call is wrong.
    """


for _command in (
    *(start_command, done_command, part_done_command, undone_command, skip_command),
    *(reading_command, torque_command, accept_command, sign_command),
    *(fitted_command, spoiled_command, short_command, arrived_command),
    *(note_command, correct_command, type_command, csv_command, tablet_command),
    *(status_command, next_command, list_command, stop_command, print_command, issue_command),
):
    log_command.add_command(_command)
