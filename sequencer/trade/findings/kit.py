"""What is odd about the kit: matched sets, bags, and what there is to lay out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.matched import matched_sets
from sequencer.problem import Fact, Problem
from sequencer.trade.buying import pack_size

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.matched import SetName
    from sequencer.model.parts import Part


def about_kit(assembly: Assembly) -> Iterator[Problem]:
    """Yield `matched-alone`, `matched-uneven`, `bags-alike`, `pack-unread` and `short-on-hand`."""
    for name, parts in matched_sets(assembly).items():
        yield from _of_set(name, parts)
    yield from _bags_alike(assembly)
    for part in assembly.parts:
        if part.bought_as and pack_size(part.bought_as) is None:
            yield _pack_unread(part)
    yield from _short(assembly)


def _of_set(name: SetName, parts: tuple[Part, ...]) -> Iterator[Problem]:
    first = parts[0]
    if len(parts) == 1 and first.quantity == 1:
        yield Problem(
            "matched-alone",
            "warning",
            f"`{first.id}` is the only part of the matched set `{name.name}`",
            path=("parts", first.id, "matched"),
            why="a set keeps parts together, and there is nothing here to keep it with",
            fix="give the part that it belongs to the same `matched`, letter for letter",
        )
        return
    fewest = min(parts, key=lambda part: part.quantity)
    odd = next((part for part in parts if part.quantity % fewest.quantity), None)
    if odd is not None:
        yield Problem(
            "matched-uneven",
            "warning",
            f"the matched set `{name.name}` does not come out even: {fewest.quantity} of "
            f"`{fewest.id}` and {odd.quantity} of `{odd.id}`",
            path=("parts", odd.id, "matched"),
            facts=tuple(_there(part) for part in parts),
            why="nobody can say which piece belongs to which",
            fix="count them on the bench and mend the quantity, or take one out of the set",
        )


def _there(part: Part) -> Fact:
    are = "is 1" if part.quantity == 1 else f"are {part.quantity}"
    return Fact(f"there {are} of `{part.id}`", ("parts", part.id))


def _bags_alike(assembly: Assembly) -> Iterator[Problem]:
    """Yield bags whose names differ only in spaces, hyphens or capitals."""
    first: dict[str, Part] = {}
    for part in assembly.parts:
        if not part.bag:
            continue
        plain = "".join(letter for letter in part.bag.lower() if letter.isalnum())
        other = first.setdefault(plain or part.bag, part)
        if other.bag != part.bag:
            yield Problem(
                "bags-alike",
                "note",
                f"`{part.id}` is in bag `{part.bag}` and `{other.id}` in bag `{other.bag}`",
                path=("parts", part.id, "bag"),
                facts=(Fact(f"`{other.id}` names its bag so", ("parts", other.id, "bag")),),
                why="they are two bags with two labels, that one would take for one",
                fix="if it is one bag, write its name alike everywhere",
            )


def _pack_unread(part: Part) -> Problem:
    return Problem(
        "pack-unread",
        "note",
        f"`{part.bought_as}` of `{part.id}` does not say how many that is",
        path=("parts", part.id, "bought_as"),
        why="what to buy is printed in single pieces, not rounded up to whole packs",
        fix="write how many come at once, such as `box of 50`; leave it if it is sold by length",
    )


def _short(assembly: Assembly) -> Iterator[Problem]:
    """Yield one note of all parts of which fewer are on hand than go in."""
    facts: list[Fact] = []
    lacking: list[tuple[int, str]] = []
    for part in assembly.parts:
        needed = part.quantity + part.spare
        if part.on_hand is not None and part.on_hand < needed:
            lacking.append((needed - part.on_hand, part.id))
            said = f"{needed} of `{part.id}` are needed, {part.on_hand} on hand"
            facts.append(Fact(said, ("parts", part.id, "on_hand")))
    if not lacking:
        return
    *others, last = (f"{count} of `{part}`" for count, part in lacking)
    what = f"{', '.join(others)} and {last}" if others else last
    yield Problem(
        "short-on-hand",
        "note",
        f"{what} {'has' if sum(count for count, _ in lacking) == 1 else 'have'} to be bought first",
        path=("parts", lacking[0][1], "on_hand"),
        facts=tuple(facts),
        why="the job would stop for want of them, with the unit open",
        fix="buy them before the start, or mend `on_hand` where it has changed",
    )
