"""`sequencer check`: is the model sound, does an order exist, does the written order work."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.common import NOT_OK, OK, Output, counted, model_argument, output_options

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem


@click.command("check")
@model_argument
@click.option("--strict", is_flag=True, help="Let warnings count as errors.")
@output_options
def check_command(file: Path, *, strict: bool, as_json: bool, show_all: bool) -> None:
    """Check a model before the first bolt.

    Tells whether any order works, whether the written order does, and if not, which facts of the
    file clash. Exit code: 0 if nothing is wrong, 1 if something is, 2 if the file cannot be read.
    """
    from sequencer.planning.plan import check

    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    findings = check(assembly)
    counting = ("error", "warning") if strict else ("error",)
    ok = not any(finding.severity in counting for finding in (*reading.problems, *findings))
    text = _verdict(str(file), assembly, findings)
    told = (*reading.problems, *findings)
    output.finish(OK if ok else NOT_OK, {"ok": ok}, reading, told, text)


def _verdict(file: str, assembly: Assembly, findings: Sequence[Problem]) -> str:
    holds = sum(1 for step in assembly.steps if step.hold)
    size = ", ".join(
        (
            counted(len(assembly.steps), "step"),
            counted(sum(part.quantity for part in assembly.parts), "part"),
            counted(len(assembly.joints), "joint"),
            counted(len(assembly.checks), "check"),
            counted(holds, "hold point"),
        )
    )
    return f"{file}: {_about_order(findings)} ({size})"


def _about_order(findings: Sequence[Problem]) -> str:
    errors = sum(1 for finding in findings if finding.severity == "error")
    told = {finding.code for finding in findings}
    if told & {"circle", "split-pair", "too-big", "no-order", "left-loose"}:
        return f"no order works; {counted(errors, 'error')}"
    if told & {"not-yet", "stray", "shut-out"}:
        order = "an order exists, but the written one does not work: see `sequencer plan`"
    else:
        order = "the written order works"
    return f"{order}; {counted(errors, 'error')}" if errors else order
