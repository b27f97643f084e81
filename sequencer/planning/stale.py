"""Readings that no longer count: a check is taken, then upset, and taken again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.telling import quoted
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.steps import Step


def stale(assembly: Assembly, order: Sequence[str]) -> Iterator[Problem]:
    """Yield a note for each reading that something upsets in this order, and that is taken again.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        Step ids, each at most once; steps that it lacks are passed over.

    Yields
    ------
    Problem
        Code `stale`, severity note, the checks as written and of each the readings in their turn.
        The last written step that takes a check must come after all that upsets it, so that one
        too early is no matter for a note but for `not-yet`. A reading that the next upsetting
        step itself takes again is one of a series, and no matter for a note either.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.checking import Check
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.steps import Step
    >>> play = (Link("play", "check"),)
    >>> model = Assembly(
    ...     assembly="box",
    ...     checks=(Check(id="play", feel="Rock it.", upset_by=(Link("press"),)),),
    ...     steps=(
    ...         Step(id="nut", do="Set the nut.", check=play),
    ...         Step(id="press", do="Press the wheel on."),
    ...         Step(id="look", do="Feel the play again.", check=play),
    ...     ),
    ... )
    >>> [note.step for note in stale(model, ["nut", "press", "look"])]
    ['nut']
    """
    turns = {step: turn for turn, step in enumerate(order)}
    for check in assembly.checks:
        takers = [
            step for step in assembly.steps if any(link.to == check.id for link in step.check)
        ]
        if check.upset_by and len(takers) > 1:
            yield from _of_check(check, takers, turns)


def _of_check(check: Check, takers: Sequence[Step], turns: Mapping[str, int]) -> Iterator[Problem]:
    *earlier, last = takers
    again = {taker.id for taker in takers}
    taken = (step for step in earlier if step.id in turns)
    for step in sorted(taken, key=lambda taker: turns[taker.id]):
        upsets = [
            item
            for item, link in enumerate(check.upset_by)
            if turns.get(link.to, -1) > turns[step.id]
        ]
        after = sorted((check.upset_by[item].to for item in upsets), key=turns.__getitem__)
        if after and after[0] not in again:
            yield _told(check, step, last, upsets)


def _told(check: Check, step: Step, last: Step, upsets: Sequence[int]) -> Problem:
    links = [check.upset_by[item] for item in upsets]
    upset = (
        Fact(f"check `{check.id}` is upset by `{link.to}`", _upset_path(check, item), link.why)
        for item, link in zip(upsets, links, strict=True)
    )
    path = _taken_path(check, step)
    return Problem(
        "stale",
        "note",
        f"`{step.id}` takes check `{check.id}` before {quoted(link.to for link in links)}, "
        f"which {'upsets' if len(links) == 1 else 'upset'} it: "
        "that reading does not count in the end",
        step=step.id,
        path=path,
        facts=(
            Fact(f"`{step.id}` takes it", path),
            *upset,
            Fact(f"`{last.id}` takes it again", _taken_path(check, last)),
        ),
        why="a good figure here is no proof of how the unit leaves the bench",
        fix=f"sign for the reading of `{last.id}`; leave this one out if it serves nothing",
    )


def _taken_path(check: Check, step: Step) -> tuple[str | int, ...]:
    item = next(item for item, link in enumerate(step.check) if link.to == check.id)
    return ("steps", step.id, "check", item)


def _upset_path(check: Check, item: int) -> tuple[str | int, ...]:
    return ("checks", check.id, "upset_by", item)
