r"""Entries as lines of text, and back: one JSON object a line, in UTF-8.

A line begins with the number of the entry, the time at which it was written and its kind; then
come the fields of the kind, and `at`, `by`, `sheet`, `despite` and `id` where they were given::

    {"entry": 7, "time": "2031-05-02T14:05:09+02:00", "kind": "done", "steps": ["lock"]}
"""

from __future__ import annotations

import dataclasses
import json
from typing import TYPE_CHECKING, Any

from sequencer.records.entries import KINDS, Entry

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

_NAMES = {cls: kind for kind, cls in KINDS.items()}
_COMMON = ("at", "by", "sheet", "despite", "id")


class LineError(ValueError):
    """A line that is no entry; the text says why, in words that follow on `line 3`."""


def kind_of(entry: Entry) -> str:
    """Return the word for the kind of an entry."""
    return _NAMES[type(entry.what)]


def to_line(entry: Entry) -> bytes:
    r"""Return an entry as a line of the log, with the line feed at its end.

    Examples
    --------
    >>> from sequencer.records.entries import Note
    >>> to_line(Entry(number=2, time="2031-05-02T14:05:09+02:00", what=Note(text="Tea.")))
    b'{"entry": 2, "time": "2031-05-02T14:05:09+02:00", "kind": "note", "text": "Tea."}\n'
    """
    told: dict[str, object] = {"entry": entry.number, "time": entry.time, "kind": kind_of(entry)}
    told |= _stated(entry.what)
    told |= {name: getattr(entry, name) for name in _COMMON if getattr(entry, name)}
    # Half a split pair of characters, which UTF-8 cannot hold, is written as JSON's own escape.
    text = json.dumps(told, ensure_ascii=False)
    return text.encode("utf-8", "backslashreplace") + b"\n"


def _stated(what: Any) -> dict[str, object]:
    """Return the fields of an entry that do not stand at their default."""
    fields = dataclasses.fields(what)
    return {
        field.name.rstrip("_"): _told(getattr(what, field.name), str(field.type))
        for field in fields
        if getattr(what, field.name) != field.default
    }


def _told(value: Any, kind: str) -> object:
    return dict(value) if kind == _PAIRS else value


def from_line(line: bytes) -> Entry:
    """Return the entry that a line tells.

    Raises
    ------
    LineError
        If it is none: torn, no JSON, of an unknown kind, or with fields that do not fit.
    """
    try:
        told = json.loads(line.decode("utf-8"))
    except (ValueError, RecursionError) as error:
        raise LineError("is torn or overwritten: it is no JSON object") from error
    if not isinstance(told, dict):
        raise LineError("is no JSON object")
    kind = told.pop("kind", None)
    cls = KINDS.get(kind) if isinstance(kind, str) else None
    if cls is None:
        raise LineError(f"is of a kind that this version does not know: {_short(kind)}")
    common = {name: told.pop(name) for name in ("entry", "time", *_COMMON) if name in told}
    number = common.pop("entry", None)
    common["number"] = number if _whole(number) is not _WRONG else 0
    common["what"] = cls(**_fitting(cls, told))
    entry = Entry(**_fitting(Entry, common))
    if entry.number < 1:
        raise LineError("has no number of its own")
    return entry


def _fitting(cls: type, told: Mapping[str, object]) -> dict[str, Any]:
    """Return the fields of a dataclass as told, each of the type declared."""
    declared = {field.name.rstrip("_"): field for field in dataclasses.fields(cls)}
    strange = [name for name in told if name not in declared]
    if strange:
        raise LineError(f"has a field that this version does not know: {_short(strange[0])}")
    found = {}
    for name, field in declared.items():
        if name in told:
            read = _READERS.get(str(field.type))
            found[field.name] = read(told[name]) if read else told[name]
            if found[field.name] is _WRONG:
                raise LineError(f"has a field that holds what does not belong there: `{name}`")
        elif field.default is dataclasses.MISSING:
            raise LineError(f"lacks the field `{name}`")
    return found


_WRONG = object()


def _text(value: object) -> object:
    return value if isinstance(value, str) else _WRONG


def _whole(value: object) -> object:
    return value if isinstance(value, int) and not isinstance(value, bool) else _WRONG


def _texts(value: object) -> object:
    fits = isinstance(value, list) and all(isinstance(item, str) for item in value)
    return tuple(value) if fits and isinstance(value, list) else _WRONG


def _by_name(value: object) -> object:
    """Read an object of texts as pairs."""
    fits = isinstance(value, dict) and all(isinstance(text, str) for text in value.values())
    return tuple(value.items()) if fits and isinstance(value, dict) else _WRONG


_PAIRS = "tuple[tuple[str, str], ...]"
_READERS: dict[str, Callable[[object], object]] = {
    "str": _text,
    "int": _whole,
    "int | None": _whole,
    "tuple[str, ...]": _texts,
    _PAIRS: _by_name,
}


def _short(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 40 else f"{text[:39]}…"  # noqa: PLR2004  # fits on a line
