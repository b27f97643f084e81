"""Names of other things: what a step waits for, builds on, fits, tightens and makes fast."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING, Any

from sequencer.model.common import Link
from sequencer.model.fields import Figure, Links, Text
from sequencer.model.steps import Fit
from sequencer.problem import Fact, Problem
from sequencer.reading.fields import unknown_field
from sequencer.reading.names import ALL, Mention, either, id_problem
from sequencer.reading.nodes import Mapping, Scalar, is_empty
from sequencer.reading.plain import wrong_kind
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.fields import Choices, Fitted
    from sequencer.problem import Path, Severity
    from sequencer.reading.binder import Binder
    from sequencer.reading.nodes import Node

_COUNTED = re.compile(r"(?P<count>[0-9]{1,6})(?:\s*×\s*|\s+[xX]\s+|[xX]\s+|\s+)(?P<part>\S+)")
_WORDS = Text()
_REMARKS = ("why", "source")
_TIMES = ("wait", "within")
_TIME = Figure(("time",))
_ASKED = {
    ("section", "step"): "to wait for the section is to wait for all of its steps",
    ("joint", "step"): "a joint is made fast by what tightens it, a step by what secures it",
}
"""Pairs of kinds of which a plain name could mean either, and why that matters."""


def read_links(binder: Binder, kind: Links, node: Node, path: Path) -> tuple[Link, ...] | None:
    """Return the things named, each with the author's reason."""
    links: list[Link] = []
    seen: dict[tuple[str, str], Node] = {}
    for index, item in binder.items(node, path):
        link = _link(binder, kind, item, (*path, index))
        if link is None:
            continue
        first = seen.setdefault((link.kind, link.to), item)
        if first is not item:
            binder.faults.add(
                _named_twice(binder, link.to, first, "warning"),
                binder.source.place(item),
                (*path, index),
            )
        if kind.one and links:
            binder.fault(_only_one(kind, links[0]), item, (*path, index))
            return None
        links.append(link)
    return tuple(links)


def _only_one(kind: Links, first: Link) -> Problem:
    wanted = either(_kinds(kind))
    message = f"one {wanted} is wanted here, and `{shortened(first.to)}` is not the only one"
    return wrong_kind(message, f"keep one {wanted}")


def read_choices(
    binder: Binder, kind: Choices, node: Node, path: Path
) -> tuple[tuple[Link, ...], ...]:
    """Return the things named; those of a list inside the list are alternatives."""
    of_one = Links(kind.kinds)
    entries = []
    seen: dict[frozenset[str], Node] = {}
    for index, item in binder.items(node, path):
        entry = read_links(binder, of_one, item, (*path, index))
        if not entry:
            continue
        names = [link.to for link in entry]
        first = seen.setdefault(frozenset(names), item)
        if first is not item:
            problem = _named_twice(binder, " or ".join(names), first, "warning")
            binder.faults.add(problem, binder.source.place(item), (*path, index))
        entries.append(entry)
    return tuple(entries)


def _named_twice(binder: Binder, name: str, first: Node, severity: Severity) -> Problem:
    return Problem(
        "named-twice",
        severity,
        f"`{shortened(name)}` is named twice in one list",
        facts=(Fact("it is named here first", place=binder.source.place(first)),),
        why="one of them may have been meant for something else",
        fix="delete one of them; if another name was meant, write that",
    )


def _link(binder: Binder, kind: Links, node: Node, path: Path) -> Link | None:
    if isinstance(node, Mapping):
        return _long_link(binder, kind, node, path)
    if not isinstance(node, Scalar):
        message = f"the name of a {either(_kinds(kind))} is wanted here, and this is a list"
        fix = "take the inner brackets away"
        binder.fault(wrong_kind(message, fix), node, path)
        return None
    if _means_all(kind, node):
        return Link(ALL, ALL)
    kinds = _kinds(kind)
    name = _name(binder, kinds, node, path)
    if name is None:
        return None
    there = binder.names.kinds_with(name, kinds)
    if there[:2] in _ASKED:
        _ambiguous(binder, name, (node, there[:2]), path)
        return None
    return Link(name, there[0] if there else kinds[0])


@cache
def _kinds(kind: Links) -> tuple[str, ...]:
    """Return the kinds of which a thing can have a name of its own."""
    return tuple(name for name in kind.kinds if name != ALL)


def _means_all(kind: Links, node: Scalar) -> bool:
    return ALL in kind.kinds and node.text.strip() == ALL


def _ambiguous(binder: Binder, name: str, entry: tuple[Node, tuple[str, ...]], path: Path) -> None:
    node, kinds = entry
    one, other = kinds
    facts = tuple(
        Fact(f"`{name}` is a {kind} here", place=binder.names.place(kind, name, binder.source))
        for kind in kinds
    )
    message = f"`{name}` is both a {one} and a {other}"
    fix = f"write `{{{one}: {name}}}` or `{{{other}: {name}}}`"
    why = _ASKED[one, other]
    problem = Problem("ambiguous", "error", message, facts=facts, why=why, fix=fix)
    binder.fault(problem, node, path)


