"""A row of marks that is broken into lines: what belongs to a step stays on one line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark of the row: what it is, how wide, what it says."""

    kind: str
    width: float
    text: str = ""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Steps under one title, each with its marks; `title_width` is what the title takes."""

    title: str
    title_width: float
    steps: tuple[tuple[Mark, ...], ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """A mark at its place; `step` counts the steps of the whole row from 0."""

    mark: Mark
    left: float
    step: int

    @property
    def right(self) -> float:
        """Where the mark ends."""
        return self.left + self.mark.width


@dataclass(frozen=True, slots=True)
class Heading:
    """A title over its part of a line."""

    title: str
    left: float
    right: float
    continued: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the row."""

    marks: tuple[Standing, ...]
    headings: tuple[Heading, ...]


def flow(
    stretches: Sequence[Stretch],
    width: float,
    *,
    between_marks: float,
    between_steps: float,
    between_stretches: float,
) -> tuple[Line, ...]:
    """Break a row of marks into lines, all lengths in mm.

    Parameters
    ----------
    stretches : sequence of Stretch
        The row.
    width : float
        How wide a line may be; only a step whose marks are wider than that alone is wider.
    between_marks, between_steps, between_stretches : float
        What is left free.

    Returns
    -------
    tuple of Line
        Every mark once, in the order given. A title stands over each line that its stretch is
        on, and has what it takes where the line is wide enough.
    """
    writer = _Writer(width, between_marks, between_steps, between_stretches)
    for stretch in stretches:
        writer.write(stretch)
    writer.end_line()
    return tuple(writer.lines)


class _Writer:
    """Sets marks from left to right and begins a new line where the next step has no room."""

    def __init__(self, width: float, marks: float, steps: float, stretches: float) -> None:
        self.width = width
        self.gaps = marks, steps, stretches
        self.lines: list[Line] = []
        self.step = 0
        self._clear()

    def _clear(self) -> None:
        self.marks: list[Standing] = []
        self.headings: list[Heading] = []
        self.x = 0.0

    def end_line(self) -> None:
        if self.marks:
            self.lines.append(Line(tuple(self.marks), tuple(self.headings)))
        self._clear()

    def write(self, stretch: Stretch) -> None:
        between_marks, between_steps, between_stretches = self.gaps
        left, continued = self._begun(stretch, between_stretches), False
        for marks in stretch.steps:
            wide = sum(mark.width for mark in marks) + between_marks * (len(marks) - 1)
            if self.x + wide > self.width and self.x > left:
                self._head(stretch, left, continued=continued)
                self.end_line()
                left, continued = 0.0, True
            for mark in marks:
                self.marks.append(Standing(mark, self.x, self.step))
                self.x += mark.width + between_marks
            self.x += between_steps - between_marks
            self.step += 1
        self.x -= between_steps
        self._head(stretch, left, continued=continued)

    def _begun(self, stretch: Stretch, gap: float) -> float:
        """Go to where a stretch may begin: its title and first step must have room."""
        first = sum(mark.width for mark in stretch.steps[0])
        first += self.gaps[0] * (len(stretch.steps[0]) - 1)
        if self.marks:
            self.x += gap
            if self.x + max(first, stretch.title_width) > self.width:
                self.end_line()
        return self.x

    def _head(self, stretch: Stretch, left: float, *, continued: bool) -> None:
        right = max(mark.right for mark in self.marks)
        self.x = right = max(right, min(left + stretch.title_width, self.width))
        self.headings.append(Heading(stretch.title, left, right, continued))
