"""The rules by which the page judges readings: those of the log, as plain values for JSON.

What follows where a check fails is worked out here, in words, for each way in which it can fail;
the page only decides which of them it is. `tests/tablet` holds its verdicts against the log's.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from sequencer.records.sets import set_verdict, wanted
from sequencer.records.verdicts import with_unit
from sequencer.sheets.checks import asked
from sequencer.sheets.tablet.exact import band, division, known, tree
from sequencer.sheets.words import shortened
from sequencer.trade.basics import TradeError
from sequencer.trade.choosing import asked_of
from sequencer.trade.follows import what_follows
from sequencer.trade.formulas import read_formula
from sequencer.trade.line_sums import with_line_sums
from sequencer.trade.reckoning import division_of, results_of, shares
from sequencer.trade.typed_readings import bare_unit

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.model.assembly import Prints
    from sequencer.model.checking import Check, Reading
    from sequencer.model.fastening import Joint
    from sequencer.model.quantities import Amount
    from sequencer.sheets.job import Job
    from sequencer.sheets.tablet.exact import Plain
    from sequencer.trade.reckoning import Wanted

_MOST_TURNS = 60
_NAME_LENGTH = 50


def meant_unit(limit: Amount | None, prints: Prints) -> str:
    """Return the unit that a bare number has in the log: the first printed, else the limit's."""
    first = {"length": prints.length, "torque": prints.torque}
    units = first.get(limit.quantity, ()) if limit is not None else ()
    return with_unit("0", limit, units).removeprefix("0").strip()


def check_rules(job: Job, check: Check) -> Plain:
    """Return how the readings of a check are judged, one by one or as a set."""
    say = _with_numbers(job)
    fault: list[str] | None = None
    try:
        check = with_line_sums(check, {line.id: line for line in job.assembly.lines})
    except TradeError as error:
        fault = [error.what, error.fix]
    readings = [one for one in check.readings if one.is_ is not None or not one.is_known]
    limit = check.limit.value if check.limit is not None else None
    return {
        "id": check.id,
        "name": shortened(asked(check)[1], _NAME_LENGTH),
        "each": list(check.each),
        "wanted": list(wanted(check)),
        "most": check.else_.most if check.else_ is not None else None,
        "limit": band(limit) if limit is not None else None,
        "unit": "" if check.readings else meant_unit(limit, job.assembly.prints),
        "gauge": division(division_of(job.tools, check)),
        "bareUnit": _bare(check, division_of(job.tools, check)),
        "rework": _rework(check),
        "good": check.good,
        "bad": check.bad,
        "go": check.go,
        "noGo": check.no_go,
        "fault": fault,
        "readings": [_reading(job, check, one) for one in readings],
        "results": [_result(one) for one in results_of(check)],
        "follows": _follows(job, check, say),
    }


def _rework(check: Check) -> Plain | None:
    """Return where rework is still allowed: anywhere where that has no limit of its own."""
    if check.rework is None:
        return None
    return {"limit": band(check.rework.limit.value) if check.rework.limit is not None else None}


def _reading(job: Job, check: Check, reading: Reading) -> Plain:
    fine = division_of(job.tools, check, reading)
    return {
        "name": reading.name,
        "is": known(reading.is_) if reading.is_ is not None else None,
        "gauge": division(fine),
        "unit": _bare(check, fine),
    }


def _bare(check: Check, fine: Amount | None) -> str | None:
    """Return the unit that a bare number means."""
    unit = bare_unit(check, fine)
    return unit.symbol if unit is not None else None


def _result(wanted: Wanted) -> Plain:
    """Return how a result is reckoned; of a formula that cannot be read, what is wrong with it."""
    limit = band(wanted.limit.value) if wanted.limit is not None else None
    told: Plain = {"name": wanted.name, "text": wanted.text.strip(), "limit": limit}
    try:
        formula = read_formula(wanted.text)
        linear = shares(formula)
    except TradeError as error:
        return {**told, "fault": [error.what, error.fix]}
    return {
        **told,
        "names": list(formula.names),
        "tree": tree(formula.tree),
        "shares": None if linear is None else {name: str(share) for name, share in linear.items()},
    }


def _follows(job: Job, check: Check, say: Callable[[str], str]) -> list[list[list[str]]]:
    """Return what follows, by the turn (the last for all later ones) and by rework."""
    most = check.else_.most if check.else_ is not None and check.else_.most else 1
    names = {part.id: part.label for part in job.assembly.parts}
    told = []
    for turn in range(1, min(most, _MOST_TURNS) + 2):
        ways = [what_follows(check, turn, in_rework=one, names=names) for one in (False, True)]
        told.append([[set_verdict(way.word), say(way.words)] for way in ways])
    return told


def _with_numbers(job: Job) -> Callable[[str], str]:
    """Return what puts the printed number of a step in the place of its id."""

    def number_of(found: re.Match[str]) -> str:
        number = job.number.get(found[1])
        return f"step {number}" if number else found[0]

    return lambda words: re.sub(r"`([^`]*)`", number_of, words)


def torque_rules(joint: Joint, prints: Prints) -> Plain:
    """Return how what a joint was tightened to is judged; without a figure it is recorded."""
    asked = asked_of(joint)
    if asked is None:
        return {"limit": None, "unit": "", "isBand": False}
    return {
        "limit": band(asked),
        "unit": meant_unit(asked, prints),
        "isBand": asked.low != asked.high,
    }
