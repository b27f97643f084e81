"""The kit: what to lay out before the start, what of it is new, and what has to be bought."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.buying import NAME_LENGTH, Buying, buying
from sequencer.sheets.handled import serial_blanks
from sequencer.sheets.torques import about
from sequencer.sheets.words import numbered, shortened
from sequencer.trade.buying import is_spoiled_by_removal

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fastening import Tool
    from sequencer.model.parts import Part
    from sequencer.sheets.job import Job

_MOST_IN_A_TABLE = 150  # parts: six pages; of more, each section of the job has a table
_NO_SECTION = "Besides"


@dataclass(frozen=True, slots=True)
class PartRow:
    """A part to lay out, with how many more are expected to be left over.

    `fate` says of what comes off the unit whether it goes in again; `serials` are blanks.
    """

    quantity: int
    spare: int
    name: str
    number: str
    is_new: bool
    single_use: bool
    is_aid: bool
    fate: str
    bag: str
    matched: str
    serials: tuple[str, ...]
    steps: str


@dataclass(frozen=True, slots=True)
class PartTable:
    """Parts under one head: all of them, or, of very many, those that a section first takes up."""

    title: str
    rows: tuple[PartRow, ...]


@dataclass(frozen=True, slots=True)
class NotLaidOut:
    """A part that is on at the start, or a unit that is built: what becomes of it."""

    quantity: str
    name: str
    number: str
    fate: str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool to lay out: its name with its range, its division, its length where that counts."""

    name: str
    reads: str
    length: str


@dataclass(frozen=True, slots=True)
class CompoundRow:
    """A compound to lay out: what it is, how much of it goes where, how long it takes."""

    name: str
    about: str
    amounts: str
    steps: str


@dataclass(frozen=True, slots=True)
class Kit:
    """What the sheet lists; `has_bags` where any part is kept in one."""

    tables: tuple[PartTable, ...]
    already_on: tuple[NotLaidOut, ...]
    units: tuple[NotLaidOut, ...]
    tools: tuple[ToolRow, ...]
    compounds: tuple[CompoundRow, ...]
    buying: Buying
    has_bags: bool

    def __bool__(self) -> bool:
        """Tell whether there is anything to lay out."""
        return bool(self.tables or self.already_on or self.tools or self.compounds or self.buying)

    @property
    def parts(self) -> tuple[PartRow, ...]:
        """All parts to lay out, in the order in which they are listed."""
        return tuple(row for table in self.tables for row in table.rows)


def kit_view(job: Job) -> Kit:
    """Return what to lay out, and what to buy."""
    assembly = job.assembly
    return Kit(
        tables=_tables(job, tuple(parts_to_lay_out(job))),
        already_on=tuple(
            _not_laid_out(part, _from_the_start(job, part))
            for part in assembly.parts
            if part.at_start
        ),
        units=tuple(_not_laid_out(job.parts[unit], _built(job, unit)) for unit in job.units),
        tools=tuple(_tool(job, tool) for tool in assembly.tools),
        compounds=tuple(_compounds(job)),
        buying=buying(job, dict(_wanted(job)), _renewals(job)),
        has_bags=any(part.bag for part in parts_to_lay_out(job)),
    )


def _wanted(job: Job) -> Iterator[tuple[str, tuple[int, str]]]:
    """Yield the parts that have to be new, and those of which it is known how many are there."""
    for part in parts_to_lay_out(job):
        whole = part.quantity + part.spare
        if is_spoiled_by_removal(part):
            yield part.id, (whole, "new each time" if part.renew else "single use")
        elif part.on_hand is not None:
            yield part.id, (whole, "too few on hand")


def _compounds(job: Job) -> Iterator[CompoundRow]:
    """Yield the compounds that the steps put on, in the order in which they first do."""
    used: dict[str, list[tuple[int, str]]] = {}
    for step in job.steps:
        for applied in step.apply:
            for link in applied.compound:
                used.setdefault(link.to, []).append((job.number[step.id], applied.amount))
    for compound, uses in used.items():
        found = job.compounds[compound]
        times = (("open", found.open), ("holds in", found.fixture), ("cures in", found.cure))
        about = [found.kind, *(f"{what} {time.text.strip()}" for what, time in times if time)]
        yield CompoundRow(
            name=shortened(found.label, NAME_LENGTH),
            about=", ".join(piece for piece in about if piece),
            amounts="; ".join(dict.fromkeys(amount for _, amount in uses if amount)),
            steps=", ".join(str(number) for number in dict.fromkeys(n for n, _ in uses)),
        )


