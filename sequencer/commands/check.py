"""`sequencer check`: is the model sound, does an order exist, does the written order work."""

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
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem


@click.command("check")
@model_argument
@click.option("--strict", is_flag=True, help="Let warnings count as errors.")
@click.option(
    "--all-options",
    is_flag=True,
    help="Check every combination of options; of many, so many that each pair of choices is met.",
)
@output_options
def check_command(
    file: Path, *, strict: bool, all_options: bool, as_json: bool, show_all: bool
) -> None:
    """Check a model before the first bolt.

    Tells whether any order works, whether the written order does, and if not, which facts of the
    file clash. Exit code: 0 if nothing is wrong, 1 if something is, 2 if the file cannot be read.
    """
    from sequencer.commands.photos import missing_photos
    from sequencer.planning.plan import check

    output = Output(as_json=as_json, show_all=show_all)
    if all_options:
        _check_all_options(output, file, strict=strict)  # and on, where there are no options
    reading, assembly = output.read(file)
    findings = (*check(assembly), *missing_photos(reading, assembly, file))
    told = (*reading.problems, *findings)
    ok = _is_ok(told, strict=strict)
    text = _verdict(str(file), assembly, findings)
    output.finish(OK if ok else NOT_OK, {"ok": ok}, reading, told, text)


def _check_all_options(output: Output, file: Path, *, strict: bool) -> None:
    """Check every combination of options, and exit; do nothing if the model has no options."""
    from sequencer.commands.all_options import as_json, try_all, verdict
    from sequencer.reading import read_file
    from sequencer.reading.settings import chosen

    reading = read_file(file, settings())
    _, wrong = chosen(reading.options, settings())
    wrong = tuple(problem for problem in wrong if problem.code != "option-open")
    if not reading.options:
        return
    if wrong:
        output.finish(UNREADABLE, {"ok": False}, reading, wrong)
    tried = try_all(reading, settings())
    ok = _is_ok(tried.findings, strict=strict)
    code = UNREADABLE if not tried.readable else OK if ok else NOT_OK
    result = {"ok": ok, **as_json(tried.combinations)}
    output.finish(code, result, reading, tried.findings, verdict(str(file), tried))


def _is_ok(findings: Iterable[Problem], *, strict: bool) -> bool:
    counting = ("error", "warning") if strict else ("error",)
    return not any(finding.severity in counting for finding in findings)


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
