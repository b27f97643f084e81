"""Readings against limits: accept, out low, out high, or not to be told with this gauge."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.model.quantities import to_si

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount
    from sequencer.trade.basics import Number

Verdict: TypeAlias = Literal["accept", "out low", "out high", "cannot be told"]

# A gauge should show a tenth of the band (rule of ten, as quoted in secondary sources; one reading
# of the rule takes half the band). Above a quarter is no measurement: calibration ratio 4 to 1,
# ANSI/NCSL Z540.3 practice, from memory.
_FINE, _COARSE = Fraction(1, 10), Fraction(1, 4)

Coarseness: TypeAlias = Literal["fine", "coarse", "too coarse"]


@dataclass(frozen=True, slots=True)
class Limits:
    """What a value must lie in, both ends included, in any one unit; None is an open end."""

    low: Fraction | None
    high: Fraction | None

    @property
    def width(self) -> Fraction | None:
        """The width of the band; an upper limit alone counts from nothing."""
        if self.low is not None and self.high is not None:
            return self.high - self.low
        return abs(self.high) if self.high is not None else None

    @property
    def middle(self) -> Fraction | None:
        """The middle of a two-sided band."""
        if self.low is None or self.high is None:
            return None
        return (self.low + self.high) / 2

    def holds(self, value: Number) -> bool:
        """Tell whether the value is within, ends included."""
        above = self.low is None or value >= self.low
        return above and (self.high is None or value <= self.high)


def limits_of(amount: Amount) -> Limits:
    """Return a limit as typed in SI units, exactly (degrees and kelvin for angles and heat)."""
    ends = (amount.low, amount.high)
    low, high = (None if end is None else to_si(end, amount.unit) for end in ends)
    return Limits(low, high)


def resolution(amount: Amount) -> Fraction:
    """Return the step of the last digit typed, in SI units: what the reading can be told to.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> resolution(read_amount("25.03 mm", ("length",)))
    Fraction(1, 100000)
    """
    return amount.unit.factor * Fraction(1, 10**amount.places)


def judge(
    reading: Number, limits: Limits, spread: Number = 0, division: Number | None = None
) -> Verdict:
    """Return the verdict on a reading; all figures in one unit.

    Parameters
    ----------
    reading : Fraction or int
        What was read or reckoned.
    limits : Limits
        Ends included: a reading on the limit is accepted where nothing more is known.
    spread : Fraction or int
        The reading may be wrong by so much either way (the gauge's stated error, or the
        worst-case spread of a computed check). If that reaches across a limit, the verdict
        cannot be told.
    division : Fraction or int, optional
        The gauge's smallest step. A step wider than the whole band cannot tell either, unless the
        reading is out by more than a step.

    Examples
    --------
    >>> judge(Fraction("0.030"), Limits(Fraction("0.025"), Fraction("0.050")), Fraction("0.04"))
    'cannot be told'
    """
    doubt = Fraction(spread)
    width = limits.width
    if division is not None and width is not None and division > width:
        doubt = max(doubt, Fraction(division))
    if limits.low is not None and reading + doubt < limits.low:
        return "out low"
    if limits.high is not None and reading - doubt > limits.high:
        return "out high"
    if limits.holds(reading - doubt) and limits.holds(reading + doubt):
        return "accept"
    return "cannot be told"


def judge_typed(reading: Amount, limit: Amount) -> Verdict:
    """Return the verdict on a reading as typed.

    A reading typed as a figure with ± carries its spread; the decimals typed say how fine it
    was read.

    Raises
    ------
    ValueError
        If the reading measures another quantity than the limit, or is open at an end.
    """
    if reading.quantity != limit.quantity:
        raise ValueError(f"{reading.text!r} is not compared with {limit.text!r}")
    if reading.low is None or reading.high is None:
        raise ValueError(f"{reading.text!r} is not one figure")
    low, high = to_si(reading.low, reading.unit), to_si(reading.high, reading.unit)
    return judge((low + high) / 2, limits_of(limit), (high - low) / 2, resolution(reading))


def judge_go_no_go(*, go_enters: bool, no_go_enters: bool) -> Verdict:
    """Return the verdict on a hole of a plug with a go and a no-go end."""
    if not go_enters:
        return "out low"
    return "out high" if no_go_enters else "accept"


def coarseness(division: Number, limits: Limits) -> Coarseness | None:
    """Return whether a gauge's division is fine enough for a band; None if the band is open.

    Above a tenth of the band it is coarse, above a quarter too coarse. All in one unit.

    Examples
    --------
    >>> coarseness(Fraction("0.01"), Limits(Fraction("19.95"), Fraction("20.05")))
    'fine'
    """
    width = limits.width
    if width is None:
        return None
    if division > width * _COARSE:
        return "too coarse"
    return "coarse" if division > width * _FINE else "fine"


@dataclass(frozen=True, slots=True)
class Slip:
    """A reading that would be good but for one turn of the gauge, in metres."""

    turn_m: Fraction
    meant_m: Fraction
    words: str


# One turn of a micrometer's thimble, in metres: 0.025 in and 0.5 mm. Common practice, no source.
_TURNS = (
    (Fraction("0.025") * Fraction("0.0254"), "0.025 in, one turn of an inch thimble"),
    (Fraction("0.0005"), "0.5 mm, one turn of a metric thimble"),
)


def likely_slip(reading_m: Fraction, expected: Limits) -> Slip | None:
    """Return the turn of a thimble by which a length was misread, if that explains it.

    Parameters
    ----------
    reading_m : Fraction
        The reading in metres.
    expected : Limits
        Where the size can be at all, in metres (from worn out to new), two-sided.
    """
    if expected.holds(reading_m):
        return None
    for turn, words in _TURNS:
        for meant in (reading_m - turn, reading_m + turn):
            if expected.holds(meant):
                return Slip(turn, meant, f"off by exactly {words}: measure again")
    return None


def against_wear(reading: Number, new: Limits, wears: str, doubt: Number = 0) -> bool:
    """Tell whether a reading says that a worn part has grown, or a worn bore shrunk.

    Wear goes one way, so such a reading is a misreading whatever the limit says. All in one unit;
    `new` is the size when new, `wears` is ``smaller`` or ``larger`` (nothing where that is not
    known), `doubt` how far the reading may be wrong.
    """
    if wears == "smaller":
        return new.high is not None and reading - doubt > new.high
    return wears == "larger" and new.low is not None and reading + doubt < new.low
