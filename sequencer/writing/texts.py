"""Text as YAML writes it: which texts need quotation marks, for our reader and for any other."""

from __future__ import annotations

import re

from sequencer.reading.nodes import NULLS
from sequencer.reading.source import quoted

_WORDS = frozenset(("true", "false", "yes", "no", "on", "off", "y", "n", "=", "<<"))
_KEPT_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,14})(?:\.[0-9]{0,14}[1-9])?")
_NUMBER = re.compile(
    r"[-+]?(?:[0-9][0-9_,]*(?:\.[0-9_]*)?|\.[0-9_]+)(?:[eE][-+]?[0-9]+)?"
    r"|[-+]?0(?:x[0-9a-fA-F_]+|o[0-7_]+|b[01_]+)"
    r"|[-+]?[0-9][0-9_]*(?::[0-5]?[0-9])+(?:\.[0-9_]*)?"
    r"|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)"
)
_DATE = re.compile(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}(?:[Tt \t].*)?")
_PLAIN = re.compile(r"[^\W_](?:[^\x00-\x1f\x7f-\x9f\ufeff]*\S)?")
_BREAKS = re.compile(r":(?:\s|$)|\s#")
_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}


def is_changed_by_others(text: str) -> bool:
    """Tell whether other YAML programs take an unquoted text for something that they write anew.

    Such as `0012`, `1.10`, `12:30`, `1e5`, `no` and dates. Plain numbers that come back as they
    were typed do no harm.

    Examples
    --------
    >>> [
    ...     text
    ...     for text in ("0012", "12", "1.10", "1.1", "no", "12:30")
    ...     if is_changed_by_others(text)
    ... ]
    ['0012', '1.10', 'no', '12:30']
    """
    if text.casefold() in _WORDS or text in NULLS or _DATE.fullmatch(text):
        return True
    return bool(_NUMBER.fullmatch(text)) and not _KEPT_NUMBER.fullmatch(text)


def scalar(text: str) -> str:
    r"""Return a text as it is written behind a field or before a colon, quoted where it must be.

    Examples
    --------
    >>> scalar("Cap screw M8"), scalar("Note: oil"), scalar("0012"), scalar("one\ntwo")
    ('Cap screw M8', '"Note: oil"', '"0012"', '"one\\ntwo"')
    """
    if not text.isprintable():
        return f'"{"".join(map(_escaped, text))}"'
    plain = _PLAIN.fullmatch(text) and not _BREAKS.search(text) and not is_changed_by_others(text)
    return text if plain else quoted(text)


def _escaped(sign: str) -> str:
    if sign in _ESCAPES:
        return _ESCAPES[sign]
    if sign.isprintable():
        return sign
    return f"\\u{ord(sign):04x}" if sign < "\U00010000" else f"\\U{ord(sign):08x}"
