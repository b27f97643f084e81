"""One page of boxes in rows: where each stands from left to right, and the lines between them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.drawing.crossing import ordered
from sequencer.drawing.placing import placed

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sequencer.drawing.ink import Point
    from sequencer.drawing.layered import Room

Edge = tuple[int, int]
_PORTS = 0.6  # the part of a box's edge that lines begin and end on


@dataclass(frozen=True, slots=True)
class Box:
    """A box at its place, from the top left of the page."""

    item: int
    left: float
    top: float


@dataclass(frozen=True, slots=True)
class Link:
    """A line from the foot of one box to the head of another, down through the rows between.

    Its points come in pairs: from the first of a pair to the second it bends through the gap
    between two rows, from there to the next pair it runs straight through a row.
    """

    edge: Edge
    points: tuple[Point, ...]


def linked(
    rows: Mapping[int, int],
    edges: Sequence[Edge],
    group: Mapping[int, int],
    tops: Sequence[float],
    room: Room,
) -> tuple[tuple[Box, ...], tuple[Link, ...]]:
    """Return the boxes of a page at their places, and its lines.

    Parameters
    ----------
    rows, group : mapping of int to int
        The row and the group of each box.
    edges : sequence of (int, int)
        The lines, each to a box in a lower row.
    tops : sequence of float
        Where the boxes of each row begin.
    room : Room
        How wide the page and its boxes are, and how far apart.
    """
    items: list[list[int]] = [[] for _ in tops]
    for box, row in rows.items():
        items[row].append(box)
    chains, groups = _chains(rows, edges, group, items)
    steps = [step for chain in chains.values() for step in pairwise(chain)]
    half = {item: room.box_width / 2 if item in rows else 0.0 for item in groups}
    middle = placed(ordered(items, steps, groups), steps, half, room.apart, room.width)
    ports = _ports(chains, middle, room.box_width * _PORTS)
    boxes = (Box(box, middle[box] - room.box_width / 2, tops[row]) for box, row in rows.items())
    bands = [(top, top + room.box_height) for top in tops]
    links = (
        Link(edge, tuple(_points(chain, ports[edge], middle, bands[rows[edge[0]] :])))
        for edge, chain in chains.items()
    )
    return tuple(boxes), tuple(links)


def _chains(
    rows: Mapping[int, int], edges: Iterable[Edge], group: Mapping[int, int], items: list[list[int]]
) -> tuple[dict[Edge, list[int]], dict[int, int]]:
    """Give each line an item in every row that it passes through, of the group it comes from."""
    groups = dict(group)
    chains: dict[Edge, list[int]] = {}
    spare = max(rows) + 1
    for one, other in edges:
        passed = range(spare, spare + rows[other] - rows[one] - 1)
        for at, item in enumerate(passed, start=rows[one] + 1):
            items[at].append(item)
            groups[item] = group[one]
        chains[one, other] = [one, *passed, other]
        spare += len(passed)
    return chains, groups


def _points(
    chain: Sequence[int],
    ports: Point,
    middle: Mapping[int, float],
    bands: Sequence[tuple[float, float]],
) -> Iterable[Point]:
    """Yield the points of a line: where it leaves a box, passes rows, and comes to a box."""
    yield ports[0], bands[0][1]
    for item, (top, bottom) in zip(chain[1:-1], bands[1:], strict=False):
        yield middle[item], top
        yield middle[item], bottom
    yield ports[1], bands[len(chain) - 1][0]


def _ports(
    chains: Mapping[Edge, Sequence[int]], middle: Mapping[int, float], wide: float
) -> dict[Edge, Point]:
    """Return where each line leaves and where it comes, side by side as they lead away."""
    leaving: dict[int, list[tuple[float, Edge]]] = {}
    coming: dict[int, list[tuple[float, Edge]]] = {}
    for edge, chain in chains.items():
        leaving.setdefault(edge[0], []).append((middle[chain[1]], edge))
        coming.setdefault(edge[1], []).append((middle[chain[-2]], edge))
    starts, ends = _spread(leaving, middle, wide), _spread(coming, middle, wide)
    return {edge: (starts[edge], ends[edge]) for edge in chains}


def _spread(
    ways: Mapping[int, list[tuple[float, Edge]]], middle: Mapping[int, float], wide: float
) -> dict[Edge, float]:
    return {
        edge: middle[box] + wide * ((at + 0.5) / len(found) - 0.5)
        for box, found in ways.items()
        for at, (_, edge) in enumerate(sorted(found))
    }
