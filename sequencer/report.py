"""Problems as text with the lines they rest on, and as plain values for JSON."""

from __future__ import annotations

import unicodedata
from collections import Counter
from typing import TYPE_CHECKING, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.problem import Fact, Place, Problem

    Lines: TypeAlias = Mapping[str, Sequence[str]]

LONGEST_LINE = 100
"""The most columns of a source line that are shown."""
MOST_WINDOWS = 5
"""With more facts than this, they are told as numbered sentences instead of source windows."""

_CONTEXT_BEFORE_CARET = 40
_ELLIPSIS = "…"
# Characters that would turn the terminal's own writing about.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")


def as_text(problems: Sequence[Problem], lines: Lines, limit: int | None = 20) -> str:
    """Return the problems as text, each with the lines of the file that it rests on.

    Parameters
    ----------
    problems : sequence of Problem
        In the order in which they are told.
    lines : mapping of str to sequence of str
        The lines of each file by its name; a file that is not there is only named.
    limit : int or None
        How many are shown; the rest are counted. None shows all.

    Returns
    -------
    str
        Without a line feed at its end; empty if there is nothing to tell.
    """
    shown = problems if limit is None else problems[:limit]
    blocks = [_block(problem, lines) for problem in shown]
    rest = problems[len(shown) :]
    if rest:
        blocks.append(f"not shown: {len(rest)} more ({_counted(rest)})")
    return "\n\n".join(blocks)


def as_json(problem: Problem) -> dict[str, object]:
    """Return a problem as plain values; lines and columns count from 1, None where unknown."""
    return {
        "code": problem.code,
        "severity": problem.severity,
        "step": problem.step,
        "message": problem.message,
        "facts": [{"text": fact.text, "why": fact.why, **_where(fact)} for fact in problem.facts],
        "why": problem.why,
        "fix": problem.fix,
        **_where(problem),
    }


def _where(told: Problem | Fact) -> dict[str, object]:
    place = told.place
    return {
        "file": place.file if place else None,
        "line": place.line if place else None,
        "column": place.column if place else None,
    }


def _counted(problems: Sequence[Problem]) -> str:
    """Count by severity, as ``3 errors and 1 warning``."""
    counts = Counter(problem.severity for problem in problems)
    words = [
        f"{counts[severity]} {severity}{'s' if counts[severity] > 1 else ''}"
        for severity in ("error", "warning", "note")
        if counts[severity]
    ]
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last


def _block(problem: Problem, lines: Lines) -> str:
    place = problem.place
    where = f"{place.file}:{place.line}:{place.column}: " if place else ""
    level = f"{problem.severity}[{problem.code}]"
    told = [f"{_printable(where)}{level}: {_printable(problem.message)}"]
    told += _evidence(problem, lines)
    told += [
        f"  = {label}: {_printable(text)}"
        for label, text in (("why", problem.why), ("fix", problem.fix))
        if text
    ]
    return "\n".join(told)


def _evidence(problem: Problem, lines: Lines) -> Iterator[str]:
    """Yield the windows and sentences that the problem rests on."""
    facts = problem.facts
    if len(facts) > MOST_WINDOWS:
        yield from _windows([(problem.place, "", "")], problem.place, lines)
        yield from _sentences(facts, problem.place)
        return
    marks = [(fact.place, fact.text, fact.why) for fact in facts]
    if problem.place is not None and problem.place not in [place for place, _, _ in marks]:
        marks.insert(0, (problem.place, "", ""))
    yield from _windows(marks, problem.place, lines)


def _sentences(facts: Sequence[Fact], main: Place | None) -> Iterator[str]:
    """Yield a chain of facts too long for windows, numbered and in words."""
    for number, fact in enumerate(facts, 1):
        file = (
            f"{fact.place.file}, " if fact.place and main and fact.place.file != main.file else ""
        )
        where = f" ({_printable(file)}line {fact.place.line})" if fact.place else ""
        reason = f", because: {fact.why}" if fact.why else ""
        yield f"  {number}. {_printable(fact.text + reason)}{where}"


_Mark: TypeAlias = "tuple[Place | None, str, str]"


def _windows(marks: Sequence[_Mark], main: Place | None, lines: Lines) -> Iterator[str]:
    """Yield a source window for each mark; one without a line to show becomes a sentence."""
    gutter = max((len(str(place.line)) for place, _, _ in marks if place), default=1)
    before: Place | None = None
    last = ""
    file = main.file if main else None
    for place, text, why in marks:
        source = _line_at(place, lines)
        if place is None or source is None:
            where = f" ({place.file}:{place.line}:{place.column})" if place and text else ""
            if text:
                reason = f", because: {why}" if why else ""
                yield f"  - {_printable(text + reason)}{where}"
            continue
        if place.file != file:
            file, before = place.file, None
            yield f"  in {_printable(place.file)}:"
        elif before is not None and place.line not in (before.line, before.line + 1):
            yield f"{'':{gutter}} ..."
        shown, indent, width = _clipped(source, place)
        if before is None or before.line != place.line or shown != last:
            yield f"{place.line:>{gutter}} | {shown}"
        yield f"{'':{gutter}} | {indent}{'^' * width} {_printable(text)}".rstrip()
        if why:
            yield f"{'':{gutter}} | {indent}{' ' * width} because: {_printable(why)}"
        before, last = place, shown


def _line_at(place: Place | None, lines: Lines) -> str | None:
    known = lines.get(place.file, ()) if place else ()
    return known[place.line - 1] if place and 1 <= place.line <= len(known) else None


def _clipped(line: str, place: Place) -> tuple[str, str, int]:
    """Return a line as shown, the blank before its carets, and how many carets there are.

    A long line is cut so that the carets stay in view.
    """
    start = min(place.column - 1, len(line))
    end = min(start + place.width, len(line))
    first, last = 0, len(line)
    if len(line) > 2 * LONGEST_LINE or _columns(line) > LONGEST_LINE:
        first = max(start - _CONTEXT_BEFORE_CARET, 0)
        last = min(first + LONGEST_LINE, len(line))
    left = _ELLIPSIS if first else ""
    right = _ELLIPSIS if last < len(line) else ""
    shown = f"{left}{_printable(line[first:last])}{right}".rstrip()
    blank = "".join(
        "\t" if character == "\t" else " " * _columns(character) for character in line[first:start]
    )
    width = _columns(line[start : min(end, last)])
    return shown, " " * len(left) + blank, max(width, 1)


def _columns(text: str) -> int:
    """Return how many columns a terminal gives the text; a tab counts as one."""
    return sum(_column(character) for character in text)


def _column(character: str) -> int:
    if unicodedata.combining(character) or unicodedata.category(character) in ("Mn", "Me"):
        return 0
    if unicodedata.category(character) == "Cf" and character not in _TURNING:
        return 0 if character != "\u00ad" else 1
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def _printable(text: str) -> str:
    """Return the text with every character that would steer the terminal made visible."""
    if text.isprintable():
        return text
    return "".join(_shown(character) for character in text)


def _shown(character: str) -> str:
    code = ord(character)
    if character == "\t" or character.isprintable():
        return character
    if code < ord(" "):
        return chr(0x2400 + code)  # the picture of a control character
    if character in _TURNING or unicodedata.category(character) in ("Cc", "Cs", "Zl", "Zp"):
        return "\ufffd"
    return character
