"""Which piece of a part went in: serial numbers to record, and matched pieces that were crossed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.matched import fellows, set_of
from sequencer.problem import Problem
from sequencer.records.entries import Fitted, Spoiled

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.parts import Part
    from sequencer.records.entries import Entry, What
    from sequencer.records.state import State


def piece_findings(state: State, what: Fitted, before: int | None = None) -> tuple[Problem, ...]:
    """Return the objections to a piece: a mark or a serial number that is that of another.

    Parameters
    ----------
    state : State
        What the log tells.
    what : Fitted
        The piece, recorded or about to be.
    before : int or None
        The number of its entry, if it is recorded: only what stands before it counts.
    """
    earlier = _pieces_in(state, before)
    part = next((one for one in state.assembly.parts if one.id == what.part), None)
    crossed = () if part is None else tuple(_crossed(state, part, what, earlier))
    return crossed or tuple(_twice(state, what, earlier))


def _pieces_in(state: State, before: int | None) -> list[Entry]:
    """Return the entries of the pieces that are in: of a single part only the last piece is."""
    single = {one.id for one in state.assembly.parts if one.quantity == 1}
    found: list[Entry] = []
    for entry in state.entries:
        what = entry.what
        if isinstance(what, Fitted) and (before is None or entry.number < before):
            if what.part in single:
                found = [one for one in found if not _is_another(what, one.what)]
            found.append(entry)
    return found


def _is_another(now: Fitted, earlier: What) -> bool:
    """Tell whether a piece took the place of an earlier one, rather than being told more of."""
    if not isinstance(earlier, Fitted) or now.part != earlier.part:
        return False
    told = ((now.serial, earlier.serial), (now.mark, earlier.mark))
    return any(one and other and one != other for one, other in told)


def crossed_pairs(state: State) -> tuple[str, ...]:
    """Return, in words, every piece in the log that went to one of another mark."""
    return tuple(
        f"{problem.message} (entry {entry.number})"
        for entry in state.entries
        if isinstance(entry.what, Fitted)
        for problem in piece_findings(state, entry.what, entry.number)
        if problem.code == "crossed"
    )


def serials_missing(state: State) -> dict[str, int]:
    """Return for each part that is on how many serial numbers are still to be recorded."""
    found = {}
    for part in state.assembly.parts:
        on = state.standing.on.get(part.id, 0)
        left = on - len(_serials(state, part.id)) if part.serial else 0
        if left > 0:
            found[part.id] = left
    return found


def _serials(state: State, part: str) -> set[str]:
    """Return the serial numbers recorded for a part since it was last spoiled."""
    serials: set[str] = set()
    for entry in state.entries:
        what = entry.what
        if isinstance(what, Spoiled) and what.part == part:
            serials.clear()
        elif isinstance(what, Fitted) and what.part == part and what.serial:
            serials.add(what.serial)
    return serials


def _crossed(state: State, part: Part, what: Fitted, earlier: Sequence[Entry]) -> Iterator[Problem]:
    if not part.matched:
        return
    others = fellows(state.assembly, part)
    if what.mark and what.with_ and what.mark != what.with_:
        names = " or ".join(f"`{other.id}`" for other in others) or "a piece"
        yield _crossing(part, f"mark {what.mark} on {names} of mark {what.with_}")
        return
    alone = {other.id for other in others if other.quantity == 1} if part.quantity == 1 else set()
    latest = {
        entry.what.part: entry.what
        for entry in earlier
        if isinstance(entry.what, Fitted) and entry.what.mark
    }
    for other in alone & set(latest) if what.mark else ():
        if latest[other].mark != what.mark:
            yield _crossing(part, f"mark {what.mark} with `{other}` of mark {latest[other].mark}")
            return
    yield from _of_another_set(state, part, what, earlier)


def _of_another_set(
    state: State, part: Part, what: Fitted, earlier: Sequence[Entry]
) -> Iterator[Problem]:
    """Yield that a serial number is recorded for a piece of another matched set."""
    parts = {one.id: one for one in state.assembly.parts}
    for entry in earlier:
        one = entry.what
        other = parts.get(one.part) if isinstance(one, Fitted) else None
        if other is None or not what.serial or getattr(one, "serial", "") != what.serial:
            continue
        if other.matched and set_of(other) != set_of(part):
            said = f"serial {what.serial} is recorded for `{other.id}` of the set {other.matched}"
            yield _crossing(part, f"{said} (entry {entry.number})")
            return


def _crossing(part: Part, how: str) -> Problem:
    return Problem(
        "crossed",
        "error",
        f"`{part.id}` of the matched set {part.matched} is crossed: {how}",
        why="what ran in with one piece binds or leaks on another",
        fix="read both marks again; if they do differ, take it off and put each with its own",
    )


def _twice(state: State, what: Fitted, earlier: Sequence[Entry]) -> Iterator[Problem]:
    """Yield an objection where a serial number is recorded for another part already."""
    parts = {one.id: one for one in state.assembly.parts}
    own = set_of(parts[what.part]) if what.part in parts else None
    for entry in reversed(earlier) if what.serial else ():
        other = entry.what
        if not isinstance(other, Fitted) or other.serial != what.serial or other.part == what.part:
            continue
        if own is not None and other.part in parts and set_of(parts[other.part]) == own:
            continue  # a matched set may bear one number
        yield Problem(
            "serial-twice",
            "warning",
            f"serial {what.serial} is recorded for `{other.part}` already (entry {entry.number})",
            why="one piece has one place: one of the two entries is wrong",
            fix="read the number again; correct the earlier entry if that is the wrong one",
        )
        return
