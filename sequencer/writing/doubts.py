"""What there is to tell about a table on its way into a model."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.reading.decoding import named
from sequencer.reading.source import shortened
from sequencer.writing.columns import known_heads

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.writing.cells import Cell


def no_text(file: str) -> Problem:
    """Return the problem of a workbook, or another file that is no text."""
    return Problem(
        "not-a-table",
        "error",
        f"`{file}` is a workbook or a document, and no table in plain text",
        why="only text can be read here, whatever program wrote it",
        fix="open it, and save the sheet as CSV",
    )


def a_model(file: str) -> Problem:
    """Return the problem of a model where a table is wanted."""
    return Problem(
        "not-a-table",
        "error",
        f"`{file}` is a model, and no table",
        why="a model is what tables are put into",
        fix="name the tables first, and the model behind `--into`",
    )


def no_rows(file: str) -> Problem:
    """Return the problem of a table with nothing in it."""
    return Problem(
        "not-a-table",
        "error",
        f"there is nothing in `{file}`",
        why="a table has a row with the names of its columns, and the rows below",
        fix="look whether it was saved, and whether it is the right file",
    )


def guessed_encoding() -> Problem:
    """Return the problem of that the encoding was guessed."""
    return Problem(
        "encoding",
        "warning",
        "the table is not UTF-8, and was read as Windows-1252",
        why="signs such as ä, µ and ° may have become others",
        fix="look at them; if they are wrong, say `--encoding`, or save the table as UTF-8",
    )


def no_head(sections: Mapping[str, type]) -> Problem:
    """Return the problem of a table without the names of its columns."""
    names = "; or ".join(
        f"for {section}: {', '.join(f'`{name}`' for name in known_heads(cls)[:8])}, …"
        for section, cls in sections.items()
    )
    return Problem(
        "no-head",
        "error",
        "no row has the names of columns that are known here",
        why="nobody could tell what the cells mean",
        fix=f"write a first row such as {names}; or say the separator with `--separator`",
    )


def unknown_head(cell: Cell, cls: type) -> Problem:
    """Return the problem of a column that fills no field."""
    names = ", ".join(f"`{name}`" for name in known_heads(cls))
    return Problem(
        "column",
        "warning",
        f"the column `{shortened(cell.text)}` is left out",
        why="it has no place in a model under that name",
        fix=f"if it has one under another, call it so: {names}",
    )


def head_twice(cell: Cell, name: str, first: Cell) -> Problem:
    """Return the problem of a second column for a field."""
    return Problem(
        "column",
        "warning",
        f"the column `{shortened(cell.text)}` is left out: `{shortened(first.text)}` is `{name}`",
        why="only one column can fill a field",
        fix="call the one that is meant by the name of the field, and the other by another",
    )


def too_many_cells() -> Problem:
    """Return the problem of a row that is longer than the head."""
    return Problem(
        "column",
        "error",
        "this row has more cells than the table has heads",
        why="a text with the separator in it may have fallen apart",
        fix="put the text in double quotation marks, or say the separator with `--separator`",
    )


def open_mark() -> Problem:
    """Return the problem of a quotation mark that is never closed."""
    return Problem(
        "open-quote",
        "error",
        "the quotation mark opened here is never closed",
        why="nobody can tell where the cell ends",
        fix='write a mark that belongs to the text as `""`, with one more round the whole cell',
    )


def hidden_sign(sign: str) -> Problem:
    """Return the problem of a character that cannot be printed."""
    return Problem(
        "hidden-character",
        "error",
        f"the cell holds an unseen character: {named(sign)}",
        why="neither YAML nor the printed page can hold it",
        fix="delete it",
    )


def spoiled_id(text: str, made: str) -> Problem:
    """Return the problem of an id that is no longer what it was."""
    return Problem(
        "spoiled-id",
        "warning",
        f"`{shortened(text)}` looks like {made}, which a spreadsheet has made of it",
        why="it would be printed, and looked for in the store, as it stands",
        fix="format the column as text, type it again and save; or mend it in the model",
    )


def short_id(text: str) -> Problem:
    """Return the problem of an id that is shorter than its like."""
    return Problem(
        "spoiled-id",
        "warning",
        f"zeros at the start of `{shortened(text)}` may be lost: others are longer",
        why="a spreadsheet takes an id of digits for a number, and drops them",
        fix="look at the original; format the column as text before typing it again",
    )


def doubtful_number(text: str) -> Problem:
    """Return the problem of a number that can be read in two ways."""
    return Problem(
        "doubtful",
        "error",
        f"`{shortened(text)}` could be thousands or a decimal comma",
        why="no other number of the table tells which",
        fix="say `--decimal ,` or `--decimal .`",
    )


def size_as_facing(name: str, said: str) -> Problem:
    """Return the problem of a part that goes in which way round no size says."""
    return Problem(
        "doubtful",
        "warning",
        f"`{shortened(said)}` behind `{shortened(name)}` is taken for which way round it goes in",
        why="that is what brackets mean here, and it would be printed in a box of its own",
        fix="if it is a size, put it into the name of the part; how many are fitted goes in front, "
        "as in `10 balls`",
    )


def id_twice(name: str, first: Cell, file: str) -> Problem:
    """Return the problem of an id that two rows have."""
    return Problem(
        "duplicate-key",
        "error",
        f"`{shortened(name)}` is there twice, first in line {first.line}",
        facts=(Fact("it is there first", place=first.place(file)),),
        why="two rows would become one",
        fix="give one of them an id of its own, or add up the quantities in one row",
    )
