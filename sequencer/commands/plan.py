"""`sequencer plan`: the sequence, or the test of an order of one's own."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    each_once,
    listed_names,
    model_argument,
    options_taken,
    output_options,
)
from sequencer.commands.plan_text import plan_text
from sequencer.commands.printed_order import by_plan
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan, Tested, Times
    from sequencer.reading import Reading


@click.command("plan")
@model_argument
@click.option(
    "--from",
    "own_order",
    metavar="LIST",
    help="Test this order: step ids, or numbers and ranges of the plan such as 1-3, with commas "
    "between, or @file with one a line.",
)
@click.option(
    "--by",
    type=click.Choice(["written", "handling"]),
    default="written",
    show_default=True,
    help="Few moves from the written order, or the least turning over and tool changing.",
)
@click.option("--count", is_flag=True, help="Count the orders that work.")
@click.option(
    "--without", "awaited", metavar="PART", help="What can be done while this part is awaited."
)
@click.option(
    "--forget",
    is_flag=True,
    help="Say of each step what it costs to find at the end that it was forgotten.",
)
@output_options
def plan_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    own_order: str | None,
    by: str,
    count: bool,
    awaited: str | None,
    forget: bool,
    as_json: bool,
    show_all: bool,
) -> None:
    """Print an order that works: the written one, or the nearest to it.

    With --from, judge an order of your own and mend it. Exit code: 0 if the order works (without
    --from: if any does), 1 if not, 2 if the file cannot be read or the call is wrong.
    """
    output = Output(as_json=as_json, show_all=show_all)
    listed = None if own_order is None else listed_names(own_order)
    reading, assembly = output.read(file)
    names = None if listed is None else each_once(by_plan(listed, assembly), "the list")
    if sum((names is not None, count, awaited is not None)) > 1:
        raise click.UsageError("--from, --count and --without are questions of their own: ask one")
    if forget and (names is not None or awaited is not None):
        raise click.UsageError("--forget is about the plan itself: ask it without the other")
    if names is not None:
        _print_tested(output, reading, assembly, names)
    elif awaited is not None:
        _print_without(output, reading, assembly, awaited)
    else:
        _print_plan(output, reading, assembly, by=by, count=count, forget=forget)


def _print_plan(
    output: Output, reading: Reading, assembly: Assembly, *, by: str, count: bool, forget: bool
) -> None:
    from sequencer.planning.mending import with_forgetting
    from sequencer.planning.plan import count as count_orders
    from sequencer.planning.plan import plan, plan_by_handling

    planned = plan_by_handling(assembly) if by == "handling" else plan(assembly)
    if forget:
        planned = with_forgetting(assembly, planned)
    result: dict[str, object] = {
        "ok": planned.order is not None,
        "order": planned.order,
        "moves": planned.moves,
        "fewest": planned.fewest,
        "steps": {
            step: {**_facts_as_json(planned, step), **_times_as_json(planned.times, step)}
            for step in planned.steps
        },
        "windows": [
            {key: value for key, value in asdict(window).items() if key != "path"}
            for window in planned.times.windows
        ],
        "rest_after": planned.rest_after,
        "handling": None if planned.handling is None else asdict(planned.handling),
        **options_taken(assembly),
    }
    counted_orders = count_orders(assembly) if count else None
    if counted_orders is not None:
        key = "count" if counted_orders.exact else "count_at_least"
        result[key] = counted_orders.count
    findings = (*reading.problems, *planned.findings)
    if planned.order is None:
        text = "no order works: every finding above has to be mended first"
        output.finish(NOT_OK, result, reading, findings, text)
    text = plan_text(assembly, planned)
    if counted_orders is not None:
        at_least = "" if counted_orders.exact else "at least "
        text += f"\n\n{at_least}{counted_orders.count:,} orders work"
    output.finish(OK, result, reading, findings, text)


def _print_without(output: Output, reading: Reading, assembly: Assembly, part: str) -> None:
    from sequencer.planning.plan import plan, without
    from sequencer.planning.tested import unknown

    parts = [known.id for known in assembly.parts]
    if part not in parts:
        strange = unknown([part], parts, "part")
        output.finish(NOT_OK, {"ok": False}, reading, (*reading.problems, *strange))
    split = without(assembly, part)
    if split is None:
        text = "no order works: every finding above has to be mended first"
        findings = (*reading.problems, *plan(assembly).findings)
        output.finish(NOT_OK, {"ok": False, "now": None, "then": None}, reading, findings, text)
    now, then = split.now, split.then
    result = {"ok": True, "now": list(now), "then": list(then), **options_taken(assembly)}
    text = (
        f"while `{part}` is awaited, {counted(len(now), 'step')} can be done:\n{','.join(now)}\n"
        f"once it has come, the other {len(then)}:\n{','.join(then)}"
    )
    output.finish(OK, result, reading, (*reading.problems, *split.plan.findings), text)


def _facts_as_json(planned: Plan, step: str) -> dict[str, object]:
    facts = planned.steps[step]
    ways = facts.ways_in
    forget = planned.forget_minutes
    return {
        "way_in": None if not ways else ways[0] if len(ways) == 1 else list(ways),
        "last_chance_for": list(facts.last_chance_for),
        "until": facts.until,
        **({"forget_minutes": forget[step]} if step in forget else {}),
    }


def _times_as_json(times: Times, step: str) -> dict[str, object]:
    """Return when a step begins and ends, in minutes from the start, and what it waits for."""
    return {
        "begins": round(times.begins[step], 3),
        "ends": round(times.ends[step], 3),
        "not_before": [asdict(wait) for wait in times.waits.get(step, ())],
    }


def _print_tested(output: Output, reading: Reading, assembly: Assembly, names: list[str]) -> None:
    from sequencer.planning.plan import try_order

    tested = try_order(assembly, names)
    result = {
        "ok": tested.ok,
        "mended": None if tested.mended is None else list(tested.mended),
        "moves": tested.moves,
        **options_taken(assembly),
    }
    findings = (*reading.problems, *tested.findings)
    output.finish(OK if tested.ok else NOT_OK, result, reading, findings, _verdict(tested))


def _verdict(tested: Tested) -> str:
    if tested.ok:
        return "this order works"
    if tested.mended is None:
        return "this order does not work, and no other does either"
    moved = counted(tested.moves or 0, "step")
    return f"this order does not work; with {moved} moved this one does:\n" + ",".join(
        tested.mended
    )
