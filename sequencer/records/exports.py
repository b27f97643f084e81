"""The export of the tablet page: what was ticked there, line by line, on its way into a log.

The first line says of which model and unit it is; each further line is an entry as the log has it,
without a number, under an `id` of its own. A correction names the id of what it corrects.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.records.lines import LineError, from_line, kind_of
from sequencer.records.moments import moment_in

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.records.entries import Entry

_MARK = b"\xef\xbb\xbf"
_VERSION = 1
_KINDS = frozenset(
    (
        *("done", "part-done", "undone", "skip", "reading", "torque", "accept", "sign"),
        *("fitted", "spoiled", "short", "arrived", "note", "correct"),
    )
)
_UNNUMBERED = 1  # stands for the number until the entry is in a log


class ExportError(ValueError):
    """A text that is no export; `line` is where, and the text says why."""

    def __init__(self, line: int, text: str) -> None:
        super().__init__(text)
        self.line = line


@dataclass(frozen=True, slots=True)
class Exported:
    """An entry of an export; `corrects` is the id of the entry that it corrects, if it does."""

    entry: Entry
    corrects: str = ""


@dataclass(frozen=True, slots=True)
class Export:
    """What an export tells: of which model and unit it is, and its entries in order."""

    fingerprint: str
    unit: str
    entries: tuple[Exported, ...]


def export_of(data: bytes, time: str) -> Export:
    """Return what an export tells; `time` is when its entries are written down here.

    Raises
    ------
    ExportError
        If it is none, or a line of it is torn or tells what no page records.
    """
    lines = [
        (number, line.strip())
        for number, line in enumerate(data.removeprefix(_MARK).split(b"\n"), start=1)
        if line.strip()
    ]
    if not lines:
        raise ExportError(1, "holds nothing")
    head = _object(*lines[0])
    if head.get("tablet") != _VERSION:
        raise ExportError(lines[0][0], "is not the first line of an export of the tablet page")
    entries = [_exported(number, _object(number, line), time) for number, line in lines[1:]]
    for (number, _), one in zip(lines[1:], _told_before(entries), strict=True):
        if one:
            raise ExportError(number, one)
    return Export(str(head.get("fingerprint", "")), str(head.get("unit", "")), tuple(entries))


def _object(number: int, line: bytes) -> dict[str, object]:
    try:
        told = json.loads(line.decode("utf-8"))
    except (ValueError, RecursionError) as error:
        raise ExportError(number, "is torn: it is no JSON object") from error
    if not isinstance(told, dict):
        raise ExportError(number, "is no JSON object")
    return told


def _exported(number: int, told: Mapping[str, object], time: str) -> Exported:
    fields = {**told, "entry": _UNNUMBERED, "time": time}
    corrects = ""
    if told.get("kind") == "correct":
        corrects = str(told.get("corrects", ""))
        fields["corrects"] = _UNNUMBERED
    try:
        entry = from_line(json.dumps(fields).encode())
    except LineError as error:
        raise ExportError(number, str(error)) from error
    if kind_of(entry) not in _KINDS:
        raise ExportError(number, f"tells what no page records: `{kind_of(entry)}`")
    if not entry.id:
        raise ExportError(number, "has no id of its own")
    moment = moment_in(entry.at)
    if moment is None:
        raise ExportError(number, "does not say when it was")
    return Exported(entry, corrects)


def _told_before(entries: list[Exported]) -> Iterator[str]:
    """Yield for each entry what is wrong with its id; nothing if all is well."""
    told: set[str] = set()
    for one in entries:
        yield f"has the id of an entry before it: {one.entry.id}" if one.entry.id in told else ""
        told.add(one.entry.id)
