"""What to tell about the file of a log: torn, damaged, not to be read, written or locked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Place, Problem

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from sequencer.records.entries import Entry

_NOT_RECORDED = "nothing of it was recorded; what stood in the log before is untouched"


def set_aside(path: Path, beside: Path, torn: bytes) -> Problem:
    """Tell that a torn last line was set aside."""
    return Problem(
        "torn-line",
        "warning",
        f"the last line of `{path}` was torn, and has been set aside in `{beside.name}`",
        why="whoever wrote it was cut off before `ok` was said: it may not have been recorded",
        fix=f"look whether the last entry is missing, and record it anew: {_glimpse(torn)}",
    )


def torn(path: Path) -> Problem:
    """Tell that the last line is torn, where it was only read."""
    return Problem(
        "torn-line",
        "warning",
        f"the last line of `{path}` is torn, and does not count",
        why="whoever wrote it was cut off before `ok` was said; the next entry sets it aside",
        fix="look whether the last entry is missing, and record it anew",
    )


def _glimpse(torn: bytes) -> str:
    text = torn.decode("utf-8", "replace")
    return f"`{text[:80]}…`" if len(text) > 80 else f"`{text}`"  # noqa: PLR2004  # fits on a line


def damaged(name: str, number: int, line: bytes, error: Exception) -> Problem:
    """Tell that a line cannot be read."""
    return Problem(
        "damaged-line",
        "warning",
        f"line {number} of the log {error}",
        why="what it told does not count; the line stays where it is",
        fix="read it with a text editor, and record anew what it told",
        place=Place(name, number, 1, max(len(line.decode("utf-8", "replace")), 1)),
    )


def out_of_order(entries: Sequence[Entry], name: str) -> list[Problem]:
    """Tell where numbers do not rise, once."""
    last = 0
    for entry in entries:
        if entry.number <= last:
            message = f"entry {entry.number} comes after entry {last} in `{name}`"
            why = "two logs were mixed, or two people wrote without a lock: numbers name entries"
            fix = "correct no entry by its number before the file has been looked through"
            return [Problem("log-order", "warning", message, why=why, fix=fix)]
        last = entry.number
    return []


def unreadable(path: Path, fault: OSError) -> Problem:
    """Tell that there is no log to read."""
    message = f"cannot read `{path}`: {fault.strerror}"
    fix = "name the log with --log, or make one with `sequencer log start MODEL`"
    why = "without a log there is nothing to add to"
    return Problem("no-log", "error", message, why=why, fix=fix)


def unwritable(path: Path, fault: OSError) -> Problem:
    """Tell that nothing could be written."""
    message = f"cannot write `{path}`: {fault.strerror}"
    fix = "make room on the disk, or free the file, and give the command again"
    return Problem("not-recorded", "error", message, why=_NOT_RECORDED, fix=fix)


def unlocked(path: Path) -> Problem:
    """Tell that writers are not kept apart here."""
    message = f"`{path}` cannot be locked on this system or disk"
    why = "two people who write at the same moment would not be kept apart"
    fix = "see that only one person writes to it at a time"
    return Problem("no-lock", "note", message, why=why, fix=fix)


def busy(path: Path) -> Problem:
    """Tell that another writer holds the log."""
    message = f"`{path}` is being written by somebody else, who does not let go of it"
    fix = "end the other program, or wait for it, and give the command again"
    return Problem("log-busy", "error", message, why=_NOT_RECORDED, fix=fix)


def there_already(path: Path) -> Problem:
    """Tell that a log cannot be begun where there is one."""
    message = f"there is a log at `{path}` already"
    why = "a log is only ever added to: it tells what was done on one unit"
    fix = "go on with that one, or give the new one another name with --log"
    return Problem("log-exists", "error", message, why=why, fix=fix)
