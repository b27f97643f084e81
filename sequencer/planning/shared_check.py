"""One check for many: felt only once, after several steps each of which can spoil it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.lookups import Lookups
from sequencer.planning.relating import relations
from sequencer.planning.telling import quoted
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.planning.network import Relation

MANY = 3
"""So many steps that may be to blame make a note."""


def shared_checks(assembly: Assembly) -> Iterator[Problem]:
    """Yield a note for each check that is felt or heard once for many steps that upset it.

    Parameters
    ----------
    assembly : Assembly
        The model.

    Yields
    ------
    Problem
        Code `one-check-for-many`, severity note. The check is taken by `feel` or `listen`, which
        says whether but not where something is wrong; in one step only; and at least three steps
        of its `upset_by` have to come before that step for no other reason than `upset_by`, so
        that it could be taken after each of them.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.checking import Check
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.steps import Step
    >>> caps = tuple(Step(id=f"cap-{n}", do="Fit a cap.") for n in range(8))
    >>> turn = Step(id="turn", do="Turn the shaft.", check=(Link("free", "check"),))
    >>> upset_by = tuple(Link(cap.id) for cap in caps)
    >>> free = Check(id="free", feel="Turn it by hand.", upset_by=upset_by)
    >>> model = Assembly(assembly="shaft", checks=(free,), steps=(*caps, turn))
    >>> [note.step for note in shared_checks(model)]
    ['turn']
    """
    found: list[Relation] | None = None
    lookups = Lookups(assembly)
    for check in assembly.checks:
        takers = lookups.steps_of["check"].get(check.id, ())
        if len(takers) != 1 or not (check.feel or check.listen) or len(check.upset_by) < MANY:
            continue
        found = relations(lookups) if found is None else found
        behind = _must_precede(found, takers[0])
        free = [
            item
            for item, link in enumerate(check.upset_by)
            if link.to in lookups.index and lookups.index[link.to] not in (*takers, *behind)
        ]
        if len(free) >= MANY:
            yield _told(check, assembly.steps[takers[0]], free)


def _must_precede(rules: Sequence[Relation], step: int) -> set[int]:
    """Return the steps that must come before a step for other reasons than `upset_by`."""
    before: dict[int, set[int]] = {}
    for rule in rules:
        if rule.kind != "upset_by":
            for after in rule.afters:
                before.setdefault(after, set()).update(rule.befores)
    found: set[int] = set()
    waiting = [step]
    while waiting:
        more = before.get(waiting.pop(), set()) - found
        found |= more
        waiting.extend(more)
    return found


def _told(check: Check, taker: Step, items: Sequence[int]) -> Problem:
    names = [check.upset_by[item].to for item in items]
    taken = next(item for item, link in enumerate(taker.check) if link.to == check.id)
    upset = (
        Fact(
            f"check `{check.id}` is upset by `{check.upset_by[item].to}`",
            ("checks", check.id, "upset_by", item),
            check.upset_by[item].why,
        )
        for item in items
    )
    here = ("steps", taker.id, "check", taken)
    return Problem(
        "one-check-for-many",
        "note",
        f"`{taker.id}` takes check `{check.id}` once for {len(names)} steps that can upset it, "
        f"{quoted(names)}",
        step=taker.id,
        path=here,
        facts=(Fact(f"only `{taker.id}` takes it", here), *upset),
        why="if it is bad, nothing says which of them is to blame, and all may have to come off",
        fix=f"write `check: {check.id}` in each of these steps too, and the first bad one shows",
    )
