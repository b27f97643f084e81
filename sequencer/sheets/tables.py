"""What the kit, the steps and the torque record say as tables, for spreadsheets and stores.

Heads are the names of the fields of a model where there are such, so that what was changed in a
spreadsheet can be put into a model again.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, log10
from typing import TYPE_CHECKING

from sequencer.model.common import Size
from sequencer.model.fields import Links, declared
from sequencer.model.quantities import to_si
from sequencer.sheets.figures import torque_figure
from sequencer.sheets.kit import parts_to_lay_out
from sequencer.sheets.torques import MOST_BOXES, source_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from sequencer.model.common import Link
    from sequencer.model.fastening import Torque
    from sequencer.model.parts import Part
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job
    from sequencer.trade.worked import WorkedTorque

Row = tuple[str | Fraction, ...]
_YES = "yes"
_SIGNIFICANT = 4  # digits of a limit in newton metres


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: the heads of its columns, and its rows; numbers are exact."""

    heads: tuple[str, ...]
    rows: tuple[Row, ...]


def kit_table(job: Job) -> Grid:
    """Return the parts to lay out, in the order in which the steps take them up."""
    heads = "id number name quantity spare mass price renew once aid matched serial bag"
    supply = "on_hand bought_as in_steps"
    parts = tuple(parts_to_lay_out(job))
    grid = Grid((*heads.split(), *supply.split()), tuple(_part(job, part) for part in parts))
    return _with_more(grid, _PART_MORE, parts)


def _part(job: Job, part: Part) -> Row:
    return (
        part.id,
        part.number,
        part.label,
        Fraction(part.quantity),
        Fraction(part.spare),
        part.mass.text.strip() if part.mass else "",
        "" if part.price is None else part.price,
        part.renew,
        _YES if part.once else "",
        _YES if part.aid else "",
        *(part.matched, part.serial, part.bag),
        "" if part.on_hand is None else Fraction(part.on_hand),
        part.bought_as,
        ", ".join(str(number) for number in job.course.fitted_in.get(part.id, ())),
    )


_STEP_HEADS = (
    "turn",
    "id",
    "section",
    "do",
    "fits",
    "takes_off",
    "after",
    "tools",
    "tighten",
    "joint_torque",
    "torque",
    "check",
    "time (min)",
    "guessed (min)",
    "people",
    "position",
    "warning",
    "caution",
    "notice",
    "note",
    "hold",
    "by",
    "last_chance_for",
)


_STEP_MORE = (
    "onto",
    "before",
    "largest",
    "leaves",
    "secures",
    "loosens",
    "cleans",
    "closes",
    "loads",
    "needs",
    "not_while",
    "each",
    "hazards",
    "unit",
    "leave",
    "unattended",
)
_PART_MORE = ("largest", "inspect", "hottest", "lead")
"""Fields that have a column where any step or part says something in them."""


def steps_table(job: Job) -> Grid:
    """Return the steps in the order in which they are printed."""
    grid = Grid(_STEP_HEADS, tuple(_step(job, step) for step in job.steps))
    return _with_more(grid, _STEP_MORE, job.steps)


def _with_more(grid: Grid, names: Sequence[str], records: Sequence[Part | Step]) -> Grid:
    """Return a table with a column for each of some fields that any of the records fills."""
    cells = {name: [_cell(record, name) for record in records] for name in names}
    used = [name for name, column in cells.items() if any(column)]
    rows = ((*row, *(cells[name][number] for name in used)) for number, row in enumerate(grid.rows))
    return Grid((*grid.heads, *used), tuple(rows))


def _cell(record: Part | Step, name: str) -> str:
    """Return what a record says in a field as `import` reads it."""
    field = next(one for one in declared(type(record)) if one.name == name)
    value = getattr(record, field.attribute)
    if isinstance(value, Size):
        return value.value.text.strip()
    if isinstance(field.kind, Links):
        return _links(field.kind, value)
    if isinstance(value, bool):
        return _YES if value else ""
    return "\n".join(value) if isinstance(value, tuple) else getattr(value, "text", value or "")


