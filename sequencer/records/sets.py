"""Checks of several readings: which are wanted, which are still to come, what they say together.

A reading of such a check is kept under its place: one of `each`, the name of a reading that the
check reckons with, `go` or `no_go`; a place and a name with a space between where both are wanted.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.model.quantities import AmountError, read_amount
from sequencer.records.verdicts import Verdict
from sequencer.trade.basics import TradeError
from sequencer.trade.judging import judge_check
from sequencer.trade.line_sums import with_line_sums

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.records.entries import Reading
    from sequencer.records.state import Taken
    from sequencer.records.verdicts import Word
    from sequencer.trade.follows import Word as TradeWord
    from sequencer.trade.judging import Judgement

_WORDS: Mapping[TradeWord, Word] = {
    "accept": "accept",
    "recorded": "recorded",
    "rework": "rework",
    "renew": "renew",
    "again": "again",
    "sign": "needs a signature",
    "stop": "stop",
    "out of limit": "out of limit",
    "measure again": "cannot be told",
    "cannot be told": "cannot be told",
}


def check_of(assembly: Assembly, check: str) -> Check | None:
    """Return the check of a model with this id; None if it has none."""
    return next((one for one in assembly.checks if one.id == check), None)


def is_measured(check: Check) -> bool:
    """Tell whether a check wants readings, not only a look."""
    return bool(check.measure or check.limit or _names(check) != ("",))


def wanted(check: Check) -> tuple[str, ...]:
    """Return the places at which a check is read; one without a name where there is only one.

    Examples
    --------
    >>> from sequencer.model.checking import Check
    >>> wanted(Check(id="bore", go="5.00 plug", no_go="5.02 plug", each=("left", "right")))
    ('left go', 'left no_go', 'right go', 'right no_go')
    """
    return tuple(_joined(place, name) for place in check.each or ("",) for name in _names(check))


def place_of(check: Check, place: str, name: str) -> str:
    """Return the place that is meant by a place and a name as typed."""
    plain = name.replace("-", "_") if name.replace("-", "_") in _names(check) else name
    return _joined(place.strip(), plain.strip())


def missing(check: Check, current: Iterable[Taken]) -> tuple[str, ...]:
    """Return the places of which no reading that counts is there.

    Of readings that are reckoned with each other only those of the last round count.
    """
    counting = list(current)
    if check.readings:
        last = max((taken.round for taken in counting), default=1)
        counting = [taken for taken in counting if taken.round == last]
    there = {taken.place for taken in counting}
    if wanted(check) == ("",):
        return () if there else ("",)
    said = {place for place in check.each or ("",) if place in there and not check.readings}
    return tuple(
        one for one in wanted(check) if one not in there and _place(check, one) not in said
    )


def judged_with(
    assembly: Assembly, check: Check, taken: Sequence[Taken], what: Reading, round_: int
) -> Verdict:
    """Return the verdict on a reading, together with the others of its place and round.

    As long as some are still to come it is recorded, and says so. A gauge that is not the check's
    own counts for a figure that is read alone.
    """
    if _names(check) == ("",) or what.place not in wanted(check):
        alone = replace(check, readings=(), compute="", results=(), go="", no_go="")
        gauged = replace(alone, with_=what.gauge or check.with_)
        return _verdict(assembly, gauged, {"": what.value}, round_)
    place = _place(check, what.place)
    values = {one.place: one.value for one in taken if not one.void and one.round == round_}
    values[what.place] = what.value
    typed = {name: values.get(_joined(place, name), "") for name in _names(check)}
    left = [name for name, value in typed.items() if not value.strip()]
    if left:
        return Verdict("recorded", f"still to come: {', '.join(left)}")
    return _verdict(assembly, check, typed, round_)


def _verdict(assembly: Assembly, check: Check, typed: Mapping[str, str], round_: int) -> Verdict:
    tools = {tool.id: tool for tool in assembly.tools}
    names = {part.id: part.label for part in assembly.parts}
    try:
        whole = with_line_sums(check, {line.id: line for line in assembly.lines})
    except TradeError as error:
        return Verdict("cannot be told", error.what, error.fix)
    found = judge_check(whole, typed, tools, turn=round_, names=names)
    return Verdict(set_verdict(found.word), _why(check, typed, found), found.follows.words)


def set_verdict(word: TradeWord) -> Word:
    """Return the word that the log has for a verdict of the trade."""
    return _WORDS[word]


def _why(check: Check, typed: Mapping[str, str], found: Judgement) -> str:
    """Return why, without the figure where that stands beside it as typed, in the limit's unit."""
    if check.limit is None or len(found.results) != 1 or "" not in typed:
        return found.why
    limit = check.limit.value
    try:
        unit = read_amount(typed[""], (limit.quantity,)).unit
    except AmountError:  # a bare number: the unit that it was given is told
        return found.why
    if unit is not limit.unit:
        return found.why
    return found.why.removeprefix(f"{found.results[0].figure} is ").removeprefix("within ")


def is_one_set(check: Check, one: str, other: str) -> bool:
    """Tell whether readings at two places are judged together."""
    return _names(check) != ("",) and _place(check, one) == _place(check, other)


def _names(check: Check) -> tuple[str, ...]:
    """Return the readings that one place wants."""
    if check.readings:
        return tuple(reading.name for reading in check.readings if not reading.is_known)
    gauges = (("go", check.go), ("no_go", check.no_go))
    if check.limit is None and (check.go or check.no_go):
        return tuple(name for name, gauge in gauges if gauge)
    return ("",)


def _joined(place: str, name: str) -> str:
    return f"{place} {name}".strip()


def _place(check: Check, place: str) -> str:
    """Return the place of `each` at which a reading was taken; none where there is only one."""
    return next((one for one in check.each if place == one or place.startswith(f"{one} ")), "")
