"""What the kit, the steps and the torque record say as tables, for spreadsheets and stores.

Heads are the names of the fields of a model where there are such, so that what was changed in a
spreadsheet can be put into a model again.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, log10
from typing import TYPE_CHECKING

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
    return Grid(
        (*heads.split(), *supply.split()), tuple(_part(job, part) for part in parts_to_lay_out(job))
    )


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
    "torque",
    "check",
    "time (min)",
    "time_guessed",
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


def steps_table(job: Job) -> Grid:
    """Return the steps in the order in which they are printed."""
    return Grid(_STEP_HEADS, tuple(_step(job, step) for step in job.steps))


def _step(job: Job, step: Step) -> Row:
    minutes, is_guess = job.minutes(step)
    counts = job.course.counts.get(step.id, ())
    fits = (f"{count} {fit.part}" for fit, count in zip(step.fits, counts, strict=True))
    return (
        Fraction(job.number[step.id]),
        step.id,
        step.section,
        step.do,
        _list(fits),
        _ids(step.takes_off),
        _ids(step.after),
        _list(" or ".join(link.to for link in entry) for entry in step.tools),
        _ids(step.tighten),
        _list(torque.value.text.strip() for torque in _torques(job, step)),
        _ids(step.check),
        Fraction(minutes),
        _YES if is_guess else "",
        Fraction(step.people),
        step.position,
        *("\n".join(texts) for texts in (step.warning, step.caution, step.notice, step.note)),
        step.hold,
        step.by,
        _list(job.facts_of(step).last_chance_for),
    )


def _list(items: Iterator[str] | Sequence[str]) -> str:
    return "; ".join(items)


def _ids(links: Sequence[Link]) -> str:
    return _list(link.to for link in links)


def _torques(job: Job, step: Step) -> Iterator[Torque]:
    for link in step.tighten:
        torque = job.joints[link.to].torque
        if torque is not None:
            yield torque
    if step.torque is not None:
        yield step.torque


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
