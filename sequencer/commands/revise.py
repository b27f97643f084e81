"""`sequencer revise`: after a mistake, the least that must come out."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import click

from sequencer.commands.common import (
    NOT_OK,
    OK,
    Output,
    counted,
    fact_as_json,
    listed_names,
    model_argument,
    output_options,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending import Mend, Revised
    from sequencer.reading import Reading

_RANGE = re.compile(r"(\d+)(?:[-–](\d+))?")


@click.command("revise")
@model_argument
@click.option(
    "--done",
    required=True,
    metavar="LIST",
    help="The steps done, in that order: ids and ranges of the printed order, such as 14-22, "
    "with commas between, or @file.",
)
@click.option(
    "--redo", multiple=True, metavar="STEP", help="A step that has to come out and go in again."
)
@click.option(
    "--again",
    multiple=True,
    metavar="STEP",
    help="A step to do afresh where it is, such as one whose torque was raised.",
)
@click.option(
    "--other",
    type=click.IntRange(min=0),
    default=0,
    show_default=True,
    help="How many of the next best ways to show as well.",
)
@output_options
def revise_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    done: str,
    redo: tuple[str, ...],
    again: tuple[str, ...],
    other: int,
    as_json: bool,
    show_all: bool,
) -> None:
    """After a mistake: find the least that must come out, and how the job goes on.

    Tells what comes out and in which order, what that spoils, what is to be prepared again, and
    every step still to be done. Exit code: 0 if it can be mended, 1 if not, 2 if the file cannot
    be read or the call is wrong.
    """
    from sequencer.planning.mending import revise
    from sequencer.planning.plan import plan

    output = Output(as_json=as_json, show_all=show_all)
    reading, assembly = output.read(file)
    order = plan(assembly).order
    steps = [step.id for step in assembly.steps]
    printed = list(order) if order is not None else steps
    names = _unranged(listed_names(done), printed, steps)
    revised = revise(
        assembly,
        names,
        _listed("--redo", redo),
        _listed("--again", again),
        others=other,
        order=printed,
    )
    findings = (*reading.problems, *revised.findings)
    text = _Told(assembly, printed).whole(revised)
    output.finish(OK if revised.ok else NOT_OK, _as_json(revised, reading), reading, findings, text)


def _listed(option: str, values: Iterable[str]) -> list[str]:
    names = [name for value in values for name in value.replace(",", " ").split()]
    return _each_once(names, option)


def _each_once(names: list[str], option: str) -> list[str]:
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise click.BadParameter(f"{', '.join(twice)} stands twice in {option}")
    return names


def _unranged(names: Iterable[str], printed: Sequence[str], steps: Sequence[str]) -> list[str]:
    """Return step ids, with ranges of the printed order written out."""
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
    return _each_once(found, "--done")


# As JSON.


def _as_json(revised: Revised, reading: Reading) -> dict[str, object]:
    mend = revised.mend
    best = _mend_as_json(mend, reading) if mend is not None else _NO_MEND
    return {
        "ok": revised.ok,
        **best,
        "proved": revised.proved,
        "gap": revised.gap,
        "others": [_mend_as_json(other, reading) for other in revised.others],
    }


_NO_MEND: dict[str, object] = {"undo": [], "do": [], "minutes": None, "spoiled": []}


def _mend_as_json(mend: Mend, reading: Reading) -> dict[str, object]:
    return {
        "undo": list(mend.undo),
        "do": list(mend.do),
        "minutes": mend.minutes,
        "spoiled": list(mend.spoiled),
        "made": mend.made._asdict(),
        "in_place": list(mend.in_place),
        "renew": dict(mend.renew),
        "prepare": list(mend.prepare),
        "waits": [wait._asdict() for wait in mend.waits],
        "void": list(mend.void),
        "why": {step: fact_as_json(fact, reading) for step, fact in mend.why.items()},
    }


# As text.


class _Told:
    """Tells a mend in the words of the bench; numbers are those of the printed order."""

    def __init__(self, assembly: Assembly, printed: Sequence[str]) -> None:
        self.assembly = assembly
        self.steps = {step.id: step for step in assembly.steps}
        self.parts = {part.id: part for part in assembly.parts}
        self.number = {step: number for number, step in enumerate(printed, 1)}

    def whole(self, revised: Revised) -> str:
        if revised.mend is None:
            return "nothing mends this"
        lines = list(self._mend(revised.mend))
        if not revised.proved:
            lines.append(f"not proved the least: another may save up to {revised.gap:.0f} min")
        for place, other in enumerate(revised.others, 2):
            lines += ["", f"Next best, {_ordinal(place)}:", *self._mend(other)]
        return "\n".join(lines)

    def _mend(self, mend: Mend) -> Iterator[str]:
        if mend.undo:
            yield f"{counted(len(mend.undo), 'step')} must come out; {self._cost(mend)}"
            yield "\nOut, in this order:"
            yield from self._out(mend)
        else:
            in_place = f"; {self._cost(mend)}" if mend.in_place else ""
            yield f"nothing has to come out{in_place}"
        yield from self._lists(mend)
        yield from self._back_in(mend)

    def _cost(self, mend: Mend) -> str:
        made = mend.made
        pieces = [
            (made.back, f"{_minutes(made.back)} to take out"),
            (made.once_more, f"{_minutes(made.once_more)} to do again"),
            (made.in_place, f"{_minutes(made.in_place)} to do afresh in place"),
            (made.parts, f"{self._money(made.money)} for parts, as {_minutes(made.parts)}"),
        ]
        told = ", ".join(text for minutes, text in pieces if minutes)
        return f"it costs {_minutes(mend.minutes)}" + (f" ({told})" if told else "")

    def _money(self, money: float) -> str:
        return f"{money:.2f} {self.assembly.defaults.money}".strip()

    def _out(self, mend: Mend) -> Iterator[str]:
        for step in mend.undo:
            yield f"  {self._named(step)}"
            fact = mend.why[step]
            yield f"        why: {fact.text}{f' – {fact.why}' if fact.why else ''}"
            undo = self.steps[step].undo
            if undo is not None and undo.do:
                yield f"        how: {' '.join(undo.do.split())}"

    def _lists(self, mend: Mend) -> Iterator[str]:
        spoiled = [self._part(part, mend.renew.get(part, 1)) for part in mend.spoiled]
        bought = [self._part(part, count) for part, count in mend.renew.items()]
        signed = [f"{self._named(step)}, by {self.steps[step].hold}" for step in mend.void]
        waits = [
            f"{_minutes(wait.minutes)} from {self._named(wait.after)} to {self._named(wait.step)}"
            for wait in mend.waits
        ]
        for title, items in (
            ("Spoiled", spoiled),
            ("Have ready new", bought),
            ("To prepare again", [self._named(step) for step in mend.prepare]),
            ("Signatures that no longer hold", signed),
            ("To wait once more, not in the cost", waits),
        ):
            if items:
                yield f"\n{title}:"
                yield from (f"  {item}" for item in items)

    def _back_in(self, mend: Mend) -> Iterator[str]:
        """Yield what is to be done, as far as it differs from going on as printed."""
        if not mend.do:
            yield "\nNothing is left to do."
            return
        out = {*mend.undo, *mend.in_place}
        last = max((at for at, step in enumerate(mend.do, 1) if step in out), default=1)
        yield "\nThen do, in this order:"
        for step in mend.do[:last]:
            afresh = ", afresh where it is" if step in mend.in_place else ""
            missing = "" if step in out else ", not done yet"
            yield f"  {self._named(step)}{afresh}{missing}"
        rest = mend.do[last:]
        if rest:
            steps = "the last step" if len(rest) == 1 else f"the other {len(rest)} steps"
            yield f"and then {steps}:\n  {','.join(rest)}"

    def _named(self, step: str) -> str:
        number = self.number.get(step)
        return f"{step} (step {number})" if number else step

    def _part(self, part: str, count: int) -> str:
        known = self.parts.get(part)
        number = f", no. {known.number}" if known is not None and known.number else ""
        return f"{count} {known.label if known is not None else part}{number}"


def _ordinal(place: int) -> str:
    return f"{place}{({2: 'nd', 3: 'rd'}).get(place, 'th')}"


def _minutes(minutes: float) -> str:
    """Return a time in words of the bench.

    Examples
    --------
    >>> _minutes(12.5), _minutes(135), _minutes(0.25)
    ('12.5 min', '2 h 15 min', '0.25 min')
    """
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes:.3g} min"
    return f"{hours:.0f} h {rest:.0f} min" if round(rest) else f"{hours:.0f} h"
