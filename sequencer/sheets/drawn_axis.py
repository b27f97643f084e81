"""A line drawn: the parts on a shaft or in a bore, the ways in at its ends and what shuts them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.drawing.axis import Place, along
from sequencer.drawing.ink import (
    FRAME,
    HAIR,
    HEAD,
    Drawing,
    Stroke,
    Words,
    box,
    chain,
    drawn_together,
)
from sequencer.drawing.placing import nearest
from sequencer.model.quantities import to_si
from sequencer.sheets.letters import centred, cut, ending, wide

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.drawing.axis import Axis, Span
    from sequencer.model.lines import Line, LineEnd, LinePlace
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job

_LARGE, _SMALL = (69.0, 20.0), (52.0, 12.0)
"""How long a drawing is between its ends, and how high above the axis, in mm."""
_ARROW, _STUB, _BLOCK = 9.0, 4.0, 2.2
_END = _ARROW + _BLOCK + _STUB
_WALL = 3.5
_PADDING = 2.0  # between what stands below the two ends
_WIDEST = 100.0  # what a card leaves beside its labels
_SIZE = 11.0  # of letters, in pt: cards have none that are smaller
_LABELS, _LEADER, _FOOT = 4.2, 1.4, 6.4
_CENTRE = "5 1 0.8 1"
_LATER = "0.9 0.9"
_ON, _NOW, _TO_COME = "on", "now", "to come"


@dataclass(frozen=True, slots=True)
class LineDrawing:
    """A drawn line, and what stands below it: which parts these are, and what is to scale."""

    drawing: Drawing
    words: str


def line_drawings(job: Job, step: Step) -> Iterator[LineDrawing]:
    """Yield the lines that a step puts a part on, as they are when it is done.

    On the first card of a line the drawing is large, and its parts are named.
    """
    number = job.number.get(step.id)
    if number is None:
        return
    own = {fit.part for fit in step.fits}
    for line, way in zip(*_lines(job, step, own), strict=True):
        parts = [link.to for place in line.order for link in place.part]
        fitted = [at for part in parts for at in job.course.fitted_in.get(part, ())]
        drawn = _Drawn(job, line, number, own, way, _LARGE if min(fitted) == number else _SMALL)
        yield LineDrawing(drawn.drawing(), drawn.words() if min(fitted) == number else "")


def _lines(job: Job, step: Step, own: set[str]) -> tuple[list[Line], list[str]]:
    """Return the lines that a step fits parts of, each with the end that they come from.

    The planner tells the ways of lines after all others, one for each place.
    """
    found = [
        line
        for line in job.assembly.lines
        for place in line.order
        if any(link.to in own for link in place.part)
    ]
    ways = job.facts_of(step).ways_in[-len(found) :] if found else ()
    named = [*([""] * (len(found) - len(ways))), *ways]
    last = {line.id: (line, way) for line, way in zip(found, named, strict=True)}
    return [line for line, _ in last.values()], [way for _, way in last.values()]


class _Drawn:
    """One line, in strokes and words."""

    def __init__(
        self, job: Job, line: Line, number: int, own: set[str], way: str, room: tuple[float, float]
    ) -> None:
        self.job = job
        self.line = line
        self.number = number
        self.way = way
        self.inside = bool(line.bore)
        self.states = [self._state(place, own) for place in line.order]
        length, height = room
        wall = _WALL if self.inside else 0.0
        places = [_place(place, inside=self.inside) for place in line.order]
        self.axis: Axis = along(places, length, height - wall, inside=self.inside)
        self.top = _LABELS + _LEADER
        self.middle = self.top + height  # the height of the axis on the page
        self.outermost = max(max(span.seat, span.far) for span in self.axis.spans) + wall
        self.right = self.axis.length + 2 * _END

    def _state(self, place: LinePlace, own: set[str]) -> str:
        """Tell whether the part of a place is on, is put on now, or is to come."""
        parts = [link.to for link in place.part]
        if any(part in own for part in parts):
            return _NOW
        return _ON if any(self._is_on(part) for part in parts) else _TO_COME

    def _is_on(self, part: str) -> bool:
        course = self.job.course
        on = [at for at in course.fitted_in.get(part, ()) if at < self.number]
        off = [at for at in course.off_in.get(part, ()) if at < self.number]
        first = 0 if self.job.parts[part].at_start else -1
        return max(on, default=first) >= max(off, default=0)

    def drawing(self) -> Drawing:
        says = f"Parts along {self.line.id}, half of them, from {self._end_name(0)}"
        ends = [self._end_told(at) for at in (0, 1)]
        wide_ends = sum(wide(text, _SIZE, weight) for text, weight in ends) + 3 * _PADDING
        width = max(self.right, min(_WIDEST, wide_ends))
        words = (*self._labels(), *self._end_words(ends, width))
        return Drawing(width, self.middle + _FOOT, says, tuple(self._strokes()), words)

    def words(self) -> str:
        """Return which parts these are, from the first end to the second, and the scale."""
        bases = [self.job.parts[link.to].label for link in (*self.line.shaft, *self.line.bore)]
        where = f"{'In' if self.inside else 'On'} {' and '.join(bases)}"
        names = [self._name(place) for place in self.line.order if place.part]
        ends = f"from {self._end_name(0)} to {self._end_name(1)}"
        return f"{where}, {ends}: {' · '.join(names)}. The upper half, {self.axis.scale}."

    def _name(self, place: LinePlace) -> str:
        part = place.part[0].to
        label, step = self.job.parts[part].label, self._step_of(place)
        return f"{step} {label}" if step else label

    def _step_of(self, place: LinePlace) -> str:
        fitted = [at for link in place.part for at in self.job.course.fitted_in.get(link.to, ())]
        return str(min(fitted)) if fitted else ""

    def _end(self, at: int) -> LineEnd | None:
        return self.line.ends[at] if at < len(self.line.ends) else None

    def _end_name(self, at: int) -> str:
        end = self._end(at)
        return end.name if end is not None else ("first end", "second end")[at]

    def _strokes(self) -> Iterator[Stroke]:
        outlines: dict[str, list[str]] = {_ON: [], _NOW: [], _TO_COME: []}
        for span, place, state in zip(self.axis.spans, self.line.order, self.states, strict=True):
            if place.part:
                outlines[state].append(self._outline(span))
        yield Stroke(chain([(0, self.middle), (self.right, self.middle)]), HAIR, _CENTRE)
        if outlines[_TO_COME]:
            yield Stroke(drawn_together(outlines[_TO_COME]), HAIR, _LATER)
        if outlines[_ON]:
            yield Stroke(drawn_together(outlines[_ON]), FRAME)
        yield Stroke(drawn_together(outlines[_NOW]), FRAME, fill="black")
        yield Stroke(drawn_together(self._base()), HEAD)
        yield from self._ends()
        yield Stroke(drawn_together(self._leaders()), HAIR)

    def _outline(self, span: Span) -> str:
        low, high = sorted((span.seat, span.far))
        return box(_END + span.left, self.middle - high, span.right - span.left, high - low)

    def _base(self) -> Iterator[str]:
        """Yield the surface that the parts sit on, from stub to stub, and the wall about a bore."""
        first, last = self.axis.spans[0], self.axis.spans[-1]
        points = [(_ARROW + _BLOCK, first.seat)]
        for span in self.axis.spans:
            points += [(_END + span.left, span.seat), (_END + span.right, span.seat)]
        points.append((_END + last.right + _STUB, last.seat))
        yield chain([(x, self.middle - up) for x, up in points])
        if self.inside:
            top = self.middle - self.outermost
            yield chain([(points[0][0], top), (points[-1][0], top)])

    def _ends(self) -> Iterator[Stroke]:
        for at, x in enumerate((_ARROW, self.right - _ARROW - _BLOCK)):
            end = self._end(at)
            solid, dashed = self._shut(end, x)
            if solid:
                yield Stroke(solid, 0, fill="black")
            if dashed:
                yield Stroke(dashed, FRAME, _LATER)
        if self.way in (self._end_name(0), self._end_name(1)):
            yield Stroke(self._arrow(from_left=self.way == self._end_name(0)), 0, fill="black")

    def _shut(self, end: LineEnd | None, x: float) -> tuple[str, str]:
        """Return what shuts an end now, and what will shut it."""
        if end is None:
            return "", ""
        whole = box(x, self.middle - self.outermost, _BLOCK, self.outermost)
        if end.is_.text == "shut" or any(self._is_on(link.to) for link in end.shut_by):
            return whole, ""
        if end.is_.size is not None:
            high = self.outermost * 0.6
            low = 0.0 if not self.inside else self.outermost - high
            return box(x, self.middle - low - high, _BLOCK, high), ""
        return "", whole if end.shut_by else ""

    def _arrow(self, *, from_left: bool) -> str:
        """Return the arrow along which the part comes, at the height where it goes."""
        now = next(
            span for span, state in zip(self.axis.spans, self.states, strict=True) if state == _NOW
        )
        y = self.middle - (now.seat + now.far) / 2
        start, tip = (0.4, _ARROW - 1) if from_left else (self.right - 0.4, self.right - _ARROW + 1)
        neck = tip - 3.2 if from_left else tip + 3.2
        points = [(start, -0.5), (neck, -0.5), (neck, -1.6), (tip, 0)]
        points += [(x, -up) for x, up in reversed(points[:-1])]
        return chain([(x, y + up) for x, up in points], closed=True)

    def _labelled(self) -> list[tuple[Span, str, str]]:
        return [
            (span, self._step_of(place), state)
            for span, place, state in zip(
                self.axis.spans, self.line.order, self.states, strict=True
            )
            if self._step_of(place)
        ]

    def _label_places(self) -> list[float]:
        found = self._labelled()
        wanted = [_END + (span.left + span.right) / 2 for span, _, _ in found]
        half = [wide(text, _SIZE, 900) / 2 for _, text, _ in found]
        gaps = [one + other + 1.2 for one, other in pairwise(half)]
        room = half[0], self.right - half[-1]
        return nearest(wanted, [1.0] * len(found), gaps, room)

    def _labels(self) -> Iterator[Words]:
        for x, (_, text, state) in zip(self._label_places(), self._labelled(), strict=True):
            weight = 900 if state == _NOW else 400
            yield centred(x, _LABELS - 0.9, text, _SIZE, weight)

    def _leaders(self) -> Iterator[str]:
        for x, (span, _, _) in zip(self._label_places(), self._labelled(), strict=True):
            to = _END + (span.left + span.right) / 2
            high = self.middle - max(span.seat, span.far)
            yield chain([(x, _LABELS), (to, self.top), (to, high)])

    def _end_told(self, at: int) -> tuple[str, int]:
        """Return what stands below an end, and how heavy: the one to come from is bolder."""
        name = self._end_name(at)
        return f"{name}: {self._how(self._end(at))}", 600 if self.way == name else 400

    def _end_words(self, ends: Sequence[tuple[str, int]], width: float) -> Iterator[Words]:
        y = self.middle + _FOOT - 1.4
        (first, weight), (second, other) = ends
        first = cut(
            first, width - _PADDING - min(wide(second, _SIZE, other), width / 2), _SIZE, weight
        )
        second = cut(second, width - _PADDING - wide(first, _SIZE, weight), _SIZE, other)
        yield Words(0, y, first, _SIZE, weight)
        yield ending(width, y, second, _SIZE, other)

    def _how(self, end: LineEnd | None) -> str:
        """Say how an end is at this step."""
        if end is None:
            return "open"
        shutting = [link.to for link in end.shut_by]
        for part in shutting:
            if self._is_on(part):
                return f"shut by {self.job.parts[part].label}"
        steps = [at for part in shutting for at in self.job.course.fitted_in.get(part, ())]
        until = f" until step {min(steps)}" if steps and min(steps) > self.number else ""
        return (end.is_.text or "open") + until


def _place(place: LinePlace, *, inside: bool) -> Place:
    length = _millimetres(place.width)
    if place.shoulder is not None:
        return Place(length, _millimetres(place.shoulder), None, is_shoulder=True)
    if inside:
        return Place(length, _millimetres(place.seat or place.od), _millimetres(place.bore))
    return Place(length, _millimetres(place.seat or place.bore), _millimetres(place.od))


def _millimetres(amount: Amount | None) -> float | None:
    return None if amount is None else float(to_si(amount.value, amount.unit)) * 1000
