"""Rules about lines: parts along one axis, on a shaft or in a bore."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.reading.names import either
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.lines import Line, LineEnd, LinePlace
    from sequencer.problem import Path
    from sequencer.reading.source import Sound

_MOST_ENDS = 2
_OF_PARTS_ONLY = ("bore", "seat", "od", "from")
_AXIS = "`shaft: …` with the part that they go on to, or `bore: …` with the part they go into"


def lines_can_be_followed(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield what is wrong with the axis, the ends and the places of each line."""
    single = {part.id for part in assembly.parts if part.quantity == 1}
    single.update(unit.id for unit in assembly.units)
    for line in assembly.lines:
        if not sound(("lines", line.id)):
            continue
        yield from _axis(line)
        yield from _ends(line)
        for at, place in enumerate(line.order):
            yield from _place(line, at, place)
        yield from _twice(line, single)


def _wrong(line: Line, what: str, at: Path, why: str, fix: str) -> Problem:
    return Problem("line", "error", what, path=("lines", line.id, *at), why=why, fix=fix)


def _axis(line: Line) -> Iterator[Problem]:
    why = "on a shaft the bores of the parts have to pass, in a bore their outsides"
    if not line.shaft and not line.bore:
        what = f"line `{line.id}` has neither `shaft` nor `bore`"
        yield _wrong(line, what, (), why, f"write {_AXIS}")
    elif line.shaft and line.bore:
        what = f"line `{line.id}` has both `shaft` and `bore`"
        yield _wrong(line, what, ("bore",), why, "keep one of them, or make a line for each")
    for field, links in (("shaft", line.shaft), ("bore", line.bore)):
        if len({link.to for link in links}) > 1:
            what = f"line `{line.id}` names several parts under `{field}`"
            why = "all places of a line are on one axis of one part"
            yield _wrong(line, what, (field, 1), why, "keep one of them, or make a line for each")


def _ends(line: Line) -> Iterator[Problem]:
    if not line.ends:
        what = f"line `{line.id}` does not say what its ends are called"
        why = "the plan says from which end each part comes"
        fix = "write `ends: {left: open, right: open}`, in the order of the places"
        yield _wrong(line, what, (), why, fix)
    if len(line.ends) > _MOST_ENDS:
        what = f"line `{line.id}` has {len(line.ends)} ends"
        why = "parts come from the first end or from the last, and there is none between"
        at = ("ends", line.ends[_MOST_ENDS].name)
        yield _wrong(line, what, at, why, "keep two, in the order of the places")
    for end in line.ends:
        if end.is_.text == "shut" and end.shut_by:
            yield _shut_twice(line, end)


def _shut_twice(line: Line, end: LineEnd) -> Problem:
    what = f"end `{shortened(end.name)}` of line `{line.id}` is shut, and is shut by parts as well"
    why = "an end that is shut for good cannot be shut by a part"
    fix = "leave `is: shut` out if it is open until that part is on, or else `shut_by`"
    return _wrong(line, what, ("ends", end.name, "shut_by"), why, fix)


def _place(line: Line, at: int, place: LinePlace) -> Iterator[Problem]:
    here: Path = ("order", at)
    what = f"place {at + 1} of line `{line.id}`"
    why = "each place holds one part, or is a shoulder that the others have to pass"
    if len({link.to for link in place.part}) > 1:
        fix = "write an entry for each part, in the order in which they sit"
        yield _wrong(line, f"{what} holds several parts", (*here, "part", 1), why, fix)
    if place.shoulder is None:
        if not place.part:
            fix = "write `part: …`, or `shoulder: …` with its size"
            yield _wrong(line, f"{what} is neither a part nor a shoulder", here, why, fix)
    elif place.part:
        fix = "write two entries, or leave one out"
        both = f"{what} is a part and a shoulder at once"
        yield _wrong(line, both, (*here, "shoulder"), why, fix)
    else:
        yield from _bare_shoulder(line, what, here, place)
    ends = [end.name for end in line.ends]
    if place.from_ and place.part and ends and place.from_ not in ends:
        fix = f"use {either(f'`{shortened(end)}`' for end in ends)}"
        unknown = f"line `{line.id}` has no end `{shortened(place.from_)}`"
        yield _wrong(line, unknown, (*here, "from"), "the part would come from nowhere", fix)
    yield from _on_itself(line, what, here, place)


def _bare_shoulder(line: Line, what: str, here: Path, place: LinePlace) -> Iterator[Problem]:
    sizes = (place.bore, place.seat, place.od, place.from_)
    for field, value in zip(_OF_PARTS_ONLY, sizes, strict=True):
        if value:
            both = f"{what} is a shoulder, and has `{field}` like a part"
            why = "a shoulder is as it is: only its size counts"
            yield _wrong(line, both, (*here, field), why, f"leave `{field}` out")


def _on_itself(line: Line, what: str, here: Path, place: LinePlace) -> Iterator[Problem]:
    axis = {link.to for link in (*line.shaft, *line.bore)}
    for index, link in enumerate(place.part):
        if link.to in axis:
            message = f"{what} holds `{link.to}`, the part that the line is on or in"
            why = "it is there before the parts of the line, and has no place among them"
            yield _wrong(line, message, (*here, "part", index), why, "leave the entry out")


def _twice(line: Line, single: set[str]) -> Iterator[Problem]:
    taken: dict[str, Path] = {}
    for at, place in enumerate(line.order):
        for link in place.part[:1]:
            here: Path = ("lines", line.id, "order", at, "part", 0)
            first = taken.setdefault(link.to, here)
            if first is here or link.to not in single:
                continue
            yield Problem(
                "line",
                "error",
                f"line `{line.id}` has two places for `{link.to}`, of which there is one",
                path=here,
                facts=(Fact("it has a place here too", here), Fact("its first place", first)),
                why="one part cannot sit in two places",
                fix="name the part that is meant, or give its `quantity` under `parts`",
            )
