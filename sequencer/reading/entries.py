"""The entries of a mapping, one by one, with the slips that YAML lets pass told on the way."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from sequencer.problem import Fact, Place, Problem
from sequencer.reading.decoding import named
from sequencer.reading.mending import in_quotes, takes_words, value_in_quotes, without_remark
from sequencer.reading.nodes import NULLS, Scalar, is_empty, is_null
from sequencer.reading.source import HIDDEN, quoting, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.problem import Path
    from sequencer.reading.nodes import Mapping, Node
    from sequencer.reading.source import Faults, Source

_CUT = re.compile(r"\s+(?P<rest>#[^\s#].*)")
_CUT_BEFORE_NUMBER = re.compile(r" (?P<rest># [0-9].*)")
_MAY_END_BRACES = (",", "}", "]")
_COLON_THEN_CUT = re.compile(r"\s*:\s+(?P<rest>#[^\s#].*)")


def entries(
    node: Mapping, path: Path, source: Source, faults: Faults
) -> Iterator[tuple[Scalar, str, Node]]:
    """Yield each sound entry of a mapping: its key, the key's text, and its value.

    Told and left out: keys that are no text or written twice, and values that fell apart.
    """
    seen: dict[str, Scalar] = {}
    for key, value, pieces in _gathered(node, source):
        if not isinstance(key, Scalar) or key.refused:
            if not key.refused:
                faults.add(_no_key(key, source), source.place(key), path)
            faults.spoil(path)
            continue
        name = key.text.strip(" \t\r\n")
        problem = (
            _twice(name, seen.get(name), source)
            or _odd_key(key, name, source)
            or _fallen_apart((key, value), pieces, source)
            or _cut_before_value(key, value, source)
        )
        if problem:
            faults.add(problem, problem.place or source.place(key), (*path, name))
            continue
        seen[name] = key
        yield key, name, value


def _gathered(node: Mapping, source: Source) -> list[tuple[Node, Node, list[Scalar]]]:
    """Return the entries, each with the words that a comma in `{ }` has split off behind it."""
    if not node.flow:
        return [(key, value, []) for key, value in node.entries()]
    gathered: list[tuple[Node, Node, list[Scalar]]] = []
    for key, value in node.entries():
        if isinstance(key, Scalar) and is_empty(value) and not is_null(key):
            alone = not source.after(key).lstrip().startswith(":")
            if alone and gathered:
                gathered[-1][2].append(key)
                continue
            if alone:
                gathered.append((key, value, [key]))
                continue
        gathered.append((key, value, []))
    return gathered


def _no_key(key: Node, source: Source) -> Problem:
    message = f"`{shortened(source.typed(key), 30)}` stands where a name belongs"
    fix = "put quotes round the text if it is text, or write a name and a colon before it"
    why = "everything in a model goes by its name"
    return Problem("fell-apart", "error", message, why=why, fix=fix)


def _twice(name: str, first: Scalar | None, source: Source) -> Problem | None:
    if first is None:
        return None
    return Problem(
        "duplicate-key",
        "error",
        f"`{shortened(name)}` is written twice, first in line {first.line + 1}",
        facts=(Fact("it is written here first", place=source.place(first)),),
        why="only one of them could count, and nobody could tell which",
        fix="delete one of them, or give it a name of its own",
    )


def _odd_key(key: Scalar, name: str, source: Source) -> Problem | None:
    if name == "<<":
        message = "`<<` merges another mapping in YAML, which models do not use"
        why = "fields from elsewhere would be hard to follow at the bench"
        return Problem("merge", "error", message, why=why, fix="write the fields out")
    if name in NULLS or not name:
        message = f"`{name}` is no name" if name else "there is no name before the colon"
        fix = "write a name, or put quotes round it"
        return Problem("null", "error", message, why="nothing could be called by it", fix=fix)
    hidden = None if name.isascii() else HIDDEN.search(name)
    if hidden and hidden.start() in (0, len(name) - 1):
        where = "before" if hidden.start() == 0 else "after"
        shown = name.replace(hidden.group(), "")
        message = f"an unseen {named(hidden.group())} stands {where} `{shown}`"
        why = "the name would be another one than it seems"
        fix = "delete it and type an ordinary space"
        place = source.place_in(key, key.text.index(hidden.group()), 1)
        return Problem("hidden-character", "error", message, why=why, fix=fix, place=place)
    return None


def _fallen_apart(
    entry: tuple[Scalar, Node], pieces: list[Scalar], source: Source
) -> Problem | None:
    """Return the problem of words in `{ }` that are no field, and which text they may belong to."""
    if not pieces:
        return None
    key, value = entry
    mend = None
    alone = ", ".join(f"`{shortened(piece.text)}`" for piece in pieces)
    stand = "stand" if len(pieces) > 1 else "stands"
    message = f"{alone} {stand} alone between the commas of `{{ }}`"
    fix = "put quotes round a text that holds a comma, or write a colon and a value after it"
    if isinstance(value, Scalar) and value.text:
        name, last = key.text, pieces[-1]
        message = f"the value of `{name}` fell apart at a comma: {alone} {stand} alone"
        fix = f"put quotes round the whole value of `{name}`"
        if not value.style and value.line == last.end_line:
            fix = quoting(source.line(value.line)[value.column : last.end_column], fix)
            if takes_words(name):
                mend = value_in_quotes(source, value.line, value.column) or in_quotes(
                    source, value.line, value.column, last.end_column
                )
    return Problem(
        "fell-apart",
        "error",
        message,
        why="inside `{ }` a comma ends the value, so a part of it would be missing on the page",
        fix=fix,
        place=source.place(pieces[0]),
        mend=mend,
    )


def _cut_before_value(key: Scalar, value: Node, source: Source) -> Problem | None:
    """Recognise ``number: #10-32``, where all of the value is taken for a remark."""
    if key.end_line not in source.hashed or not isinstance(value, Scalar):
        return None
    if not is_empty(value) and value.line == key.end_line:
        return None
    found = _COLON_THEN_CUT.match(source.after(key))
    return _cut_off(found, key, None, source, words=takes_words(key.text))


def cut_after(scalar: Scalar, source: Source, *, words: bool) -> Problem | None:
    """Recognise plain text that a ` #` cuts off.

    A remark begins with `# `; in `words`, a number behind that may still belong to them, unless
    the `#` is set apart by more than one space.
    """
    if scalar.style or scalar.end_line not in source.hashed:
        return None
    rest = source.after(scalar)
    found = _CUT.match(rest) or (_CUT_BEFORE_NUMBER.match(rest) if words else None)
    return _cut_off(found, scalar, scalar, source, words=words)


def _cut_off(
    found: re.Match[str] | None,
    before: Scalar,
    text: Scalar | None,
    source: Source,
    *,
    words: bool,
) -> Problem | None:
    """Return the problem of what a ` #` cuts off behind a key or a text, and the edit."""
    if found is None:
        return None
    rest = without_remark(found["rest"])
    column = before.end_column + found.start("rest")
    line, start = before.end_line, column if text is None else text.column
    clear = words and (text is None or text.line == line) and rest[-1:] not in _MAY_END_BRACES
    whole = f"{text.text if text else ''} {rest}"
    return Problem(
        "cut-off",
        "error",
        f"YAML takes `{shortened(rest, 30)}` for a remark and drops it",
        why="the text would be printed without its end",
        fix=quoting(whole) + "; a remark begins with `# ` and a word",
        place=Place(source.name, line + 1, column + 1, len(rest)),
        mend=in_quotes(source, line, start, column + len(rest)) if clear else None,
    )
