"""What a card says about nuts that lock: the drag to measure, and the slot that must line up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.quantities import read_amount
from sequencer.sheets.figures import figure, in_words
from sequencer.trade.torque_tables import INCH_POUND_NM

if TYPE_CHECKING:
    from sequencer.sheets.job import Job
    from sequencer.trade.worked import WorkedJoint
    from sequencer.trade.worked_extras import WorkedDrag

_MOST_ROWS = 12


@dataclass(frozen=True, slots=True)
class DragBlanks:
    """The drag of self-locking nuts: what to do with it, and a line of blanks for each nut."""

    words: str
    added: bool
    usual: str
    rows: tuple[str, ...]


def drag_blanks(job: Job, worked: WorkedJoint) -> DragBlanks | None:
    """Return the blanks for the drag of a joint's nuts; where they are many, one line for all."""
    drag = worked.drag
    amount = worked.torque.amount if worked.torque else None
    if drag is None:
        return None
    given = figure(amount, job.assembly.prints).large if amount is not None else "the figure"
    words = (
        f"Self-locking: measure the drag before the nut seats, and add it to {given}."
        if drag.added
        else f"Self-locking: {given} includes the drag. Measure it before the nut seats."
    )
    names = [worked.labels[number - 1] for number in worked.order]
    several = 1 < len(names) <= _MOST_ROWS
    return DragBlanks(words, drag.added, _usual(job, drag), tuple(names) if several else ("",))


def _usual(job: Job, drag: WorkedDrag) -> str:
    """Say what a table lets the drag be at most; the maker's own figure comes first."""
    if drag.usual is None:
        return ""
    most = drag.usual.most_nm / INCH_POUND_NM
    typed = read_amount(f"at most {most:.6g} in·lbf", ("torque",))
    return f"Going on, {in_words(typed, job.assembly.prints)} by {drag.usual.source}"


def castle_rule(worked: WorkedJoint) -> str:
    """Say in words how far a castle nut may go to line up, and whose rule that is."""
    if worked.castle is None:
        return ""
    over = f" by up to {worked.castle.over:.0%}" if worked.castle.over else ""
    beyond = f"may be passed{over}" if over else "must not be passed"
    return (
        "Castle nut: tighten to the low end, then on until a slot lines up. The high end "
        f"{beyond}: if no slot has lined up by then, change the washer or the nut. Never back off. "
        f"Rule: {worked.castle.source}"
    )
