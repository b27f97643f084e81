"""Where the YAML itself breaks off: told by the slip that a person made."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import yaml

from sequencer.problem import Place, Problem
from sequencer.reading.clue import WHY_ENDS, Clue, rest_of_line
from sequencer.reading.slips import RECOGNISERS

if TYPE_CHECKING:
    from sequencer.reading.source import Source


_BEYOND = re.compile(r"\\U(?!000|0010)[0-9A-Fa-f]{8}")
DEEPEST = 20
"""The most levels that lists and mappings may be nested."""


def too_deep() -> Problem:
    """Return the problem of lists and mappings nested beyond the limit."""
    return Problem(
        "too-deep",
        "error",
        f"lists and mappings are nested over {DEEPEST} levels deep here",
        why="no model needs that many; it is more likely a slip with brackets",
        fix="check the brackets and the indentation",
    )


def syntax_problem(error: yaml.YAMLError, source: Source) -> Problem:
    """Return the problem behind an error of the YAML parser, at the place a person would mend."""
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        message = "the file cannot be read as YAML"
        fix = "save it again as plain UTF-8 text"
        return Problem("yaml", "error", message, fix=fix, place=Place(source.name, 1, 1))
    mark = error.problem_mark
    if "nesting depth" in (error.problem or ""):  # the parser's own limit, met while it looks ahead
        return replace(too_deep(), place=Place(source.name, mark.line + 1, mark.column + 1))
    start = error.context_mark or mark
    last = len(source.lines) - 1
    clue = Clue(
        source,
        error.problem or "",
        error.context or "",
        min(mark.line, last),
        mark.column,
        min(start.line, last),
        start.column,
    )
    for recognise in RECOGNISERS:
        problem = recognise(clue)
        if problem is not None:
            return problem
    message = "YAML cannot be read on from here"
    fix = "check the quotation marks, brackets, colons and indentation of this line and the last"
    return clue.problem("yaml", message, fix, rest_of_line(clue))


def escape_problem(source: Source) -> Problem:
    """Return the problem of an escape in double quotes that stands for no character at all."""
    found = next(
        ((n, match) for n, line in enumerate(source.lines) if (match := _BEYOND.search(line))), None
    )
    place = Place(source.name, 1, 1)
    if found:
        place = Place(source.name, found[0] + 1, found[1].start() + 1, len(found[1].group()))
    return Problem(
        "needs-quotes",
        "error",
        "a backslash in double quotation marks stands for a character that does not exist",
        why=WHY_ENDS,
        fix="use single quotation marks, or write the backslash twice",
        place=place,
    )