def _step(job: Job, step: Step) -> Row:
    minutes, is_guess = job.minutes(step)
    counts = job.course.counts.get(step.id, ())
    fits = (
        f"{count} {fit.part}" + (f" ({fit.facing})" if fit.facing else "")
        for fit, count in zip(step.fits, counts, strict=True)
    )
    return (
        Fraction(job.number[step.id]),
        step.id,
        step.section,
        step.do,
        _list(fits),
        _cell(step, "takes_off"),
        _cell(step, "after"),
        _list(" or ".join(link.to for link in entry) for entry in step.tools),
        _cell(step, "tighten"),
        _list(torque.value.text.strip() for torque in _torques(job, step)),
        step.torque.value.text.strip() if step.torque else "",
        _cell(step, "check"),
        "" if is_guess else Fraction(minutes),
        Fraction(minutes) if is_guess else "",
        Fraction(step.people),
        step.position,
        *("\n".join(texts) for texts in (step.warning, step.caution, step.notice, step.note)),
        step.hold,
        step.by,
        _list(job.facts_of(step).last_chance_for),
    )


def _list(items: Iterator[str] | Sequence[str]) -> str:
    return "; ".join(items)


def _links(kind: Links, links: Sequence[Link]) -> str:
    return _list(_link(link, kind.kinds[0]) for link in links)


def _link(link: Link, usual: str) -> str:
    """Return a name with its kind where that is not the usual one, and what is said of it."""
    named = link.to if link.kind in (usual, "all") else f"{link.kind} {link.to}"
    said = [f"{field} {time.text.strip()}" for field, time in _times(link)]
    said += [f"why: {link.why}"] if link.why else []
    return f"{named} ({', '.join(said)})" if said else named


def _times(link: Link) -> Iterator[tuple[str, Amount]]:
    for field, time in (("wait", link.wait), ("within", link.within)):
        if time is not None:
            yield field, time


def _torques(job: Job, step: Step) -> Iterator[Torque]:
    for link in step.tighten:
        torque = job.joints[link.to].torque
        if torque is not None:
            yield torque


_TORQUE_HEADS = (
    "turn",
    "step",
    "joint",
    "name",
    "fasteners",
    "fastener",
    "torque",
    "also",
    "low (N·m)",
    "high (N·m)",
    "source",
    "achieved",
    "wrench_number",
    "by",
    "date",
)


def torque_table(job: Job) -> Grid:
    """Return a row for each fastener that is tightened to a torque, with blanks to fill in.

    Fasteners stand in the order in which they are tightened. Where there are too many to tick,
    one row stands for all of a joint, as on the cards.
    """
    return Grid(_TORQUE_HEADS, tuple(row for step in job.steps for row in _record(job, step)))


def _record(job: Job, step: Step) -> Iterator[Row]:
    of_joints = []
    for link in step.tighten:
        worked = job.bench.worked(job.joints[link.to], step)
        if worked.torque is None:
            continue
        of_joints.append(worked.torque.path)
        names = tuple(worked.labels[number - 1] for number in worked.order)
        yield from _rows(job, step, worked.torque, (link.to, worked.joint.name, names))
    own = job.bench.worked_step(step)
    if own is not None and own.path not in of_joints:
        yield from _rows(job, step, own, ("", "", ("1",)))


def _rows(
    job: Job, step: Step, torque: WorkedTorque, joint: tuple[str, str, tuple[str, ...]]
) -> Iterator[Row]:
    """Yield the rows of one torque; of the joint its id, its name and its fasteners."""
    name, label, fasteners = joint
    taken = torque.choice.taken
    figure = torque_figure(taken.value, job.assembly.prints) if taken is not None else None
    few = len(fasteners) <= MOST_BOXES
    for fastener in fasteners if few else (f"all {len(fasteners)}",):
        yield (
            Fraction(job.number[step.id]),
            step.id,
            name,
            label,
            Fraction(len(fasteners)),
            Fraction(fastener) if fastener.isdecimal() else fastener,
            figure.large if figure is not None else "not chosen",
            _list(figure.further) if figure is not None else "",
            *_newton_metres(taken.value.amount if taken is not None else None),
            source_of(job, torque),
            *("",) * 4,
        )


def _newton_metres(amount: Amount | None) -> tuple[str | Fraction, str | Fraction]:
    """Return both ends of a torque in newton metres, rounded inwards, as far as it has any."""
    if amount is None:
        return "", ""
    low, high = (
        "" if end is None else to_si(end, amount.unit) for end in (amount.low, amount.high)
    )
    if low == high:
        return low, high
    return (
        low if isinstance(low, str) else _rounded(low, ceil),
        high if isinstance(high, str) else _rounded(high, floor),
    )


def _rounded(value: Fraction, way: Callable[[Fraction], int]) -> Fraction:
    scale = Fraction(10) ** (_SIGNIFICANT - 1 - floor(log10(value)))
    return Fraction(way(value * scale)) / scale


TABLES = {"kit": kit_table, "steps": steps_table, "torque": torque_table}
"""What may be had as a table, by its name."""
