"""The order that a packet is printed in, and what was found about that order."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from sequencer.commands.printing import NotPrinted
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan

_RANGE = re.compile(r"([0-9]{1,6})(?:[-–]([0-9]{1,6}))?")


def by_number(names: Iterable[str], printed: Sequence[str], steps: Collection[str]) -> list[str]:
    """Return step ids, with numbers and ranges of the printed order written out.

    An id goes before a number; what is neither is returned as it was typed.

    Examples
    --------
    >>> by_number(["3", "1-2", "c"], ("b", "a", "c"), ("a", "b", "c"))
    ['c', 'b', 'a', 'c']
    """
    found: list[str] = []
    for name in names:
        span = None if name in steps else _RANGE.fullmatch(name)
        if span is None:
            found.append(name)
            continue
        first, last = int(span[1]), int(span[2] or span[1])
        if not 1 <= first <= last <= len(printed):
            raise click.BadParameter(f"{name} is no range of steps 1 to {len(printed)}")
        found += printed[first - 1 : last]
    return found


def by_plan(names: Sequence[str], assembly: Assembly) -> list[str]:
    """Return step ids, with numbers and ranges of the order that `plan` gives written out."""
    steps = [step.id for step in assembly.steps]
    if not any(_RANGE.fullmatch(name) for name in names if name not in steps):
        return list(names)
    from sequencer.planning.plan import plan

    return by_number(names, plan(assembly).order or steps, steps)


def planned_for_print(
    assembly: Assembly, by: str, awaited: str | None
) -> tuple[Plan, tuple[Problem, ...]]:
    """Return the order to print, and what the cover has to say about it."""
    from sequencer.planning.plan import plan, plan_by_handling, without

    if awaited is None:
        return plan_by_handling(assembly) if by == "handling" else plan(assembly), ()
    split = without(assembly, awaited)
    if split is None:
        return plan(assembly), ()
    label = next(part.label for part in assembly.parts if part.id == awaited)
    now, every = len(split.now), len(split.now) + len(split.then)
    if not now:
        message = f"{label} is awaited, and nothing can be done before it comes"
    else:
        message = f"{label} is awaited: do steps 1 to {now}, then wait for it"
    why = f"steps {now + 1} to {every} would shut its way in, or need it"
    return split.plan, (Problem("awaited", "note", message, why=why),)


def of_printed_order(
    findings: Sequence[Problem], planned: Plan, *, draft: bool
) -> tuple[Problem, ...]:
    """Return the findings, with those that hold for one order as the printed one has them.

    An error that only this order has stops the printing.
    """
    from sequencer.planning.plan import OF_ONE_ORDER

    if planned.order is None:
        return tuple(findings)
    printed = [finding for finding in planned.findings if finding.code in OF_ONE_ORDER]
    for finding in printed if not draft else ():
        if finding.severity == "error":
            raise NotPrinted(finding)
    return (*(finding for finding in findings if finding.code not in OF_ONE_ORDER), *printed)
