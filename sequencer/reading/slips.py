"""The slips that break YAML off, each recognised by what stands on the line.

The parser's own words are about its tokens, and differ from one build to another; what a person
typed can be seen. The first recogniser that fits tells the slip.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.reading.clue import Clue, indent_of, rest_of_line
from sequencer.reading.decoding import named
from sequencer.reading.mending import without_remark
from sequencer.reading.source import HIDDEN, quoting, shortened

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.problem import Problem

_ENTRY = re.compile(
    r"(?P<lead>\s*(?:-\s+)*)(?:(?P<key>[^\s'\"\[{#][^#]*?):\s+)?(?P<value>[^\s].*)?"
)
_NO_SPACE = re.compile(r"(?P<lead>\s*(?:-\s+)*)(?P<name>[A-Za-z_][\w.-]*):(?P<rest>[^\s:/].*)")
_HIDDEN_LEAD = re.compile(rf"[\s-]*?(?P<hidden>{HIDDEN.pattern})")
_HIDDEN_AFTER_COLON = re.compile(rf"[^:#'\"]*:(?P<hidden>{HIDDEN.pattern})")
_CUT = re.compile(r"\s*(?:-\s+)*[^\s'\"\[{#:][^:#]*:\s+[^\s'\"\[{|>#].*?\s(?P<hash>#)")

_SIGNS = {
    ">": "a mark for folded text",
    "|": "a mark for text over several lines",
    "&": "a name for what follows",
    "*": "a reference to something named before",
    "!": "the type of what follows",
    "%": "an instruction to itself",
    "@": "a sign kept for later use",
    "`": "a sign kept for later use",
    "-": "an entry of a list",
    "?": "the key of an entry",
    ",": "a sign between entries",
    "]": "the end of a list",
    "}": "the end of a mapping",
}
_MARKS = frozenset("*&!")
_QUOTES = ("'", '"')
_CLOSING = "\"'])}"


def _tab(clue: Clue) -> Problem | None:
    lead = clue.here[: clue.indent]
    at = lead.find("\t") if "\t" in lead else clue.column
    if clue.here[at : at + 1] != "\t":
        return None
    message = "a tab stands where YAML wants spaces"
    return clue.problem("tab", message, "put spaces in its place", (clue.line, at, 1))


def _hidden(clue: Clue) -> Problem | None:
    for line in dict.fromkeys((clue.from_line, clue.above(), clue.line)):
        for pattern, where in (
            (_HIDDEN_LEAD, "at the start of the line"),
            (_HIDDEN_AFTER_COLON, "after the colon"),
        ):
            found = pattern.match(clue.text(line))
            if found:
                name = named(found["hidden"])
                message = f"the space {where} is not an ordinary one but an unseen {name}"
                at = (line, found.start("hidden"), 1)
                fix = "delete it and type an ordinary space"
                return clue.problem("hidden-character", message, fix, at)
    return None


def _cut_off(clue: Clue) -> Problem | None:
    above = clue.above()
    found = _CUT.match(clue.text(above)) if above >= 0 else None
    if found is None or clue.column != clue.indent or clue.indent <= indent_of(clue.text(above)):
        return None
    at = found.start("hash")
    message = "YAML takes the rest of the line after ` #` for a remark, which cuts the text off"
    fix = "put quotes round the whole text, or put the remark on a line of its own"
    return clue.problem("cut-off", message, fix, (above, at, len(clue.text(above)) - at))


def _no_colon(clue: Clue) -> Problem | None:
    """Recognise a line whose colon is missing, or has no space after it."""
    if "could not find expected ':'" in clue.what:
        line = clue.from_line
    elif "mapping values" in clue.what and ":" not in clue.here[clue.indent : clue.column]:
        line = clue.above()
    else:
        return None
    text = clue.text(line) if line >= 0 else ""
    if not text or ": " in text or text.rstrip().endswith(":"):
        return None
    found = _NO_SPACE.match(text)
    if found:
        at = found.start("name")
        message = f"there is no space after the colon of `{found['name']}:`"
        fix = f"write `{found['name']}: {shortened(found['rest'])}`"
        return clue.problem("no-space", message, fix, (line, at, len(found["name"]) + 1))
    at = indent_of(text)
    message = f"`{shortened(text)}` has no colon, so it is no field with its value"
    fix = "put a colon and a space after the name of the field"
    return clue.problem("no-colon", message, fix, (line, at, len(text.rstrip()) - at))


def _lone_colon(clue: Clue) -> Problem | None:
    """Recognise a colon with no name before it, or inside brackets with no space after it."""
    if clue.here[clue.column : clue.column + 1] != ":":
        return None
    at = (clue.line, clue.column, 1)
    if "unexpected ':'" in clue.what:
        message = "there is no space after this colon"
        return clue.problem("no-space", message, "put a space between the colon and the value", at)
    if clue.column == clue.indent:
        message = "there is no name before this colon"
        return clue.problem("no-name", message, "write the name of the field before it", at)
    return None


def _open_quote(clue: Clue) -> Problem | None:
    if "quoted scalar" not in clue.context or "unexpected" not in clue.what:
        return None
    mark = clue.text(clue.from_line)[clue.from_column : clue.from_column + 1]
    message = f"the quotation mark `{mark}` opened here is never closed"
    fix = f"put a `{mark}` at the end of the text"
    return clue.problem("open-quote", message, fix, (clue.from_line, clue.from_column, 1))


def _escape(clue: Clue) -> Problem | None:
    if "quoted scalar" not in clue.context or "escape" not in clue.what.replace("digit", "escape"):
        return None
    at = clue.here.rfind("\\", 0, clue.column + 1)
    message = f"`{clue.here[at : at + 2]}` means nothing to YAML inside double quotation marks"
    fix = "use single quotation marks, or write the backslash twice"
    return clue.unquoted(message, fix, (clue.line, max(at, 0), 2))


def _after_closing(clue: Clue) -> Problem | None:
    """Recognise text that begins with a quotation or a bracket and goes on after it."""
    before = clue.here[: clue.column].rstrip()
    if not before or before[-1] not in _CLOSING or "<document start>" in clue.what:
        return None
    if clue.here[clue.column : clue.column + 1] == ":":
        return None
    message = f"the text goes on after the closing `{before[-1]}`, where YAML takes it to end"
    entry = _ENTRY.match(clue.here)
    value = (entry["value"] or "") if entry else ""
    fix = "put quotes round the whole text"
    value = without_remark(value)
    if before[-1] in _QUOTES and before.count(before[-1]) % 2:
        fix = f"the `{before[-1]}` was opened in a line above: close the text there"
        return clue.problem("needs-quotes", message, fix, rest_of_line(clue))
    if value[:1] in set("'\"[") and not clue.context.startswith("while parsing a flow"):
        both = len(value) > 1 and value[0] == value[-1] and value[0] in "'\""
        fix = quoting(value[1:-1] if both else value, fix)
    return clue.unquoted(message, fix, rest_of_line(clue))


def _brackets(clue: Clue) -> Problem | None:
    """Recognise a bracket that stays open, and text in brackets that falls apart at a sign."""
    bracket = clue.text(clue.from_line)[clue.from_column : clue.from_column + 1]
    in_brackets = clue.context.startswith("while parsing a flow")
    if bracket not in ("[", "{") or not (in_brackets or "':'" in clue.what):
        return None
    sign = clue.here[clue.column : clue.column + 1]
    if clue.line == clue.from_line and sign in (":", "?"):
        message = f"inside `{bracket}` the text falls apart at the `{sign}`"
        fix = "put quotes round the text"
        problem = clue.unquoted(message, fix, (clue.line, clue.column, 1))
        return replace(problem, code="fell-apart")
    message = f"the `{bracket}` opened here is not closed, or a comma is missing after it"
    closing = "]" if bracket == "[" else "}"
    fix = f"put a `{closing}` where it ends, or the comma; look as far as line {clue.line + 1}"
    return clue.problem("open-bracket", message, fix, (clue.from_line, clue.from_column, 1))


def _sign(clue: Clue) -> Problem | None:
    """Recognise text that begins with a sign which means something to YAML."""
    line, column = clue.line, clue.column
    entry = _ENTRY.match(clue.here)
    if clue.context.startswith("while scanning a"):  # an alias, anchor, block scalar, directive
        line, column = clue.from_line, clue.from_column
    elif entry:
        starts = (
            entry.start(part) for part in ("key", "value") if (entry[part] or " ")[0] in _MARKS
        )
        column = next((start for start in starts if start < column), column)
    text = clue.text(line)
    sign = text[column : column + 1]
    if sign not in _SIGNS:
        return None
    shown = "a backtick" if sign == "`" else f"`{sign}`"
    message = f"the text begins with {shown}, which YAML takes for {_SIGNS[sign]}"
    value = without_remark(text[column:])
    in_brackets = "{" in text[:column] or "[" in text[:column]
    fix = "put quotes round the text" if in_brackets else quoting(value)
    return clue.unquoted(message, fix, (line, column, 1))


def _second_colon(clue: Clue) -> Problem | None:
    entry = _ENTRY.match(clue.here)
    if "mapping values" not in clue.what or entry is None or entry["key"] is None:
        return None
    at, value = entry.start("value"), without_remark(entry["value"] or "")
    if clue.column < at:
        return None
    message = f"the text of `{shortened(entry['key'])}` holds a colon, which YAML takes for a field"
    return clue.unquoted(message, quoting(value), (clue.line, clue.column, 1))


def _first_line(clue: Clue) -> Problem | None:
    """Recognise a first line that is set in while the others are not."""
    if "<document start>" not in clue.what:
        return None
    lines = enumerate(clue.source.lines)
    first = next((n for n, line in lines if line.strip() and not line.lstrip().startswith("#")), 0)
    indent = indent_of(clue.text(first))
    if not indent or first >= clue.line:
        return None
    message = f"the first line begins in column {indent + 1}, and line {clue.line + 1} does not"
    fix = "take the spaces before it away"
    return clue.problem("layout", message, fix, (first, 0, indent))


def _layout(clue: Clue) -> Problem | None:
    entry = clue.here[clue.indent :].split(":")[0]
    if not entry.strip():
        return None
    if "mapping values" in clue.what:
        message = (
            f"`{shortened(entry)}` is set deeper than the line above, which has a value already"
        )
        fix = "begin it in the same column as the line above"
    elif clue.column == clue.indent:
        column = clue.indent + 1
        message = f"`{shortened(entry)}` begins in column {column}, and belongs with no line above"
        fix = "begin it in the same column as the lines that it belongs with"
    else:
        return None
    return clue.problem("layout", message, fix, (clue.line, clue.indent, len(entry.rstrip())))


RECOGNISERS: tuple[Callable[[Clue], Problem | None], ...] = (
    _tab,
    _hidden,
    _open_quote,
    _escape,
    _cut_off,
    _lone_colon,
    _no_colon,
    _after_closing,
    _brackets,
    _first_line,
    _second_colon,
    _sign,
    _layout,
)
