"""Which unit a spelling stands for, and what to say where it stands for none."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from sequencer.model.nearest import nearest
from sequencer.model.numerals import AmountError, plain_text
from sequencer.model.units import UNITS, Unit

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.model.numerals import Cursor

_LONGEST_UNIT = 20
_FEW = 2
ASKED = {
    ("torque", "nm"): ("`nm` is a nanometre", "write `N·m` for newton metres"),
    ("torque", "NM"): ("`NM` is not a torque", "write `N·m` for newton metres"),
    ("torque", "lb"): (
        "`lb` alone is not a torque: foot-pounds and inch-pounds differ twelve times",
        "write `ft-lb` or `in-lb`, whichever the source means",
    ),
}
for _name in ("lbs", "pound", "pounds", "lbf", "#"):
    ASKED["torque", _name] = ASKED["torque", "lb"]
"""What to say of spellings that look like a unit of a quantity and are none: what is, and why."""


def unit_here(cursor: Cursor, quantities: tuple[str, ...]) -> Unit | None:
    """Take the longest unit that stands at the cursor, if one does."""
    start = cursor.skip_spaces()
    rest = cursor.rest
    for length in range(min(len(rest), _LONGEST_UNIT), 0, -1):
        piece, following = rest[:length], rest[length : length + 1]
        cut_short = following.isalnum() and (piece[-1].isalnum() or piece[-1] == "°")
        no_unit = cut_short or piece != piece.strip() or not piece.strip(".")  # `..` is a range
        unit = None if no_unit else _lookup(piece, quantities)
        if unit is not None:
            cursor.at = start + length
            return unit
    return None


def unit_to_end(cursor: Cursor, quantities: tuple[str, ...]) -> Unit:
    """Take the unit that is all the rest of the text."""
    start = cursor.skip_spaces()
    rest = cursor.rest
    unit = _lookup(rest, quantities)
    if unit is None:
        raise _unit_error(cursor.text, rest, start, quantities)
    cursor.at = len(cursor.text)
    return unit


@lru_cache(maxsize=4096)
def _lookup(spelling: str, quantities: tuple[str, ...]) -> Unit | None:
    tidy = re.sub(r"\s*([·*.-])\s*", r"\1", re.sub(r"\s+", " ", spelling))
    for quantity in quantities:
        unit = UNITS[quantity].get(tidy) or UNITS[quantity].get(tidy.rstrip("."))
        if unit is not None:
            return unit
    return None


def unit_named(spelling: str, quantities: Iterable[str]) -> Unit | None:
    """Return the unit that a spelling stands for in the first of the quantities that has it.

    Examples
    --------
    >>> unit_named("ft-lb", ("torque",)).symbol
    'ft·lbf'
    """
    return _lookup(plain_text(spelling).strip(), tuple(quantities))


def _unit_error(text: str, rest: str, start: int, quantities: tuple[str, ...]) -> AmountError:
    kind = _a(quantities[0]) if len(quantities) == 1 else "a figure in a unit known here"
    whole = text.strip()
    folded, some = _known(quantities)
    if not rest:
        return AmountError(f"`{whole}` has no unit, and {kind} needs one", f"add one of {some}")
    for quantity in quantities:
        if (quantity, rest) in ASKED:
            return AmountError(*ASKED[quantity, rest], start, len(rest))
    other = next((q for q in UNITS if q not in quantities and _lookup(rest, (q,))), None)
    if other is not None:
        what = f"`{whole}` is {_a(other)}, where {kind} belongs"
    else:
        what = f"`{whole}` is not {kind}: `{rest}` is no unit known here"
    near = None if other else nearest(rest.casefold(), tuple(folded))
    fix = f"did you mean `{folded[near].symbol}`?" if near else f"use one of {some}"
    return AmountError(what, fix, start, len(rest))


@cache
def _known(quantities: tuple[str, ...]) -> tuple[dict[str, Unit], str]:
    """Return the units of some quantities by their spellings in small letters; some to name."""
    spellings = {name: unit for quantity in quantities for name, unit in UNITS[quantity].items()}
    symbols = dict.fromkeys(unit.symbol for unit in spellings.values() if unit.symbol)
    some = ", ".join(f"`{symbol}`" for symbol in list(symbols)[:6]) or "plain digits"
    if len(quantities) > _FEW:  # six of the first quantity would mislead
        some = "`mm`, `N·m`, `kg`, `bar`, `°C`, `s` and others"
    return {name.casefold(): unit for name, unit in spellings.items()}, some


def _a(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def same_unit(cursor: Cursor, quantities: tuple[str, ...], unit: Unit | None) -> Unit:
    """Take the unit at the end, which must not gainsay one that stood before."""
    start = cursor.skip_spaces()
    rest = cursor.rest
    if unit is not None and not (rest and unit.symbol == ""):
        if not rest:
            return unit
        if _lookup(rest, (unit.quantity,)) is unit:
            cursor.at = len(cursor.text)
            return unit
        raise AmountError(
            f"`{rest}` is not understood after `{cursor.text[:start].strip()}`",
            "give one figure or one range, with one unit; put words in `note`",
            start,
            len(rest),
        )
    return unit_to_end(cursor, quantities)
