"""`sequencer why`: must this step come before that one, and by which facts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    fact_as_json,
    model_argument,
    output_options,
)
from sequencer.commands.printed_order import by_plan

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.planning.why import Why
    from sequencer.reading import Reading

_PAIR = 2


@click.command("why")
@model_argument
@click.argument("a", metavar="A")
@click.argument("b", metavar="B")
@output_options
def why_command(file: Path, a: str, b: str, *, as_json: bool, show_all: bool) -> None:
    """Tell whether step A must come before step B, and if so by which facts.

    A and B are ids, or the numbers that `sequencer plan` gives. Where both ways round are possible,
    an order of each is given. Exit code: 0 if the question was answered, 1 if a step is not there
    or no order exists at all, 2 if the file cannot be read.
    """
    from sequencer.planning.plan import check
    from sequencer.planning.tested import unknown
    from sequencer.planning.why import why

    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    steps = by_plan([a, b], assembly)
    if len(steps) != _PAIR:
        raise click.UsageError("A and B are one step each, not a range")
    a, b = steps
    if a == b:
        raise click.UsageError("A and B are the same step")
    strange = unknown([a, b], [step.id for step in assembly.steps])
    if strange:
        output.finish(NOT_OK, {"ok": False}, reading, strange)
    answer = why(assembly, a, b)
    if not answer.examples:
        errors = [finding for finding in check(assembly) if finding.severity == "error"]
        text = "no order exists at all, so nothing comes before anything"
        output.finish(NOT_OK, {"ok": False}, reading, errors, text)
    result = {
        "ok": True,
        "first": answer.first,
        "second": answer.second,
        "must": answer.must,
        "facts": [fact_as_json(fact, reading) for fact in answer.facts],
        "examples": [list(example) for example in answer.examples],
    }
    output.finish(OK, result, reading, (), _told(answer, reading))


def _told(answer: Why, reading: Reading) -> str:
    pair = f"`{answer.first}`", f"`{answer.second}`"
    if answer.must:
        lines = [f"{pair[0]} must come before {pair[1]}:"]
        for number, fact in enumerate(answer.facts, 1):
            place = reading.place_of(fact.path)
            because = f", because: {fact.why}" if fact.why else ""
            file = f"{place.file}, " if place and place.file != next(iter(reading.lines)) else ""
            at = f" ({file}line {place.line})" if place else ""
            lines.append(f"  {number}. {fact.text}{because}{at}")
        lines.append(f"so with {pair[1]} first, no order is left")
        return "\n".join(lines)
    if answer.undecided:
        return (
            f"{pair[0]} came first in the order found; whether it must was not decided "
            f"within the bound on work:\n{','.join(answer.examples[0])}"
        )
    return (
        f"{pair[0]} and {pair[1]} may come either way round\n"
        f"  {pair[0]} first: {','.join(answer.examples[0])}\n"
        f"  {pair[1]} first: {','.join(answer.examples[1])}"
    )
