"""Surfaces that are not as a compound wants them, and compounds that must not meet."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.telling import quoted
from sequencer.planning.timing.clock import lasting, seconds_in, typed
from sequencer.planning.timing.coats import excludes
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.steps import Step
    from sequencer.planning.timing.along import Along
    from sequencer.planning.timing.clock import Stated
    from sequencer.planning.timing.coats import Coat

JUDGED = ("clean", "dry")
"""What a cleaning step can leave; anything else that a compound wants is for the person to see."""


class Unprepared(NamedTuple):
    """A coat whose surface is not as its compound wants it.

    `missing` is what it is not; `cleaned` the step that cleaned it last, `coated` the first coat
    on it since then, `late` the relation whose `within` is over: whichever is the reason.
    """

    coat: Coat
    missing: tuple[str, ...]
    cleaned: int | None
    coated: Coat | None = None
    late: Stated | None = None


def unprepared(along: Along) -> Iterator[Unprepared]:
    """Yield the coats whose surface is not clean, or not dry, where their compound wants that.

    The surface is as the step that cleaned it last leaves it; it also stays clean from an earlier
    cleaning where nothing was put on in between, but not dry. A compound put on since then undoes
    it, unless it is the same one, a cleaner or a primer. A step that cleans and coats the surface
    cleans it first.
    """
    for coat in along.coats.on:
        wanted = tuple(word for word in JUDGED if word in wants(coat))
        if not wanted:
            continue
        turn = along.coats.last_cleaned(coat.surface, coat.turn)
        if turn is None:
            yield Unprepared(coat, wanted, None)
            continue
        cleaned = along.order[turn]
        over = along.coats.spoiled_by(coat, turn)
        missing = tuple(word for word in wanted if word not in _left(along, coat.surface, turn))
        if over is not None:
            yield Unprepared(coat, wanted, cleaned, over)
        elif missing:
            yield Unprepared(coat, missing, cleaned)
        else:
            late = _too_old(along, cleaned, coat.step)
            if late is not None:
                yield Unprepared(coat, wanted, cleaned, late=late)


def wants(coat: Coat) -> frozenset[str]:
    """Return how a compound wants its surface, word by word."""
    return frozenset(word.strip().lower() for word in coat.compound.wants)


def _left(along: Along, surface: str, turn: int) -> set[str]:
    """Return how a surface is once it has been cleaned at a turn."""
    left = {word for word in along.step_at(turn).leaves if word in JUDGED}
    spoiled = along.coats.last_spoiled(surface, turn - 1)
    turns = along.coats.cleaned[surface]
    first = 0 if spoiled is None else bisect_right(turns, spoiled)
    earlier = turns[first : bisect_right(turns, turn - 1)]
    if any("clean" in along.step_at(at).leaves for at in earlier):
        left.add("clean")
    return left


def _too_old(along: Along, cleaned: int, coated: int) -> Stated | None:
    """Return the relation that gives what a step left until another one, where that is over."""
    passed = along.clock.begins[coated] - along.clock.ends[cleaned]
    for stated in along.model.within_of.get(coated, ()):
        within = stated.link.within
        if within is not None and cleaned in stated.befores and passed > seconds_in(within):
            return stated
    return None


def told_unprepared(along: Along, found: Unprepared) -> Problem:
    """Return the finding for a surface that is not prepared."""
    coat, compound = found.coat, found.coat.compound
    name = along.name(coat.step)
    puts = f"{name} puts `{compound.id}` on `{coat.surface}`"
    wanted = " and ".join(word for word in JUDGED if word in wants(coat))
    facts = [
        Fact(puts, coat.path),
        Fact(f"`{compound.id}` wants it {wanted}", ("compounds", compound.id, "wants")),
    ]
    if found.cleaned is not None:
        facts.append(along.fact_of(found.cleaned, "cleans", coat.surface))
    if found.coated is not None:
        other = found.coated
        over = f"{along.name(other.step)} puts `{other.compound.id}` on it"
        facts.append(Fact(over, other.path))
    if found.late is not None:
        link = found.late.link
        facts.append(Fact(f"that holds for {typed(link.within)}", found.late.path, link.why))
    reason, fix = _reason(along, found)
    return Problem(
        "unprepared",
        "warning",
        f"{puts}, {reason}",
        step=along.id(coat.step),
        path=coat.path,
        facts=tuple(facts),
        why="it takes no hold there, or does not set, and comes loose or leaks later",
        fix=fix,
    )


def _reason(along: Along, found: Unprepared) -> tuple[str, str]:
    """Return why a surface is not as it should be, and what to do."""
    coat, name = found.coat, along.name(found.coat.step)
    to_be = f"which is to be {' and '.join(found.missing)}"
    if found.cleaned is None:
        return _never_cleaned(along, coat, to_be)
    cleaned, other = along.name(found.cleaned), found.coated
    if other is not None:
        since = f"since {cleaned} cleaned it"
        return (
            f"{to_be}, and {along.name(other.step)} has put `{other.compound.id}` on it {since}",
            f"clean it after {along.name(other.step)} and before {name}",
        )
    if found.late is not None:
        passed = along.clock.begins[coat.step] - along.clock.ends[found.cleaned]
        return (
            f"{lasting(passed)} after {cleaned} left it {' and '.join(found.missing)}",
            f"clean it again right before {name}, or do {cleaned} later",
        )
    left = " and ".join(word for word in JUDGED if word in along.step(found.cleaned).leaves)
    how = f"leaves it {left} only" if left else "does not say how it leaves it"
    return f"{to_be}, and {cleaned} {how}", f"write `leaves: [clean, dry]` in {cleaned} if it is so"


def _never_cleaned(along: Along, coat: Coat, to_be: str) -> tuple[str, str]:
    later = (n for n in along.order[coat.turn :] if _cleans(along.step(n), coat.surface))
    cleaner = next(later, None)
    if cleaner is None:
        return (
            f"{to_be}, and no step cleans it",
            f"add the step that `cleans: {coat.surface}` and `leaves: [clean, dry]`",
        )
    name, other = along.name(coat.step), along.name(cleaner)
    return f"{to_be}, and only {other}, which comes later, cleans it", f"do {other} before {name}"


def _cleans(step: Step, surface: str) -> bool:
    return any(link.to == surface for link in step.cleans)


def not_together(along: Along) -> Iterator[tuple[Coat, Coat]]:
    """Yield two coats that lie on one surface though one's compound excludes the other's.

    Each pair of compounds is told once at each step that puts the second on.
    """
    told: set[tuple[int, str, str, str]] = set()
    for surface, coats in along.coats.of_surface.items():
        for at, coat in enumerate(coats):
            if not coat.compound.not_with and not along.is_excluded(coat.compound.id):
                continue
            for other in coats[:at]:
                pair = (coat.turn, surface, other.compound.id, coat.compound.id)
                meet = other.gone > coat.turn and pair not in told
                if meet and _excluded(other, coat) is not None:
                    told.add(pair)
                    yield other, coat


def _excluded(one: Coat, other: Coat) -> tuple[str, int] | None:
    """Return the compound that excludes the other's, and which entry of its `not_with` does."""
    for by, of in ((one.compound, other.compound), (other.compound, one.compound)):
        link = excludes(by, of)
        if link is not None:
            return by.id, by.not_with.index(link)
    return None


def told_not_together(along: Along, first: Coat, second: Coat) -> Problem:
    """Return the finding for two compounds that must not meet."""
    by, item = _excluded(first, second) or ("", 0)
    one, two, surface = first.compound.id, second.compound.id, second.surface
    name, before = along.name(second.step), along.name(first.step)
    if first.step == second.step:
        message = f"{name} puts {quoted((one, two))} on `{surface}`, and they must not meet"
    else:
        message = f"{name} puts `{two}` on `{surface}`, over the `{one}` that {before} puts there"
        message += ", and they must not meet"
    stated = f"`{by}` must not meet `{two if by == one else one}`"
    why = along.coats.compounds[by].not_with[item].why
    return Problem(
        "not-together",
        "error",
        message,
        step=along.id(second.step),
        path=second.path,
        facts=(
            Fact(f"{before} puts `{one}` on `{surface}`", first.path),
            Fact(f"{name} puts `{two}` on it", second.path),
            Fact(stated, ("compounds", by, "not_with", item), why),
        ),
        why="the one keeps the other from setting or holding",
        fix=f"clean `{surface}` in between, or leave one of them out",
    )
