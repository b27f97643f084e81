"""The condition sheet: each part that is looked at, with limits, blanks, and what becomes of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.sheets.checks import CheckBlock, asked, check_block
from sequencer.sheets.figures import in_words
from sequencer.sheets.job import refs, said

if TYPE_CHECKING:
    from sequencer.model.checking import Check
    from sequencer.model.parts import Part
    from sequencer.sheets.job import Job, Said

_MOST_PIECES = 12
_VERDICTS = ("accept", "rework", "renew", "use as is")


@dataclass(frozen=True, slots=True)
class PartCondition:
    """A part: what is looked at and measured before it is used, and what in later steps.

    `signs` are the roles that may let it be used as it is.
    """

    name: str
    number: str
    quantity: str
    is_renewed: bool
    checks: tuple[CheckBlock, ...]
    later: tuple[Said, ...]
    signs: str


@dataclass(frozen=True, slots=True)
class ConditionSheet:
    """The parts that are judged, and what can be ticked for each."""

    parts: tuple[PartCondition, ...]
    verdicts: tuple[str, ...]

    def __bool__(self) -> bool:
        """Tell whether any part is judged."""
        return bool(self.parts)


def condition_view(job: Job) -> ConditionSheet:
    """Return the parts that name checks of their own, or that a check may have renewed.

    What is renewed each time anyway is not judged for that.
    """
    found = (_condition(job, part) for part in job.assembly.parts)
    return ConditionSheet(tuple(one for one in found if one.checks or one.later), _VERDICTS)


def _condition(job: Job, part: Part) -> PartCondition:
    own = [job.checks[link.to] for link in part.inspect]
    later = [check for check in job.assembly.checks if _may_renew(check, part, own)]
    signs = (check.else_.accept_by for check in (*own, *later) if check.else_)
    return PartCondition(
        name=part.label,
        number=part.number,
        quantity=f"{part.quantity} ×" if part.quantity > 1 else "",
        is_renewed=part.renew == "always",
        checks=tuple(_block(job, check, part) for check in own),
        later=tuple(_taken_later(job, check) for check in later),
        signs=" or ".join(dict.fromkeys(role for role in signs if role)),
    )


def _may_renew(check: Check, part: Part, own: list[Check]) -> bool:
    renewed = check.else_.renew if check.else_ and not part.renew else ()
    return check not in own and any(link.to == part.id for link in renewed)


def _block(job: Job, check: Check, part: Part) -> CheckBlock:
    """Return a check without boxes of its own, but for what is found by looking.

    Of several pieces each has a blank.
    """
    several = 1 < part.quantity <= _MOST_PIECES
    pieces = [f"no. {piece}" for piece in range(1, part.quantity + 1)] if several else []
    found = tuple(word for word in (check.good, check.bad) if word)
    return replace(check_block(job, check, pieces=pieces), verdicts=found, signs="")


def _taken_later(job: Job, check: Check) -> Said:
    """Say in which step a check is taken that may have the part renewed, and its limit."""
    _, what = asked(check)
    limit = f": {in_words(check.limit.value, job.assembly.prints)}" if check.limit else ""
    steps = refs(job.course.taken_in.get(check.id, ()))
    return said(f"{what}{limit}", *((", in ", *steps) if steps else ()))
