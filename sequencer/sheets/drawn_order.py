"""What must come before what: a drawing of all steps in rows, over as many pages as it takes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from sequencer.drawing.ink import (
    FRAME,
    HAIR,
    THIN,
    Drawing,
    Stroke,
    Words,
    box,
    chain,
    drawn_together,
    foot,
    mm,
    points_in_mm,
)
from sequencer.drawing.layered import Layered, Room
from sequencer.planning.preceding import precedences
from sequencer.sheets.letters import broken, cut, ending, wide
from sequencer.sheets.words import first_sentence, runs_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.drawing.layered import Away, Page, Slab
    from sequencer.drawing.linking import Box as Standing
    from sequencer.drawing.linking import Link
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job

WIDTH = 174.0 - FRAME
_HEIGHT = 218.0  # what a page leaves below the heading, on the lower of the papers, less edges
_TOP = 0.5  # so that outlines are drawn whole
_NUMBER, _TEXT, _MARK, _TITLE = 11.0, 9.0, 8.0, 9.5  # sizes of letters, in pt
_LEADING = 3.5
_PADDING = 1.2
_SAME = 0.02
_CONTINUED = ", continued"
_ABOVE = 6.5  # what a row in which a section begins has above it: a title, a mark below that
_WIDEST_GAP = 7.0

_SIZES = {2: (8.4, 4.8), 1: (5.0, 3.2), 0: (4.4, 2.4)}
"""How high boxes are and what is left between rows, by their lines of text; 0 for one, close."""
_WIDTHS = {3: 48.0, 4: 36.0}
"""How wide boxes are, by how many of them a row may hold."""


def _room(lines: int, most: int) -> Room:
    """Return the room for boxes of so many lines of text, at most so many in a row."""
    high, gap = _SIZES[lines]
    head = _ABOVE - gap / 2
    return Room(WIDTH, _HEIGHT, _WIDTHS[most], high, gap, apart=3.0, head=head, most=most)


_ROOMS = tuple((lines, _room(lines, most)) for lines in _SIZES for most in _WIDTHS)
"""Those that are read most easily first."""


@dataclass(frozen=True, slots=True)
class OrderDrawing:
    """The drawing, page by page; `has_ways` tells whether some line is there for a way in.

    `more` says in words what the marks at the boxes have no room for.
    """

    pages: tuple[Drawing, ...]
    has_ways: bool = False
    more: tuple[str, ...] = ()


def order_drawing(job: Job) -> OrderDrawing:
    """Return the drawing, page by page; its rows are so close that it takes as few as it can."""
    if not job.steps:
        return OrderDrawing(())
    order = [step.id for step in job.steps]
    found = precedences(job.assembly, order)
    edges = [(one.before, one.after) for one in found]
    names = list(dict.fromkeys(step.section for step in job.steps))
    group = [names.index(step.section) for step in job.steps]
    tried = [(lines, Layered(len(order), edges, group, room)) for lines, room in _ROOMS]
    lines, chosen = min(tried, key=lambda one: one[1].count)
    chosen = chosen.stretched(_WIDEST_GAP)
    ways = {(one.before, one.after) for one in found if one.shuts}
    titles = [job.section_title(name) for name in names]
    pages: list[_Inked] = []
    begun: set[int] = set()
    for page in chosen.pages():
        headings = [(title, at in begun) for at, title in enumerate(titles)]
        pages.append(_Inked(job, lines, chosen.room, page, ways, headings))
        begun = begun | {area.group for area in page.areas}
    return OrderDrawing(
        pages=tuple(page.drawing() for page in pages),
        has_ways=bool(ways),
        more=tuple(words for page in pages for words in page.not_said()),
    )


class _Inked:
    """One page in strokes and words."""

    def __init__(
        self,
        job: Job,
        lines: int,
        room: Room,
        page: Page,
        ways: set[tuple[int, int]],
        headings: Sequence[tuple[str, bool]],
    ) -> None:
        self.job = job
        self.lines = lines
        self.headings = headings  # each with whether the section began on an earlier page
        self.room = room
        self.page = page
        self.ways = ways

    def drawing(self) -> Drawing:
        numbers = [one.item + 1 for one in self.page.boxes]
        says = f"Steps {min(numbers)} to {max(numbers)}, each below those that come before it"
        above = [*self._titles(), *self._marks()]
        words = list(above)
        for one in self.page.boxes:
            words += self._named(one, self.job.steps[one.item])
        return Drawing(
            WIDTH, self.page.height + 2 * _TOP, says, tuple(self._strokes(above)), tuple(words)
        )

    def _strokes(self, above: Sequence[Words]) -> Iterator[Stroke]:
        if len(self.headings) > 1:
            outlines = (path for area in self.page.areas for path in _outlines(area.slabs, _TOP))
            yield Stroke(drawn_together(outlines), HAIR, "0.3 1.2")
        solid = [_curve(link, _TOP) for link in self.page.links if link.edge not in self.ways]
        dashed = [_curve(link, _TOP) for link in self.page.links if link.edge in self.ways]
        if solid:
            yield Stroke(drawn_together(solid), THIN)
        if dashed:
            yield Stroke(drawn_together(dashed), THIN, "1.6 0.9")
        yield Stroke(drawn_together(_behind(words) for words in above), 0, fill="white")
        size = self.room.box_width, self.room.box_height
        frames = (box(one.left, _TOP + one.top, *size) for one in self.page.boxes)
        yield Stroke(drawn_together(frames), FRAME, fill="white")

    def _named(self, standing: Standing, step: Step) -> Iterator[Words]:
        left, top = standing.left + _PADDING, _TOP + standing.top
        middle = top + self.room.box_height / 2
        number = str(standing.item + 1)
        yield Words(left, foot(middle, _NUMBER), number, _NUMBER, 900)
        indent = wide(number, _NUMBER, 900) + 1.2
        text = broken(
            _short(self.job, step),
            self.room.box_width - 2 * _PADDING - indent,
            _TEXT,
            max(self.lines, 1),
        )
        first = middle - _LEADING * (len(text) - 1) / 2
        for at, line in enumerate(text):
            yield Words(left + indent, foot(first + at * _LEADING, _TEXT), line, _TEXT)

    def _marked(self) -> Iterator[tuple[Standing, str, str]]:
        """Yield each box that something is marked at: the word, and the steps by their pages."""
        boxes = {one.item: one for one in self.page.boxes}
        for away, word in ((self.page.coming, "from"), (self.page.going, "to")):
            for item, others in groupby(away, key=lambda one: one.item):
                yield boxes[item], word, ", ".join(self._by_pages(list(others)))

    def _by_pages(self, others: Sequence[Away]) -> Iterator[str]:
        for page, there in groupby(others, key=lambda one: one.page):
            numbers = runs_of([one.other + 1 for one in there])
            yield numbers if page == self.page.number else f"{numbers} (p {page + 1})"

    def _marks(self) -> Iterator[Words]:
        for box_, word, told in self._marked():
            text = cut(f"{word} {told}", self.room.box_width, _MARK, 600)
            top = box_.top + _TOP
            if word == "from":
                yield Words(box_.left, top - 0.7, text, _MARK, 600)
            else:
                foot_ = top + self.room.box_height + points_in_mm(_MARK) * 0.75 + 0.5
                yield ending(box_.left + self.room.box_width, foot_, text, _MARK, 600)

    def not_said(self) -> Iterator[str]:
        """Yield the marks that have no room at their boxes, in words."""
        for box_, word, told in self._marked():
            if wide(f"{word} {told}", _MARK, 600) > self.room.box_width:
                come = "comes after" if word == "from" else "comes before"
                yield f"Step {box_.item + 1} {come} {told}"

    def _titles(self) -> Iterator[Words]:
        for area in self.page.areas:
            slab = area.slabs[0]
            room = slab.right - slab.left - 2
            title, has_begun = self.headings[area.group]
            text = _going_on(title, room) if has_begun else ""
            text = text or cut(title, room, _TITLE, 600)
            if text:
                yield Words(slab.left + 1.5, _TOP + slab.top + 2.9, text, _TITLE, 600)


def _going_on(title: str, room: float) -> str:
    """Return the title of a section that began on an earlier page, or nothing without room."""
    kept = cut(title, room - wide(_CONTINUED, _TITLE, 600), _TITLE, 600)
    return f"{kept}{_CONTINUED}" if kept else ""


def _behind(words: Words) -> str:
    """Return the path of a surface that keeps lines off a text."""
    width, high = wide(words.text, words.size, words.weight), points_in_mm(words.size)
    return box(words.x - 0.4, words.y - 0.75 * high, width + 0.8, 0.95 * high)


def _outlines(slabs: Sequence[Slab], top: float) -> Iterator[str]:
    """Yield the outline of what a section takes, in parts where a row is without it."""
    part: list[Slab] = []
    for slab in slabs:
        if part and _is_apart(part[-1], slab):
            yield _outline(part, top)
            part = []
        part.append(slab)
    yield _outline(part, top)


def _is_apart(one: Slab, other: Slab) -> bool:
    return one.bottom < other.top - _SAME or one.right <= other.left or other.right <= one.left


def _outline(slabs: Sequence[Slab], top: float) -> str:
    """Return the outline of rows that touch: down along their right edges, up along the left."""
    right = [(slab.right, top + y) for slab in slabs for y in (slab.top, slab.bottom)]
    left = [(slab.left, top + y) for slab in reversed(slabs) for y in (slab.bottom, slab.top)]
    return chain([*right, *left], closed=True)


def _short(job: Job, step: Step) -> str:
    """Return a few words for a step: the parts that it handles, else the start of its text."""
    return ", ".join(job.part_names(step)) or first_sentence(step.do)


def _curve(link: Link, top: float) -> str:
    """Return the path of a line, bent between the rows and straight through them."""
    pieces: list[str] = []
    points = [(x, y + top) for x, y in link.points]
    for at in range(0, len(points), 2):
        (x0, y0), (x1, y1) = points[at], points[at + 1]
        start = f"M{mm(x0)},{mm(y0)}" if not at else f"V{mm(y0)}"
        middle = (y0 + y1) / 2
        if abs(x1 - x0) < _SAME:
            pieces.append(f"{start}V{mm(y1)}")
        else:
            pieces.append(f"{start}C{mm(x0)},{mm(middle)} {mm(x1)},{mm(middle)} {mm(x1)},{mm(y1)}")
    return "".join(pieces)
