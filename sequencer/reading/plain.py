"""Plain values: words, whole numbers, yes or no, one of a few words, figures and torques."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.model.fields import Figure
from sequencer.model.lines import EndValue
from sequencer.model.nearest import nearest
from sequencer.model.numerals import AmountError, Cursor
from sequencer.problem import Problem
from sequencer.reading.figures import figure_problem, read_figure, read_torque
from sequencer.reading.mending import in_quotes
from sequencer.reading.names import either
from sequencer.reading.nodes import Mapping, Scalar, Sequence
from sequencer.reading.source import quoting, shortened

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.fastening import TorqueValue
    from sequencer.model.fields import EndText, Flag, Number, Text, TorqueText, Whole, Word
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path
    from sequencer.reading.binder import Binder
    from sequencer.reading.nodes import Node

_WORDS = "words are"
_ENDS = ("open", "shut")
_LENGTH = Figure(("length",))
_WHOLE = re.compile(r"[0-9]{1,6}")
_MEANS = {"yes": "true", "on": "true", "y": "true", "no": "false", "off": "false", "n": "false"}


def read_text(binder: Binder, _kind: Text, node: Node, path: Path) -> str | None:
    """Return words as typed, without the spaces round them."""
    scalar = scalar_of(binder, node, path, _WORDS)
    return (scalar.text.strip() or None) if scalar else None


def read_whole(binder: Binder, kind: Whole, node: Node, path: Path) -> int | None:
    """Return a whole number in plain digits."""
    scalar = scalar_of(binder, node, path, "a whole number is")
    if scalar is None:
        return None
    text = scalar.text.strip()
    if _WHOLE.fullmatch(text) and int(text) >= kind.least:
        return int(text)
    message = f"`{shortened(text)}` is not a whole number from {kind.least} to 999999"
    fix = "write it in digits, without a unit or separators"
    why = "it is counted with, and printed in the kit list"
    binder.fault(Problem("whole-number", "error", message, why=why, fix=fix), node, path)
    return None


def read_number(binder: Binder, _kind: Number, node: Node, path: Path) -> Fraction | None:
    """Return a plain number, exactly as typed."""
    scalar = scalar_of(binder, node, path, "a number is")
    if scalar is None:
        return None
    try:
        cursor = Cursor(scalar.text)
        value, _ = cursor.number()
        cursor.skip_spaces()
        if cursor.at == len(scalar.text):
            return value
    except AmountError as error:
        if error.width is not None:
            figure_fault(binder, error, scalar, path)
            return None
    message = f"`{shortened(scalar.text)}` is not a plain number"
    fix = "write it in digits, without a unit"
    why = "it is reckoned with"
    binder.fault(Problem("number", "error", message, why=why, fix=fix), node, path)
    return None


def read_flag(binder: Binder, _kind: Flag, node: Node, path: Path) -> bool | None:
    """Return `true` or `false`."""
    scalar = scalar_of(binder, node, path, "`true` or `false` is")
    if scalar is None:
        return None
    text = scalar.text.strip().lower()
    if text in ("true", "false"):
        return text == "true"
    message = f"`{shortened(scalar.text)}` is neither `true` nor `false`"
    fix = f"write `{_MEANS[text]}`" if text in _MEANS else "write `true`, or leave the field out"
    why = "any other word could be taken either way"
    binder.fault(Problem("true-or-false", "error", message, why=why, fix=fix), node, path)
    return None


def read_word(binder: Binder, kind: Word, node: Node, path: Path) -> str | None:
    """Return one of the words of the kind, or the id of what may stand for one.

    A list of one is that one.
    """
    if isinstance(node, Sequence) and len(node.items) == 1:
        word: str | None = binder.read(kind, node.items[0], path)
        return word
    others = (f"the id of a {kind.or_a}",) if kind.or_a else ()
    choice = either((*(f"`{word}`" for word in kind.words), *others))
    scalar = scalar_of(binder, node, path, f"{choice} is")
    if scalar is None:
        return None
    text = scalar.text.strip().lower()
    if text in kind.words:
        return text
    name = scalar.text.strip()
    known = tuple(binder.names.keys[kind.or_a]) if kind.or_a else ()
    if name in known:
        return name
    near = nearest(text[:40], kind.words) or nearest(name[:40], known)
    message = f"`{shortened(scalar.text)}` is not {choice}"
    fix = f"did you mean `{near}`?" if near else f"write {choice}, or leave the field out"
    why = "only certain words mean something to the plan here"
    binder.fault(Problem("word", "error", message, why=why, fix=fix), node, path)
    return None


def read_amount_of(binder: Binder, kind: Figure, node: Node, path: Path) -> Amount | None:
    """Return a figure with its unit."""
    scalar = scalar_of(binder, node, path, "a figure is")
    if scalar is None:
        return None
    try:
        return read_figure(kind, scalar.text)
    except AmountError as error:
        figure_fault(binder, error, scalar, path)
        return None


def read_torque_of(binder: Binder, _kind: TorqueText, node: Node, path: Path) -> TorqueValue | None:
    """Return a torque, a torque then an angle, or finger tight."""
    scalar = scalar_of(binder, node, path, "a torque is")
    if scalar is None:
        return None
    try:
        return read_torque(scalar.text)
    except AmountError as error:
        figure_fault(binder, error, scalar, path)
        return None


def read_end(binder: Binder, _kind: EndText, node: Node, path: Path) -> EndValue | None:
    """Return how an end of a line is: open, shut, or of a size."""
    if not isinstance(node, Scalar):
        this = "a list" if isinstance(node, Sequence) else "a set of fields"
        message = f"`open`, `shut` or a size is wanted here, and this is {this}"
        fix = "for parts that shut the end once they are on, write `shut_by: …` under its name"
        binder.fault(wrong_kind(message, fix), node, path)
        return None
    text = node.text.strip()
    if text.casefold() in _ENDS:
        return EndValue(text.casefold())
    if not any(sign.isdigit() for sign in text) or text in binder.names.keys["part"]:
        binder.fault(_no_end(text, is_part=text in binder.names.keys["part"]), node, path)
        return None
    try:
        return EndValue(text, read_figure(_LENGTH, node.text))
    except AmountError as error:
        figure_fault(binder, error, node, path)
        return None


def _no_end(text: str, *, is_part: bool) -> Problem:
    fix = "write `open`, `shut`, or a size such as `40 mm` that everything has to pass"
    if is_part:
        fix = f"if that part shuts the end once it is on, write `{{shut_by: {text}}}`"
    message = f"`{shortened(text)}` is neither `open` nor `shut`, nor a size"
    why = "what comes in at this end could not be decided"
    return Problem("word", "error", message, why=why, fix=fix)


def figure_fault(binder: Binder, error: AmountError, scalar: Scalar, path: Path) -> None:
    """Tell that a figure cannot be read, at the place in it that is wrong."""
    problem, start, width = figure_problem(error, scalar.text)
    binder.faults.add(problem, binder.source.place_in(scalar, start, width), path)


def wrong_kind(message: str, fix: str) -> Problem:
    """Return the problem of a value of another shape than its field wants."""
    why = "as it stands, it would not be read as it was meant"
    return Problem("wrong-kind", "error", message, why=why, fix=fix)


def scalar_of(binder: Binder, node: Node, path: Path, wanted: str) -> Scalar | None:
    """Return the node if it is plain text; otherwise tell that something else is wanted."""
    if isinstance(node, Scalar):
        return node
    span = _on_one_line(node)
    message = f"{wanted} wanted here, and this is a list"
    fix = "write it on the line of the field itself"
    typed = binder.source.line(node.line)[slice(*span)] if span else ""
    if typed:
        fix = quoting(typed, "if it is text, put quotes round it")
    if isinstance(node, Mapping):
        message = f"{wanted} wanted here, and this is a set of fields"
        if typed and not typed.startswith("{"):
            message = f"{wanted} wanted here, and YAML takes the colon for a field"
    mend = in_quotes(binder.source, node.line, *span) if span and wanted == _WORDS else None
    binder.fault(replace(wrong_kind(message, fix), mend=mend), node, path)
    return None


def _on_one_line(node: Sequence | Mapping) -> tuple[int, int] | None:
    """Return the columns between which a list or a set of fields stands, if it is on one line."""
    last: Node = node
    if not node.flow and isinstance(node, Mapping) and len(node.items) == len(("key", "value")):
        last = node.items[1]  # the end of the mapping itself is where the next thing begins
    if (last is node or isinstance(last, Mapping | Sequence)) and not last.flow:
        return None
    return (node.column, last.end_column) if last.end_line == node.line else None
