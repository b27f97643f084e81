"""The file of a build log: read it, add to it, and lose nothing.

Entries are only ever added at the end, and are on the disk before `append` returns. A line that
was torn by a crash is set aside in a file beside the log (`….torn`), never thrown away.
"""

from __future__ import annotations

import contextlib
import os
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.records import faults
from sequencer.records.lines import LineError, from_line, to_line
from sequencer.records.locking import BusyError, locked

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from sequencer.problem import Problem
    from sequencer.records.entries import Entry

_MARK = b"\xef\xbb\xbf"  # that some editors put before the first line


class LogError(Exception):
    """The log cannot be read or written; `problem` says why, and what to do."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.message)
        self.problem = problem


@dataclass(frozen=True, slots=True)
class Log:
    """What a log file holds.

    Attributes
    ----------
    entries : tuple of Entry
        Every entry that can be read, in the order of the file.
    findings : tuple of Problem
        Lines that cannot be read, and numbers out of order.
    torn : bytes
        The end of the file, where that is no whole entry: nobody was told that it is recorded.
    """

    entries: tuple[Entry, ...]
    findings: tuple[Problem, ...] = ()
    torn: bytes = b""
    _unfed: bool = False
    _lines: int = 0

    @property
    def next_number(self) -> int:
        """The number that the next entry gets."""
        last = max((entry.number for entry in self.entries), default=0)
        return max(last, self._lines) + 1


@dataclass(frozen=True, slots=True)
class Appended:
    """The entries as they stand in the log now, and what else was found or done meanwhile."""

    entries: tuple[Entry, ...]
    findings: tuple[Problem, ...]


def read_log(path: Path) -> Log:
    """Read a log without changing it.

    Raises
    ------
    LogError
        If the file cannot be read at all.
    """
    try:
        return log_of(path.read_bytes(), str(path))
    except OSError as fault:
        raise LogError(faults.unreadable(path, fault)) from fault


def log_of(data: bytes, name: str = "log") -> Log:
    """Return what the bytes of a log hold; `name` is what findings call the file.

    Notes
    -----
    A last line that lacks nothing but its line feed is an entry: some editors take it away.
    """
    *whole, tail = data.removeprefix(_MARK).split(b"\n")
    entries: list[Entry] = []
    findings: list[Problem] = []
    for number, line in enumerate(whole, start=1):
        if line.strip():
            try:
                entries.append(from_line(line))
            except LineError as error:
                findings.append(faults.damaged(name, number, line, error))
    torn, unfed = b"", False
    if tail.strip():
        try:
            entries.append(from_line(tail))
            unfed = True
        except LineError:
            torn = tail
    findings += faults.out_of_order(entries, name)
    return Log(tuple(entries), tuple(findings), torn, unfed, sum(1 for line in whole if line))


def start_log(path: Path, first: Entry) -> Entry:
    """Make a new log with its first entry, whole or not at all.

    Raises
    ------
    LogError
        If there is such a file already, or it cannot be written.
    """
    entry = replace(first, number=1)
    unfinished = path.with_name(f"{path.name}.part")
    try:
        with unfinished.open("wb") as file:
            file.write(to_line(entry))
            file.flush()
            os.fsync(file.fileno())
        _put_in_place(unfinished, path)
        _sync_folder(path.parent)
    except FileExistsError as fault:
        raise LogError(faults.there_already(path)) from fault
    except OSError as fault:
        raise LogError(faults.unwritable(path, fault)) from fault
    finally:
        with contextlib.suppress(OSError):
            unfinished.unlink()
    return entry


def _put_in_place(unfinished: Path, path: Path) -> None:
    """Give the file its name, unless another has it."""
    try:
        os.link(unfinished, path)
    except FileExistsError:
        raise
    except OSError:  # a disk without links
        if path.exists():
            raise FileExistsError(str(path)) from None
        unfinished.rename(path)


def _sync_folder(folder: Path) -> None:
    """Bring a new name in a folder to the disk, where the system can."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def append(path: Path, entries: Sequence[Entry]) -> Appended:
    """Add entries at the end of a log, numbered; on return they are on the disk.

    Parameters
    ----------
    path : Path
        The log, which must be there.
    entries : sequence of Entry
        What to add, in order; their numbers are given here.

    Raises
    ------
    LogError
        If it cannot be written, the disk is full, or another writer does not let go of it; then
        none of the entries is in the log. (A crash may leave the first few of several.)
    """
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_APPEND)
    except OSError as fault:
        raise LogError(faults.unwritable(path, fault)) from fault
    try:
        with locked(descriptor) as is_locked:
            added = _append(path, descriptor, entries)
        if not is_locked:
            added = replace(added, findings=(*added.findings, faults.unlocked(path)))
    except BusyError as busy:
        raise LogError(faults.busy(path)) from busy
    except OSError as fault:
        raise LogError(faults.unwritable(path, fault)) from fault
    else:
        return added
    finally:
        os.close(descriptor)


def _append(path: Path, descriptor: int, entries: Sequence[Entry]) -> Appended:
    data = _all_of(descriptor)
    log = log_of(data, str(path))
    findings = log.findings
    size = len(data)
    if log.torn:
        findings = (*findings, _set_aside(path, log.torn))
        size -= len(log.torn)
        os.ftruncate(descriptor, size)
    first = log.next_number
    numbered = tuple(replace(entry, number=first + at) for at, entry in enumerate(entries))
    feed = b"\n" if log._unfed else b""  # noqa: SLF001  # of this module
    try:
        _write(descriptor, feed + b"".join(map(to_line, numbered)))
        os.fsync(descriptor)
    except OSError:
        os.ftruncate(descriptor, size)
        raise
    return Appended(numbered, findings)


def _all_of(descriptor: int) -> bytes:
    os.lseek(descriptor, 0, os.SEEK_SET)
    pieces = []
    while piece := os.read(descriptor, 1 << 20):
        pieces.append(piece)
    return b"".join(pieces)


def _write(descriptor: int, data: bytes) -> None:
    while data:
        data = data[os.write(descriptor, data) :]


def _set_aside(path: Path, torn: bytes) -> Problem:
    """Keep the torn end of a log in a file beside it."""
    beside = path.with_name(f"{path.name}.torn")
    with beside.open("ab") as file:
        file.write(torn + b"\n")
        file.flush()
        os.fsync(file.fileno())
    return faults.set_aside(path, beside, torn)