def _name(binder: Binder, kinds: tuple[str, ...], node: Scalar, path: Path) -> str | None:
    """Return the name typed, and note that it must be somebody's."""
    name = node.text.strip(" \t\r\n")
    if not name:
        return None
    binder.names.mention(Mention(kinds, name, node, path))
    return name


def _long_link(binder: Binder, kind: Links, node: Mapping, path: Path) -> Link | None:
    found: dict[str, Node] = {}
    remarks: dict[str, Any] = {}
    times = _TIMES if "section" in kind.kinds else ()
    for key, name, value in binder.entries(node, path):
        if name in _kinds(kind):
            found[name] = value
        elif name in _REMARKS:
            remarks[name] = binder.words(name, value, (*path, name))
        elif name in times:
            remarks[name] = binder.read(_TIME, value, (*path, name))
        else:
            problem = unknown_field(Link, name, (*_kinds(kind), *_REMARKS, *times))
            binder.fault(problem, key, (*path, name))
    if len(found) != 1:
        _not_one(binder, kind, (node, tuple(found)), path)
        return None
    ((which, value),) = found.items()
    if not binder.is_sound(value, path):
        return None
    if is_empty(value):
        _not_one(binder, kind, (node, ()), path)
        return None
    if not isinstance(value, Scalar):
        message = f"the name of one {which} is wanted here"
        fix = "write an entry of its own for each"
        binder.fault(wrong_kind(message, fix), value, path)
        return None
    if which == "step" and _means_all(kind, value):
        return Link(ALL, ALL, **remarks)
    to = _name(binder, (which,), value, path)
    return Link(to, which, **remarks) if to else None


def _not_one(
    binder: Binder, kind: Links, entry: tuple[Mapping, tuple[str, ...]], path: Path
) -> None:
    node, found = entry
    if binder.faults.sound(path):
        kinds = _kinds(kind)
        what = f"a {' and a '.join(found)} at once" if found else f"no {either(kinds)}"
        message = f"this names {what}"
        fix = f"write one entry such as `{kinds[0]}: name`, and `why: …` beside it"
        binder.fault(wrong_kind(message, fix), node, path)


def read_fitted(binder: Binder, _kind: Fitted, node: Node, path: Path) -> tuple[Fit, ...] | None:
    """Return the parts that a step fits, with counts and the way round."""
    fits: list[Fit] = []
    seen: dict[str, Node] = {}
    for _, item in binder.items(node, path):
        for name, facing in _pairs(binder, item, path):
            fit = _fit(binder, name, facing, (*path, len(fits)))
            if fit is None:
                continue
            first = seen.setdefault(fit.part, name)
            if first is not name:
                problem = _named_twice(binder, fit.part, first, "error")
                binder.fault(problem, name, path)
            fits.append(fit)
    return tuple(fits)


def _pairs(binder: Binder, item: Node, path: Path) -> Iterator[tuple[Node, Node | None]]:
    """Yield each part named by an entry of `fits`, with the way round where that is given."""
    if not isinstance(item, Mapping):
        yield item, None
        return
    for key, _, value in binder.entries(item, path):
        yield key, value


def _fit(binder: Binder, node: Node, facing: Node | None, path: Path) -> Fit | None:
    if not isinstance(node, Scalar):
        message = "the name of a part is wanted here, and this is a list"
        fix = "take the inner brackets away"
        binder.fault(wrong_kind(message, fix), node, path)
        return None
    text = node.text.strip(" \t\r\n")
    if not text:
        return None
    counted = None if text in binder.names.keys["part"] else _COUNTED.fullmatch(text)
    count = int(counted["count"]) if counted else None
    part = counted["part"] if counted else text
    if count == 0:
        message = f"`{shortened(text)}` fits none at all"
        fix = "write how many are fitted here, or leave the part out"
        why = "a step that fits nothing of a part has no need to name it"
        binder.fault(Problem("whole-number", "error", message, why=why, fix=fix), node, path)
        return None
    problem = _no_part(binder, part, facing)
    if problem:
        binder.fault(problem, node, path)
        return None
    binder.names.mention(Mention(("part",), part, node, path))
    binder.names.fit(part, str(path[1]), node)
    way_round = binder.read(_WORDS, facing, path) if facing is not None else None
    return Fit(part, count, way_round or "")


def _no_part(binder: Binder, part: str, facing: Node | None) -> Problem | None:
    """Tell why a name that `fits` would declare cannot be a part's."""
    if not binder.names.by_use("part"):
        return None
    problem = id_problem(part)
    if problem is None or facing is not None:
        return problem
    pieces = [piece.strip() for piece in part.split(",")]
    if len(pieces) > 1:
        fix = f"put brackets round a list: `[{shortened(part)}]`"
        message = f"`{shortened(part)}` is not the id of one part"
        return replace(problem, message=message, fix=fix)
    return problem
