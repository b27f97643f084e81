"""From the bytes of a file to text: its size, its encoding, and characters that cannot be there."""

from __future__ import annotations

import re
import unicodedata
from itertools import islice
from typing import TYPE_CHECKING

from sequencer.problem import Place, Problem

if TYPE_CHECKING:
    import pathlib
    from collections.abc import Iterator

LARGEST_FILE = 10_000_000
"""The most bytes that a model file may have."""

_LINE_END = re.compile(r"\r\n|\n|\r")
_LINE_WITH_END = re.compile(r"[^\r\n]*(?:\r\n|\n|\r)|[^\r\n]+")
# What YAML does not allow, what it would take for a line end, and the mark of a lost character.
NOT_TEXT = re.compile(
    "[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffc\U00010000-\U0010ffff]+"
)
LOST = "\ufffd"
_MOST_CHARACTERS = 50
_BYTE_ORDER_MARK = "\ufeff"
_WIDE_MARKS = (b"\xff\xfe", b"\xfe\xff")
TABLES = (".csv", ".tsv")
_TABLE = ("a table", "`sequencer import` makes a model of it, or puts it into one")
_OTHERS = {
    b"%PDF": ("a printed packet or another PDF", "name the model that it was printed from"),
    b"PK\x03\x04": ("a workbook or a packed file", "save a sheet as CSV, and `import` that"),
    b'{"entry": ': ("the log of a unit", "name it with --log"),
}
_SAVE_AS = "save the file again as UTF-8 text"


class UnreadableError(Exception):
    """A file that gives no text at all; `problem` says why, `lines` is what can be shown of it."""

    def __init__(self, problem: Problem, lines: tuple[str, ...] = ()) -> None:
        super().__init__(problem.message)
        self.problem = problem
        self.lines = lines


def text_of_file(path: pathlib.Path, name: str) -> str:
    """Return the text of a file in UTF-8.

    Raises
    ------
    UnreadableError
        If there is no such file, it may not be read, is too large, or is not UTF-8.
    """
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        reason = error.strerror if isinstance(error, OSError) else str(error)
        message = f"`{name}` cannot be opened: {(reason or 'no reason given').lower()}"
        why = "there is nothing to plan"
        fix = "check the name, the folder and the rights of the file"
        raise UnreadableError(Problem("no-file", "error", message, why=why, fix=fix)) from error
    if len(data) > LARGEST_FILE:
        raise UnreadableError(too_large(name))
    if data.startswith(tuple(_OTHERS)) or path.suffix.lower() in TABLES:
        raise UnreadableError(_other(data, name))
    return _decoded(data, name)


def _other(data: bytes, name: str) -> Problem:
    """Return the problem of a file of another kind, known by its name or its first bytes."""
    kind, fix = next((said for head, said in _OTHERS.items() if data.startswith(head)), _TABLE)
    message = f"`{name}` is {kind}, and no model"
    return Problem("not-a-model", "error", message, why="there is nothing to plan", fix=fix)


def lines_of(text: str) -> tuple[str, ...]:
    """Return the lines as the YAML parser counts them, without their ends."""
    return tuple(_LINE_END.split(text))


def lines_with_ends(text: str) -> list[str]:
    """Return the lines as the YAML parser counts them, each with its end."""
    return _LINE_WITH_END.findall(text)


def without_mark(text: str) -> str:
    """Return the text without a byte order mark at its start, which counts as no column."""
    return text.removeprefix(_BYTE_ORDER_MARK)


def character_problems(text: str, lines: tuple[str, ...], name: str) -> Iterator[Problem]:
    """Yield a problem for each character that no model can hold, and for each lost one.

    A file with very many of them is no text: only the first are told.
    """
    if len(text) > LARGEST_FILE:
        yield too_large(name)
        return
    if not NOT_TEXT.search(text):
        return
    found = ((row, match) for row, line in enumerate(lines, 1) for match in NOT_TEXT.finditer(line))
    for row, match in islice(found, _MOST_CHARACTERS):
        place = Place(name, row, match.start() + 1, len(match.group()))
        character = match.group()[0]
        if character == LOST:
            message = f"`{LOST}` stands where a character was lost when the file was saved"
            why = "nobody can tell what was meant"
            fix = "type it again"
            yield Problem("encoding", "warning", message, why=why, fix=fix, place=place)
            continue
        message = f"an unseen character stands here: {named(character)}"
        why = "neither YAML nor the printed page can hold it"
        fix = f"delete it; if the file is full of them, {_SAVE_AS}"
        yield Problem("hidden-character", "error", message, why=why, fix=fix, place=place)


def named(character: str) -> str:
    """Name a character that cannot be seen, as ``no-break space (U+00A0)``."""
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "").lower()
    return f"{name} ({code})" if name else code


def _decoded(data: bytes, name: str) -> str:
    if data.startswith(_WIDE_MARKS) or b"\0" in data[:4]:
        message = f"`{name}` is saved as UTF-16 or UTF-32, and a model is UTF-8"
        why = "it would be read as other signs, or none"
        raise UnreadableError(Problem("encoding", "error", message, why=why, fix=_SAVE_AS))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        text = data.decode("cp1252", errors="replace")
        meant = bytes([data[error.start]]).decode("cp1252", errors="replace")
        guess = "" if meant == "\ufffd" else f" (`{meant}` in Windows-1252)"
        byte = f"byte {error.start + 1} of the file, 0x{data[error.start]:02X}"
        message = f"{byte}{guess}, is not UTF-8"
        before = lines_of(without_mark(data[: error.start].decode("utf-8")))
        place = Place(name, len(before), len(before[-1]) + 1)
        why = "signs such as µ, ° and ± would be read as something else"
        problem = Problem("encoding", "error", message, why=why, fix=_SAVE_AS, place=place)
        raise UnreadableError(problem, lines_of(text)) from error


def too_large(name: str) -> Problem:
    """Return the problem of a file over the limit."""
    message = f"`{name}` is larger than {LARGEST_FILE // 1_000_000} MB, the most a model may have"
    why = "a model of that size is more likely another file"
    fix = "check that it is the model, or divide it"
    return Problem("too-large", "error", message, why=why, fix=fix)
