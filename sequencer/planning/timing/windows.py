"""What has to be done in time: beads closed while they are workable, and relations' `within`."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.telling import quoted
from sequencer.planning.timing.clock import lasting, seconds_in, typed
from sequencer.planning.timing.preparing import JUDGED, wants
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from sequencer.planning.timing.along import Along
    from sequencer.planning.timing.clock import Stated
    from sequencer.planning.timing.coats import Coat
    from sequencer.planning.timing.sooner import Sooner


class Opened(NamedTuple):
    """A bead from the step that puts it on to the last that closes it, both by number.

    `passed` is the time from the end of the one to the end of the other, `allowed` what the
    compound stays open for.
    """

    since: int
    until: int
    coat: Coat
    passed: Fraction
    allowed: Fraction

    @property
    def is_over(self) -> bool:
        """Whether it is closed too late."""
        return self.passed > self.allowed


def opened(along: Along) -> list[Opened]:
    """Return the beads that a later step closes, or the same one; one for each pair of steps.

    A compound without `open` has none, and neither has one that nothing closes.
    """
    found: dict[tuple[int, str], Opened] = {}
    for coat in along.coats.on:
        if coat.compound.open is None or not coat.closed:
            continue
        until = along.order[coat.closed[-1]]
        passed = along.clock.ends[until] - along.clock.ends[coat.step]
        bead = Opened(coat.step, until, coat, passed, seconds_in(coat.compound.open))
        key = coat.step, coat.compound.id
        if key not in found or found[key].passed < passed:
            found[key] = bead
    return list(found.values())


class Late(NamedTuple):
    """A relation's `within`, from the last step that must come first to the first that follows."""

    since: int
    until: int
    stated: Stated
    passed: Fraction
    allowed: Fraction

    @property
    def is_over(self) -> bool:
        """Whether the second step begins too late."""
        return self.passed > self.allowed


def in_time(along: Along) -> Iterator[Late]:
    """Yield every `within` whose steps the order has in their turn, kept or not."""
    for stated in along.model.stated:
        until = along.clock.first_of(stated.afters)
        if stated.link.within is None or until is None:
            continue
        since = along.clock.last_of(stated.befores, along.clock.turns[until])
        if since is not None:
            passed = along.clock.begins[until] - along.clock.ends[since]
            yield Late(since, until, stated, passed, seconds_in(stated.link.within))


def too_late(along: Along) -> Iterator[Late]:
    """Yield each `within` that is over, but for those that `unprepared` tells of.

    That is where the second step puts a compound on what the first cleaned for it.
    """
    for late in in_time(along):
        if late.is_over and not _is_for_cleaning(along, late):
            yield late


def _is_for_cleaning(along: Along, late: Late) -> bool:
    turn = along.clock.turns[late.since]
    here = along.clock.turns[late.until]
    return any(
        along.coats.last_cleaned(coat.surface, here) == turn and wants(coat) & {*JUDGED}
        for coat in along.coats.of_step[late.until]
    )


def told_too_late(along: Along, late: Late) -> Problem:
    """Return the finding for a `within` that is over."""
    since, until = along.name(late.since), along.name(late.until)
    turns = along.clock.turns
    between = along.order[turns[late.since] + 1 : turns[late.until]]
    stated = typed(late.stated.link.within)
    others = quoted(along.id(step) for step in between)
    return Problem(
        "too-late",
        "warning",
        f"{until} begins {lasting(late.passed)} after {since} ends, "
        f"and at most {stated} is allowed",
        step=along.id(late.until),
        path=late.stated.path,
        facts=(
            Fact(
                f"{until} begins within {stated} of {since}", late.stated.path, late.stated.link.why
            ),
        ),
        why=f"what {since} has done does not last, and has to be done afresh",
        fix=f"do {others} before {since} or after {until}, as far as that goes"
        if between
        else f"look at the `wait` of {until}: it is longer than that",
    )


def told_open_too_long(along: Along, bead: Opened, sooner: Sooner) -> Problem:
    """Return the finding for a bead that is closed too late."""
    since, until, coat = along.name(bead.since), along.name(bead.until), bead.coat
    compound, surface = coat.compound, coat.surface
    stays = f"stays open for {typed(compound.open)}"
    if sooner.moved:
        first = quoted(along.id(step) for step in sooner.moved)
        short = sooner.passed <= bead.allowed
        still = "" if short else ", which is still too long: share out the rest"
        fix = f"do {first} before {since}: that leaves {lasting(sooner.passed)}{still}"
    elif sooner.all_tried:
        fix = "share out what stands in between, or take a compound that stays open for longer"
    else:
        fix = f"see what of all that stands in between can be done before {since}"
    return Problem(
        "open-too-long",
        "warning",
        f"{until} closes `{surface}` {lasting(bead.passed)} after {since} puts "
        f"`{compound.id}` on it, and that {stays}",
        step=along.id(bead.until),
        path=coat.path,
        facts=(
            Fact(f"{since} puts `{compound.id}` on `{surface}`", coat.path),
            Fact(f"`{compound.id}` {stays}", ("compounds", compound.id, "open")),
            along.fact_of(bead.until, "closes", surface),
        ),
        why="by then it has a skin: all of it must be cleaned off and put on afresh",
        fix=fix,
    )