def parts_to_lay_out(job: Job) -> Iterator[Part]:
    """Yield the parts in the order in which the steps first take them up.

    Units are built on the way; of what is on at the start only what is renewed is laid out.
    """
    for part in dict.fromkeys((*job.course.fitted_in, *job.parts)):
        found = job.parts[part]
        comes_new = (found.once or found.renew) and part in job.course.fitted_in
        if part not in job.units and (comes_new or not found.at_start):
            yield found


def _tables(job: Job, parts: tuple[Part, ...]) -> tuple[PartTable, ...]:
    are_many = len(parts) > _MOST_IN_A_TABLE
    rows: dict[str, list[PartRow]] = {}
    for part in parts:
        rows.setdefault(_section(job, part) if are_many else "", []).append(_row(job, part))
    named = {section: job.section_title(section) or _NO_SECTION for section in rows}
    return tuple(
        PartTable(named[section] if len(rows) > 1 else "", tuple(listed))
        for section, listed in rows.items()
    )


def _section(job: Job, part: Part) -> str:
    """Return the section in which a part is first taken up, if any."""
    steps = job.course.fitted_in.get(part.id, ())
    return job.steps[steps[0] - 1].section if steps else ""


def _row(job: Job, part: Part) -> PartRow:
    steps = ", ".join(str(number) for number in job.course.fitted_in.get(part.id, ()))
    return PartRow(
        quantity=part.quantity,
        spare=part.spare,
        name=shortened(part.label, NAME_LENGTH),
        number=part.number,
        is_new=part.renew == "always",
        single_use=part.once,
        is_aid=part.aid,
        fate=_fate(job, part),
        bag=part.bag,
        matched=f"matched set {part.matched}" if part.matched else "",
        serials=serial_blanks(part, part.quantity),
        steps=steps or _only_instead(job, part),
    )


def _fate(job: Job, part: Part) -> str:
    """Say whether a part goes in again: after it was judged, or as it is; nothing of new ones."""
    is_stock = part.on_hand is not None or part.bought_as or part.pack is not None
    if is_stock or is_spoiled_by_removal(part) or part.aid:
        return ""
    renewed = (
        link.to for check in job.assembly.checks if check.else_ for link in check.else_.renew
    )
    return "reuse if good" if part.inspect or part.id in renewed else "reuse"


def _only_instead(job: Job, part: Part) -> str:
    """Say what a part is for that is fitted only where another step cannot be done."""
    found = [
        str(job.number[step.id])
        for step in job.steps
        if any(fit.part == part.id for other in job.instead_of(step) for fit in other.fits)
    ]
    return f"if not {', '.join(found)}" if found else ""


def _not_laid_out(part: Part, fate: str) -> NotLaidOut:
    quantity = f"{part.quantity} ×" if part.quantity > 1 else ""
    return NotLaidOut(quantity, part.label, part.number, fate)


def _from_the_start(job: Job, part: Part) -> str:
    off, on = job.course.off_in.get(part.id, ()), job.course.fitted_in.get(part.id, ())
    if not off:
        return "stays on"
    again = "a new one" if part.once or part.renew else "on again"
    return f"off in {numbered(off)}" + (f", {again} in {numbered(on)}" if on else "")


def _built(job: Job, unit: str) -> str:
    built, fitted = job.course.built_in.get(unit, ()), job.course.fitted_in.get(unit, ())
    said = (
        f"built in {numbered(built)}" if built else "",
        f"fitted in {numbered(fitted)}" if fitted else "",
    )
    return ", ".join(filter(None, said))


def _tool(job: Job, tool: Tool) -> ToolRow:
    reads = tool.reads.text.strip() if tool.reads is not None else ""
    length = tool.length.text.strip() if tool.length is not None else ""
    return ToolRow(job.tool_name(tool.id), reads, length)


def _renewals(job: Job) -> Iterator[str]:
    """Yield the fasteners that serve once because they are turned by an angle."""
    for joint in job.assembly.joints:
        worked = job.bench.worked(joint)
        steps = [step for step in job.steps if any(link.to == joint.id for link in step.tighten)]
        if worked.single_use and steps:
            what = ": ".join(filter(None, (about(worked) or f"{joint.count} ×", joint.name)))
            yield f"{what}, {numbered([job.number[step.id] for step in steps])}"
