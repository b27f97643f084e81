"""What typed readings say of a check: its results, the verdict, and what follows by the model."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.numerals import AmountError, plain_text
from sequencer.trade.basics import TradeError
from sequencer.trade.follows import NAMES, Follows, what_follows
from sequencer.trade.measuring import (
    Limits,
    against_wear,
    judge,
    judge_go_no_go,
    likely_slip,
    limits_of,
)
from sequencer.trade.reckoned import reckoned
from sequencer.trade.spelt import spelt
from sequencer.trade.typed_readings import figures_typed, yes_or_no

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from fractions import Fraction

    from sequencer.model.checking import Check
    from sequencer.model.fastening import Tool
    from sequencer.trade.follows import Word
    from sequencer.trade.measuring import Verdict
    from sequencer.trade.reckoned import Figure

Finding: TypeAlias = "Verdict | Literal['recorded', 'misread']"
"""What one figure says: beside a verdict that it has no limit, or that it looks misread."""

_NO_TOOLS: Mapping[str, Tool] = MappingProxyType({})
_GOOD = frozenset(("good", "right", "ok", "yes", "accept", "x"))
_BAD = frozenset(("bad", "wrong", "not ok", "no"))

# A slip of one turn is looked for where the size is over so many turns, and a turn is over so many
# times what the size may vary: else an honest reading could be taken for one.
_MANY_TURNS, _MANY_BANDS = 2, 4


@dataclass(frozen=True, slots=True)
class Judged:
    """One figure of a check: its name (none for the only one), what it is, and what it says.

    `figure` is in the unit of its limit, with its worst-case spread where the readings carry one;
    `words` say what was found; `in_rework` whether it lies where rework is still allowed, None
    where the model says nothing of that.
    """

    name: str
    figure: str
    says: Finding
    words: str
    in_rework: bool | None = None


@dataclass(frozen=True, slots=True)
class Judgement:
    """The verdict on a check: what follows by the model, why, and each figure."""

    follows: Follows
    why: str
    results: tuple[Judged, ...] = ()

    @property
    def word(self) -> Word:
        """The verdict in a word or two, as it is printed and kept."""
        return self.follows.word


def judge_check(
    check: Check,
    typed: Mapping[str, str],
    tools: Mapping[str, Tool] = _NO_TOOLS,
    *,
    turn: int = 1,
    names: Mapping[str, str] = NAMES,
) -> Judgement:
    """Return the verdict on a check from what was typed at one place.

    Parameters
    ----------
    check : Check
        The check. Where it is taken at several places (`each`), each is judged by itself, and
        `worst` gives the verdict on them all.
    typed : mapping of str to str
        What was typed: for each reading under its name, for a single figure or an observation
        under ``""``, for a gauge that goes or does not under ``"go"`` and ``"no_go"``.
    tools : mapping of str to Tool
        The tools of the model by id, for the divisions of gauges.
    turn : int
        How many times the check has been taken by now, for what follows.
    names : mapping of str to str
        What parts are called.

    Examples
    --------
    >>> from sequencer.model.checking import Check
    >>> from sequencer.model.common import Limit
    >>> from sequencer.model.quantities import read_amount
    >>> limit = Limit(value=read_amount("15 to 30 in-lb", ("torque",)))
    >>> found = judge_check(Check(id="drag", measure="Turning torque", limit=limit), {"": "34"})
    >>> found.word, found.why
    ('out of limit', '34 in·lbf is above the limit (15 to 30 in-lb)')
    """
    try:
        results = tuple(_judged(check, typed, tools))
    except (AmountError, TradeError) as error:
        return Judgement(Follows("cannot be told", error.fix), error.what)
    return _verdict(check, results, turn, names)


def _judged(check: Check, typed: Mapping[str, str], tools: Mapping[str, Tool]) -> Iterator[Judged]:
    if check.limit is None and not check.readings:
        yield _go_or_not(check, typed) if check.go or check.no_go else _observed(check, typed)
        return
    for figure in reckoned(check, figures_typed(check, typed, tools)):
        yield _said(check, figure)


def _go_or_not(check: Check, typed: Mapping[str, str]) -> Judged:
    goes = not check.go or yes_or_no(typed.get("go", ""), check.go)
    too_far = bool(check.no_go) and yes_or_no(typed.get("no_go", ""), check.no_go)
    says = judge_go_no_go(go_enters=goes, no_go_enters=too_far)
    words = {
        "accept": " and ".join(
            f"{gauge} {does}" for gauge, does in
            ((check.go, "goes in"), (check.no_go, "does not go in")) if gauge
        ),
        "out low": f"{check.go} does not go in",
        "out high": f"{check.no_go} goes in",
    }  # fmt: skip
    return Judged("", "", says, words[says])


def _observed(check: Check, typed: Mapping[str, str]) -> Judged:
    text = typed.get("", "")
    word = plain_text(text).strip().casefold()
    if word in _GOOD or (check.good and word == plain_text(check.good).casefold()):
        return Judged("", text.strip(), "accept", check.good or "good")
    if word in _BAD or (check.bad and word == plain_text(check.bad).casefold()):
        return Judged("", text.strip(), "out low", check.bad or "not as it should be")
    if word and not (check.good or check.bad):
        return Judged("", text.strip(), "recorded", "the model does not say what is good")
    what = "the finding is not there yet"
    if word:
        what = f"`{text.strip()}` is neither the good nor the bad finding"
    fix = f"write `good` ({check.good or 'as it should be'}) or `bad` ({check.bad or 'not so'})"
    raise AmountError(what, fix)


def _said(check: Check, figure: Figure) -> Judged:
    limit = figure.limit
    if limit is None:
        return Judged(figure.name, figure.text, "recorded", "the model gives it no limit")
    band, asked = limits_of(limit), limit.text.strip()
    says = judge(figure.value, band, figure.spread, figure.step)
    shown = f"`{figure.name}`, {figure.text}," if figure.name else figure.text
    if says == "accept":
        return Judged(figure.name, figure.text, says, f"{shown} is within {asked}")
    if says == "cannot be told":
        return Judged(figure.name, figure.text, says, _doubt(figure, band, shown))
    if figure.is_read and against_wear(figure.value, band, check.wears, figure.spread):
        words = f"{shown} is {_side(says)} the limit ({asked}), and wear makes it {check.wears}"
        return Judged(figure.name, figure.text, "misread", words)
    sizes = _sizes(check, band)
    slip = likely_slip(figure.value, sizes) if figure.is_read else None
    if slip is not None and _is_plain(slip.turn_m, sizes):
        return Judged(figure.name, figure.text, "misread", f"{shown} is {slip.words}")
    words = f"{shown} is {_side(says)} the limit ({asked})"
    return Judged(figure.name, figure.text, says, words, _in_rework(check, figure))


def _side(says: Verdict) -> str:
    return "below" if says == "out low" else "above"


def _in_rework(check: Check, figure: Figure) -> bool | None:
    again = check.rework.limit if check.rework is not None else None
    if again is None or figure.limit is None or again.value.quantity != figure.limit.quantity:
        return None
    band = limits_of(again.value)
    return judge(figure.value, band, figure.spread, figure.step) == "accept"


def _doubt(figure: Figure, band: Limits, shown: str) -> str:
    limit = figure.limit
    unit = limit.unit if limit is not None else figure.unit
    asked = limit.text.strip() if limit is not None else ""
    if band.width is not None and figure.step > band.width:
        told = spelt(figure.step / unit.factor, unit)
        return f"{shown} is told only to {told}, and the limit ({asked}) is narrower than that"
    return f"{shown} may lie on either side of the limit ({asked})"


def _sizes(check: Check, band: Limits) -> Limits:
    """Return where the size can be at all: within the limit, or where rework is allowed."""
    again = check.rework.limit if check.rework is not None else None
    bands = [band, limits_of(again.value)] if again is not None else [band]
    lows = [one.low for one in bands if one.low is not None]
    highs = [one.high for one in bands if one.high is not None]
    return Limits(min(lows, default=None), max(highs, default=None))


def _is_plain(turn_m: Fraction, sizes: Limits) -> bool:
    low, width = sizes.low, sizes.width
    if low is None or width is None:
        return False
    return low > _MANY_TURNS * turn_m and width * _MANY_BANDS < turn_m


def _verdict(
    check: Check, results: tuple[Judged, ...], turn: int, names: Mapping[str, str]
) -> Judgement:
    def of(*kinds: str) -> list[Judged]:
        return [one for one in results if one.says in kinds]

    def why(some: list[Judged]) -> str:
        return "; ".join(one.words for one in some)

    if misread := of("misread"):
        words = "measure again, and compare the gauge with a setting piece"
        return Judgement(Follows("measure again", words), why(misread), results)
    if out := of("out low", "out high"):
        again = all(one.in_rework for one in out)
        follows = what_follows(check, turn, in_rework=again, names=names)
        return Judgement(follows, why(out), results)
    if unsure := of("cannot be told"):
        words = "take a finer gauge, or read it finer and type every decimal"
        return Judgement(Follows("cannot be told", words), why(unsure), results)
    if good := of("accept"):
        return Judgement(Follows("accept"), why(good), results)
    return Judgement(Follows("recorded"), why(list(results)), results)
