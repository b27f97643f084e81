"""The edits that put quotation marks round a value, as far as a line tells where the value ends."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Many, Record, Text, declared, records_of
from sequencer.problem import Mend, Place
from sequencer.reading.source import quoted

if TYPE_CHECKING:
    from sequencer.model.fields import Kind
    from sequencer.reading.source import Source

_LONGEST_LINE = 2000  # a longer line is left to a person
_ENTRY = re.compile(r"(?P<lead>\s*(?:-\s+)*)(?:(?P<key>[^\s'\"\[{#][^#]*?):\s+)?(?P<value>\S.*)?")
_FIELD_IN_BRACES = re.compile(r"[{,]\s*(?P<key>[^\s'\"\[\]{},:#&*!|>%@`]+):\s+")
_REMARK = re.compile(r"(?<!\s)\s++#(?:\s++(?![0-9]).*)?$")
_QUOTES = ("'", '"')


@cache
def takes_words(name: str) -> bool:
    """Tell whether a field of this name holds words; a name that is no field may be an id.

    Examples
    --------
    >>> takes_words("note"), takes_words("fits"), takes_words("left-cone")
    (True, False, True)
    """
    fields = [field for cls in records_of(Assembly) for field in declared(cls)]
    kinds = [field.kind for field in fields if field.name == name]
    return not kinds or any(holds_words(kind) for kind in kinds)


def holds_words(kind: Kind) -> bool:
    """Tell whether a plain value of this kind is words for the person at the bench."""
    if isinstance(kind, Many):
        return holds_words(kind.of)
    if isinstance(kind, Record):
        short = (field for field in declared(kind.cls) if field.attribute == kind.short)
        return any(holds_words(field.kind) for field in short)
    return isinstance(kind, Text)


def without_remark(text: str) -> str:
    """Return the text before a remark: `#`, a space, and then anything but a number.

    Examples
    --------
    >>> without_remark("Fit 5 #10 screws  # the long ones")
    'Fit 5 #10 screws'
    """
    return _REMARK.sub("", text).rstrip()


def in_quotes(source: Source, line: int, start: int, end: int) -> Mend:
    """Return the edit that puts what stands between two columns of a line in quotation marks."""
    typed = source.line(line)[start:end]
    return Mend(Place(source.name, line + 1, start + 1, end - start), quoted(typed))


def value_in_quotes(source: Source, line: int, column: int) -> Mend | None:
    """Return the edit that quotes the value in which a column of a line lies.

    None where the value may go on beyond the line, or belongs to a field that holds no words.
    Lines and columns count from 0.
    """
    text = source.line(line)
    entry = _ENTRY.match(text) if len(text) <= _LONGEST_LINE else None
    if entry is None or not entry["value"]:
        return None
    start = entry.start("value")
    if entry["value"].startswith("{") and not entry["value"].startswith("{{"):
        return _value_in_braces(source, line, column)
    ends = start + len(without_remark(entry["value"]))
    named = entry["key"] is not None or entry["lead"].strip()
    if not named or not start <= column < ends or _goes_on(source, line, entry.start("key")):
        return None
    if entry["key"] is not None and not takes_words(entry["key"]):
        return None
    return _whole(source, line, start, ends)


def _whole(source: Source, line: int, start: int, end: int) -> Mend | None:
    r"""Quote a value; if quotation marks stand round all of it, other ones take their place.

    None where nobody can tell what the marks belong to, as in ``"3/4" and "1/2"``, or for a list.
    """
    typed = source.line(line)[start:end]
    mend = in_quotes(source, line, start, end)
    if len(typed) > 1 and typed[0] == typed[-1] and typed[0] in _QUOTES:
        inner = typed[1:-1]
        unclear = typed[0] in inner or "\\\\" in inner
        return None if unclear else Mend(mend.place, quoted(inner))
    return None if typed.startswith("[") and _closes_at_end(typed) else mend


def _closes_at_end(text: str) -> bool:
    """Tell whether the bracket that a text begins with is closed by its last sign."""
    depth = 0
    for at, sign in enumerate(text):
        depth += (sign == "[") - (sign == "]")
        if depth == 0:
            return at == len(text) - 1
    return False


def _goes_on(source: Source, line: int, column: int) -> bool:
    """Tell whether the next line is set in deeper than this one's key, and so belongs to it."""
    below = line + 1
    while below < len(source.lines) and not source.line(below).strip():
        below += 1
    following = source.line(below)
    indent = len(following) - len(following.lstrip())
    own = source.line(line)
    return indent > (column if column >= 0 else len(own) - len(own.lstrip()))


def _value_in_braces(source: Source, line: int, column: int) -> Mend | None:
    """Quote the value of a field in `{ }` on one line: up to the next field, or to the end."""
    text = without_remark(source.line(line))
    if not text.endswith("}"):
        return None
    fields = list(_FIELD_IN_BRACES.finditer(text))
    at = next((n for n, found in reversed(list(enumerate(fields))) if found.end() <= column), None)
    if at is None or not takes_words(fields[at]["key"]):
        return None
    start = fields[at].end()
    end = fields[at + 1].start() if at + 1 < len(fields) else len(text)
    value = _balanced(text[start:end].rstrip())
    if column >= start + len(value) or not value:
        return None
    return _whole(source, line, start, start + len(value))


def _balanced(value: str) -> str:
    """Return a value without the closing brackets at its end that were opened before it."""
    while value.endswith(("}", "]")):
        opening, closing = ("{", "}") if value.endswith("}") else ("[", "]")
        if value.count(opening) >= value.count(closing):
            break
        value = value[:-1].rstrip()
    return value
