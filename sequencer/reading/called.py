"""What people call the fields of the file, in tables and in models, where its own word differs."""

from __future__ import annotations

from sequencer.model.checking import Check
from sequencer.model.fastening import Joint
from sequencer.model.parts import Part
from sequencer.model.steps import Step

ID = "id"
"""What a table calls the name of a row, which in a model is no field."""

ALSO_CALLED = {
    Part: {
        ID: "item, item no, find no, ref, reference, pos, position, key, no",
        "name": "description, designation, title, part, part name",
        "number": "part number, part no, p n, pn, article, article no, drawing, drawing no",
        "quantity": "qty, count, pcs, pieces, amount",
        "mass": "weight, unit weight",
        "price": "cost, unit price, unit cost",
        "spare": "spares",
        "lead": "lead time, delivery, delivery time",
    },
    Step: {
        ID: "step, step no, op, op no, operation no, no, pos, key",
        "do": "operation, description, instruction, text, action, task, what",
        "fits": "fit, part, parts",
        "time": "duration, minutes, mins",
        "tools": "tool",
        "tighten": "joint, joints",
        "apply": "compound, compounds",
        "note": "notes, remark, remarks, comment, comments",
        "by": "role, who",
        "warning": "warnings",
        "caution": "cautions",
    },
    Joint: {
        "surface": "compound, lubricant, threads",
        "count": "quantity, qty, pieces",
        "torque": "tighten, value",
        "grade": "class, strength",
    },
    Check: {
        "with": "tool, tools, gauge, instrument",
        "limit": "limits, tolerance, value, range",
        "good": "accept, pass",
        "bad": "reject, fail",
    },
}
"""By record and field, the other words for it, in small letters, with commas between."""


def meant_by(cls: type, name: str) -> str:
    """Return the field of a record that a word is another word for; empty if there is none.

    Examples
    --------
    >>> meant_by(Check, "tool"), meant_by(Check, "colour")
    ('with', '')
    """
    words = name.replace("_", " ")
    called = ALSO_CALLED.get(cls, {}).items()
    return next((field for field, also in called if field != ID and words in also.split(", ")), "")
