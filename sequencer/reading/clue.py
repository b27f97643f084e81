"""What is known where the YAML breaks off: the parser's words, its place, and the lines."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.problem import Place, Problem
from sequencer.reading.mending import value_in_quotes

if TYPE_CHECKING:
    from sequencer.reading.source import Source

_LONGEST_LINE = 2000  # of a longer line only this much is looked at
WHY_ENDS = "nothing after this line could be read, so other faults may follow"


@dataclass(frozen=True, slots=True)
class Clue:
    """What the parser said (`what`, while doing `context`), and where it stood."""

    source: Source
    what: str
    context: str
    line: int
    column: int
    from_line: int
    from_column: int

    def text(self, line: int) -> str:
        """Return as much of a line as is looked at."""
        return self.source.line(line)[:_LONGEST_LINE]

    @property
    def here(self) -> str:
        """The line where the parser stood."""
        return self.text(self.line)

    @property
    def indent(self) -> int:
        """How far that line is set in."""
        return indent_of(self.here)

    def above(self) -> int:
        """Return the number of the last line above that is not empty, or -1."""
        line = self.line - 1
        while line >= 0 and not self.source.line(line).strip():
            line -= 1
        return line

    def problem(self, code: str, message: str, fix: str, at: tuple[int, int, int]) -> Problem:
        """Return the problem of a slip at a line, a column and a width, counted from 0."""
        line, column, width = at
        place = Place(self.source.name, line + 1, column + 1, max(width, 1))
        return Problem(code, "error", message, why=WHY_ENDS, fix=fix, place=place)

    def unquoted(self, message: str, fix: str, at: tuple[int, int, int]) -> Problem:
        """Return the problem of a value that should stand in quotation marks, with the edit."""
        line, column, _ = at
        mend = value_in_quotes(self.source, line, column)
        return replace(self.problem("needs-quotes", message, fix, at), mend=mend)


def rest_of_line(clue: Clue) -> tuple[int, int, int]:
    """Return the span from where the parser stood to the end of the line."""
    width = len(clue.here.rstrip()) - clue.column
    return clue.line, clue.column, width


def indent_of(text: str) -> int:
    """Return how far a line is set in."""
    return len(text) - len(text.lstrip())
