"""The file being read, line by line, and the problems found in it so far."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeAlias

from sequencer.problem import Place, Problem

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.problem import Path
    from sequencer.reading.nodes import Node, Scalar

    Sound: TypeAlias = Callable[[Path], bool]

# Spaces that look like ordinary ones, and characters that have no width at all.
HIDDEN = re.compile(
    "[\u00a0\u00ad\u1680\u180e\u2000-\u200f\u202a-\u202f\u205f-\u2064\u2066-\u206f\u3000\ufeff]"
)
_LONGEST_ADVICE = 70
_QUOTED = frozenset("'\"")


@dataclass(frozen=True, slots=True)
class Source:
    """A file: its name as the user gave it, its lines, and which of them hold a `#`."""

    name: str
    lines: tuple[str, ...]
    hashed: frozenset[int]

    @classmethod
    def of(cls, name: str, lines: tuple[str, ...]) -> Source:
        """Return the source with its `#` lines looked up."""
        return cls(name, lines, frozenset(n for n, line in enumerate(lines) if "#" in line))

    def line(self, number: int) -> str:
        """Return a line by its number from 0; outside the file, an empty one."""
        return self.lines[number] if 0 <= number < len(self.lines) else ""

    def start(self) -> Place:
        """Return the place of the first line."""
        return Place(self.name, 1, 1, max(len(self.line(0)), 1))

    def place(self, node: Node) -> Place:
        """Return where a node stands; of one over several lines, the piece on its first."""
        end = node.end_column
        if node.end_line != node.line:
            end = len(self.line(node.line).rstrip())
        return Place(self.name, node.line + 1, node.column + 1, max(end - node.column, 1))

    def place_in(self, scalar: Scalar, start: int, width: int | None) -> Place:
        """Return where a piece of a scalar's text stands, or all of it where that is unsure."""
        opening = 1 if scalar.style in _QUOTED else 0
        at = scalar.column + opening + start
        end = at + (len(scalar.text) - start if width is None else width)
        typed = self.line(scalar.line)[at - start : at - start + len(scalar.text)]
        if scalar.end_line != scalar.line or typed != scalar.text:
            return self.place(scalar)
        return Place(self.name, scalar.line + 1, at + 1, max(end - at, 1))

    def after(self, node: Node) -> str:
        """Return what follows a node on the line where it ends."""
        return self.line(node.end_line)[node.end_column :]

    def typed(self, node: Node) -> str:
        """Return a node as typed, as far as it stands on one line."""
        end = node.end_column if node.end_line == node.line else None
        return self.line(node.line)[node.column : end]


class Faults:
    """The problems found so far, and which pieces of the model they have spoiled."""

    def __init__(self) -> None:
        self._problems: list[Problem] = []
        self._spoiled: set[Path] = set()

    def add(self, problem: Problem, place: Place | None = None, path: Path | None = None) -> None:
        """Keep a problem, with its place and path where they are given."""
        changes: dict[str, Any] = {} if place is None else {"place": place}
        if path is not None:
            step = path[1] if len(path) > 1 and path[0] == "steps" else None
            changes |= {"path": path, "step": step if isinstance(step, str) else None}
            if problem.severity == "error":
                self.spoil(path)
        self._problems.append(replace(problem, **changes) if changes else problem)

    def supersede(self, problem: Problem) -> None:
        """Keep a problem in the stead of any other at the same place, which has the same cause."""
        others = (other for other in self._problems if _position(other) != _position(problem))
        self._problems = [*others, problem]

    def spoil(self, path: Path) -> None:
        """Note that what is at the path, and so all that holds it, is not as it should be."""
        for length in range(len(path) + 1):
            self._spoiled.add(path[:length])

    def sound(self, path: Path) -> bool:
        """Tell whether no problem was found at the path or inside it."""
        return path not in self._spoiled

    def in_order(self) -> tuple[Problem, ...]:
        """Return the problems in the order of the file; those without a place come first."""
        return tuple(sorted(self._problems, key=_position))


def _position(problem: Problem) -> tuple[int, int]:
    return (problem.place.line, problem.place.column) if problem.place else (0, 0)


def quoted(text: str) -> str:
    r"""Return the text in the quotation marks that YAML needs round it.

    Examples
    --------
    >>> quoted("> 3 mm"), quoted('"O" ring')
    ('"> 3 mm"', '\'"O" ring\'')
    """
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    doubled = text.replace("'", "''")
    return f"'{doubled}'"


def quoting(text: str, what: str = "put quotes round the text") -> str:
    """Return the advice to put quotes round a text, with the text written so if it is short."""
    written = quoted(text.strip())
    return f"{what}: `{written}`" if len(written) <= _LONGEST_ADVICE else what


def shortened(text: str, longest: int = 60) -> str:
    """Return the text on one line, cut with an ellipsis where it is long."""
    flat = " ".join(text.split())
    return flat if len(flat) <= longest else f"{flat[: longest - 1]}…"
