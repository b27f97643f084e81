"""Boxes in rows with lines from each to what comes after it, over as many pages as it takes."""

from __future__ import annotations

from collections import Counter
from copy import copy
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from sequencer.drawing.linking import linked
from sequencer.drawing.rows import rows_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.drawing.linking import Box, Link

Edge = tuple[int, int]
_HAIR = 0.1  # between the areas of two groups


@dataclass(frozen=True, slots=True)
class Room:
    """What a drawing has room for, in mm: the page, its boxes, and what is left between.

    `head` is left free above a row in which a group begins, besides the `gap`; a row holds at
    most so many boxes.
    """

    width: float
    height: float
    box_width: float
    box_height: float
    gap: float
    apart: float
    head: float
    most: int


@dataclass(frozen=True, slots=True)
class Band:
    """A row of a page: where it starts, where its boxes begin, and where it ends."""

    start: float
    top: float
    end: float


@dataclass(frozen=True, slots=True)
class Away:
    """What a box is joined to by a mark and not by a line: the other box, and its page."""

    item: int
    other: int
    page: int


@dataclass(frozen=True, slots=True)
class Slab:
    """What the boxes of a group take of one row: its edges, from the top left of the page."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Area:
    """What the boxes of a group take of a page, row by row from above."""

    group: int
    slabs: tuple[Slab, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """One page: boxes, lines, and marks for what comes from elsewhere or goes on elsewhere."""

    number: int
    height: float
    boxes: tuple[Box, ...]
    links: tuple[Link, ...]
    coming: tuple[Away, ...]
    going: tuple[Away, ...]
    areas: tuple[Area, ...]


class Layered:
    """Boxes in rows, each below all that comes before it, parted into pages.

    Parameters
    ----------
    count : int
        How many boxes; they are numbered in an order in which every edge points onwards.
    edges : sequence of (int, int)
        What comes directly before what.
    group : sequence of int
        For each box its group; those of a lower one stand further left.
    room : Room
        What there is room for.

    Attributes
    ----------
    count : int
        How many pages it takes.
    """

    def __init__(self, count: int, edges: Sequence[Edge], group: Sequence[int], room: Room) -> None:
        self.edges = edges
        self.group = group
        self.room = room
        self.rows = rows_of(count, edges, room.most)
        self.page_of_row = self._parted()
        self.page_of = [self.page_of_row[row] for row in self.rows]
        self.count = max(self.page_of_row, default=-1) + 1

    def _parted(self) -> list[int]:
        """Return the page of each row: as many rows on a page as go, then about as many on each."""
        every = max(self.rows, default=-1) + 1
        share = min(every, int(self.room.height / (self.room.box_height + self.room.gap)))
        while share > 1 and any(
            self._bands(first, min(first + share, every))[-1].end > self.room.height
            for first in range(0, every, share)
        ):
            share -= 1
        even = ceil(every / ceil(every / share)) if every else 1
        fits = all(
            self._bands(first, min(first + even, every))[-1].end <= self.room.height
            for first in range(0, every, even)
        )
        return [row // (even if fits else share) for row in range(every)]

    def _bands(self, first: int, end: int) -> list[Band]:
        """Return where rows stand that are put on one page."""
        begins: dict[int, int] = {}
        for box, row in enumerate(self.rows):
            if first <= row < end:
                begins[self.group[box]] = min(row, begins.get(self.group[box], row))
        heads = set(begins.values())
        room, y = self.room, 0.0
        bands: list[Band] = []
        for row in range(first, end):
            top = y + room.gap / 2 + (room.head if row in heads else 0.0)
            bands.append(Band(y, top, top + room.box_height + room.gap / 2))
            y = bands[-1].end
        return bands

    def stretched(self, widest: float) -> Layered:
        """Return the same rows with wider gaps, up to so many mm, where the pages leave room."""
        rows = max(self.page_of_row.count(page) for page in range(self.count))
        taken = max(self._bands(*self._rows_of(page))[-1].end for page in range(self.count))
        gap = min(widest, self.room.gap + (self.room.height - taken) / rows - _HAIR / rows)
        if gap <= self.room.gap:
            return self
        wider = copy(self)
        wider.room = replace(self.room, gap=gap)
        return wider

    def _rows_of(self, page: int) -> tuple[int, int]:
        """Return the first row of a page and the one after its last."""
        first = self.page_of_row.index(page)
        return first, first + self.page_of_row.count(page)

    def pages(self) -> tuple[Page, ...]:
        """Return every page.

        Every box stands once. Every edge is a line, or is marked at both of its ends: where these
        stand on different pages, and where there is no room for so many lines beside the boxes;
        the longest are marked then.
        """
        drawn, marked = self._with_room()
        return tuple(self._page(number, drawn, marked) for number in range(self.count))

    def _with_room(self) -> tuple[list[Edge], list[Edge]]:
        """Part the edges into those that can be drawn and the others, both in order."""
        room = self.room
        free = {
            row: int((room.width + room.apart) / room.apart + 1e-6)
            - ceil(held * (room.box_width + room.apart) / room.apart - 1e-6)
            for row, held in Counter(self.rows).items()
        }
        kept: list[Edge] = []
        left: list[Edge] = []
        for one, other in sorted(self.edges, key=self._length):
            between = range(self.rows[one] + 1, self.rows[other])
            if self.page_of[one] == self.page_of[other] and all(free[row] > 0 for row in between):
                for row in between:
                    free[row] -= 1
                kept.append((one, other))
            else:
                left.append((one, other))
        return sorted(kept), sorted(left)

    def _length(self, edge: Edge) -> int:
        return self.rows[edge[1]] - self.rows[edge[0]]

    def _page(self, number: int, drawn: Sequence[Edge], marked: Sequence[Edge]) -> Page:
        first, end = self._rows_of(number)
        bands = self._bands(first, end)
        here = [box for box, page in enumerate(self.page_of) if page == number]
        boxes, links = linked(
            {box: self.rows[box] - first for box in here},
            [edge for edge in drawn if self.page_of[edge[0]] == number],
            {box: self.group[box] for box in here},
            [band.top for band in bands],
            self.room,
        )
        page_of = self.page_of
        return Page(
            number,
            bands[-1].end,
            boxes,
            links,
            tuple(_by_box(Away(b, a, page_of[a]) for a, b in marked if page_of[b] == number)),
            tuple(_by_box(Away(a, b, page_of[b]) for a, b in marked if page_of[a] == number)),
            tuple(self._areas(boxes, bands)),
        )

    def _areas(self, boxes: Sequence[Box], bands: Sequence[Band]) -> Iterator[Area]:
        room = self.room
        around = room.apart / 2 - _HAIR
        band_of = {band.top: band for band in bands}
        found: dict[int, dict[float, Slab]] = {}
        for box in boxes:
            slabs = found.setdefault(self.group[box.item], {})
            left, right = box.left - around, box.left + room.box_width + around
            if box.top in slabs:
                left, right = min(left, slabs[box.top].left), max(right, slabs[box.top].right)
            band = band_of[box.top]
            slabs[box.top] = Slab(max(left, 0), band.start, min(right, room.width), band.end)
        for group, slabs in sorted(found.items()):
            yield Area(group, tuple(slabs[top] for top in sorted(slabs)))


def _by_box(away: Iterable[Away]) -> list[Away]:
    """Return marks so that those of a box come together, page by page."""
    return sorted(away, key=lambda one: (one.item, one.page, one.other))
