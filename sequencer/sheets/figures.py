"""How a figure is printed: as typed, in the units asked for, and the band that a tolerance means.

What was typed always stands somewhere word for word. A converted range, tolerance or one-sided
limit is rounded inwards, so that no rounding ever allows what the source does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.model.units import UNITS, Unit, unit_for

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Prints
    from sequencer.model.fastening import TorqueValue
    from sequencer.model.quantities import Amount

SIGNIFICANT = 3
"""How many digits of a converted figure are shown where what was typed does not need more."""

_KEPT = Fraction(9, 10)  # how much of a band must be left after its ends are rounded inwards
_SI_TORQUES = frozenset(("N·m", "N·mm", "N·cm", "daN·m", "kN·m"))
_SI_LENGTHS = frozenset(("m", "cm", "mm", "µm"))
_SECOND = {"torque": ("N·m", "ft·lbf", _SI_TORQUES), "length": ("mm", "in", _SI_LENGTHS)}


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure, ready to print.

    `large` is the one to work to; `small` says the same in other units; `given` is the text as
    typed, where `large` is not that; `band` is what a tolerance comes to, in the typed unit.
    """

    large: str
    small: tuple[str, ...] = ()
    given: str = ""
    band: str = ""

    @property
    def further(self) -> tuple[str, ...]:
        """All that stands beside the large figure, each a line or a phrase of its own."""
        band = (f"= {self.band}",) if self.band else ()
        given = (f"{self.given} as given",) if self.given else ()
        return (*band, *self.small, *given)


def figure(amount: Amount, prints: Prints) -> Figure:
    """Return a figure as it is printed: as typed, unless the model asks for another unit first."""
    return _figure(amount, amount.text.strip(), prints, "")


def torque_figure(value: TorqueValue, prints: Prints) -> Figure:
    """Return a torque as it is printed; an angle that follows it stands behind each figure."""
    typed = value.text.strip()
    if value.amount is None:
        return Figure(typed)
    turn = f" then {_typed_or_number(value.angle)}" if value.angle is not None else ""
    return _figure(value.amount, typed, prints, turn)


def in_words(amount: Amount, prints: Prints) -> str:
    """Return a figure on one line, such as ``40 mm (1.57 in)``."""
    shown = figure(amount, prints)
    return f"{shown.large} ({'; '.join(shown.further)})" if shown.further else shown.large


def _figure(amount: Amount, typed: str, prints: Prints, turn: str) -> Figure:
    first, *others = printed_units(amount.unit, prints)
    if first is amount.unit:
        large, given = typed, ""
    else:
        large, given = convert(amount, first) + turn, typed
    small = tuple(convert(amount, other) + turn for other in others if other is not amount.unit)
    return Figure(large, small, given, band(amount))


def _typed_or_number(angle: Amount) -> str:
    text = angle.text.strip()
    exact = angle.nominal if angle.nominal is not None else angle.value
    return text or f"{_number(exact, angle.places)}{angle.unit.symbol}"


def printed_units(typed: Unit, prints: Prints) -> tuple[Unit, ...]:
    """Return the units that a figure typed in one unit is printed in, the large one first.

    Where the model says nothing, the typed unit comes first, and torques and lengths are said
    a second time in the other of the metric and the inch system. Any other quantity is printed
    as typed.
    """
    wanted = {"torque": prints.torque, "length": prints.length}.get(typed.quantity, ())
    known = UNITS[typed.quantity]
    units = tuple(dict.fromkeys(known[name] for name in wanted if name in known))
    if units:
        return units
    if typed.quantity not in _SECOND:
        return (typed,)
    metric, inch, metric_units = _SECOND[typed.quantity]
    return (typed, unit_for(inch if typed.symbol in metric_units else metric))


def convert(amount: Amount, unit: Unit) -> str:
    """Return an amount in another unit, rounded sensibly and never out of its band.

    About `SIGNIFICANT` digits are shown, more where the typed decimals tell of a finer
    resolution: the step of the last digit is at most two typed steps. The low end of a band is
    rounded up and the high end down, with digits added until nine tenths of the band are left.
    A band without width is one figure, and rounded as such: to the nearest.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> from sequencer.model.units import unit_for
    >>> convert(read_amount("55 to 60 N·m", ("torque",)), unit_for("ft·lbf"))
    '40.6 to 44.2 ft·lbf'
    >>> convert(read_amount("150 N·m ± 5 %", ("torque",)), unit_for("ft·lbf"))
    '111 ft·lbf, 106 to 116'
    >>> convert(read_amount("at most 0.05 mm", ("length",)), unit_for("in"))
    'at most 0.00196 in'
    """
    low, high, nominal = (
        None if end is None else converted(end, amount.unit, unit)
        for end in (amount.low, amount.high, amount.nominal)
    )
    ratio = amount.unit.factor / unit.factor
    needed = _decimals_for(_resolution(amount) * ratio)
    if low is None and high is not None:
        return _join("at most", _ends(None, high, needed)[1], unit)
    if high is None and low is not None:
        return _join("at least", _ends(low, None, needed)[0], unit)
    if low is None or high is None or low == high:
        only = nominal if nominal is not None else low
        return _join("", _nearest(Fraction(0) if only is None else only, needed), unit)
    ends = " to ".join(_ends(low, high, needed))
    if nominal is None:
        return _join("", ends, unit)
    return f"{_join('', _within(nominal, low, high, needed), unit)}, {ends}"


def band(amount: Amount) -> str:
    """Return what a tolerance comes to in the typed unit; nothing for any other figure.

    Examples
    --------
    >>> from sequencer.model.quantities import read_amount
    >>> band(read_amount("150 N·m ± 5 %", ("torque",)))
    '142.5 to 157.5 N·m'
    """
    low, high = amount.low, amount.high
    if amount.nominal is None or low is None or high is None or low == high:
        return ""
    exact = next((d for d in range(amount.places + 3) if _is_exact((low, high), d)), None)
    if exact is not None:
        ends = (_number(low, exact), _number(high, exact))
    else:
        ends = _ends(low, high, _decimals_for(_resolution(amount)))
    return _join("", " to ".join(ends), amount.unit)


def _join(before: str, number: str, unit: Unit) -> str:
    after = unit.symbol if unit.symbol in {"", "°"} else f" {unit.symbol}"
    return f"{before} {number}{after}".lstrip()


def _resolution(amount: Amount) -> Fraction:
    """Return the smallest step that the typed text tells apart: its last decimal or fraction."""
    step = Fraction(1, 10**amount.places)
    typed = (amount.low, amount.high) if amount.nominal is None else (amount.nominal,)
    for end in typed:
        if end is not None and not _is_exact((end,), amount.places):
            step = min(step, Fraction(1, end.denominator))
    return step


def _decimals_for(resolution: Fraction) -> int:
    """Return the fewest decimals whose step is at most two steps of the resolution."""
    decimals = 0
    while Fraction(1, 10**decimals) > 2 * resolution:
        decimals += 1
    return decimals


def _significant(values: Sequence[Fraction]) -> int:
    """Return the decimals that show the largest of the values to `SIGNIFICANT` digits."""
    largest = max(map(abs, values))
    if largest == 0:
        return 0
    exponent = len(str(largest.numerator)) - len(str(largest.denominator))
    if largest < Fraction(10) ** exponent:
        exponent -= 1
    return max(SIGNIFICANT - 1 - exponent, 0)


def _is_exact(values: Sequence[Fraction], decimals: int) -> bool:
    return all((value * 10**decimals).denominator == 1 for value in values)


def _decimals(values: Sequence[Fraction], needed: int) -> int:
    """Return how many decimals to show: as many as make the values exact, if that takes few."""
    most = max(needed, _significant(values))
    return next((d for d in range(needed, most + 2) if _is_exact(values, d)), most)


def _nearest(value: Fraction, needed: int) -> str:
    decimals = _decimals((value,), needed)
    return _number(Fraction(_rounded(value * 10**decimals), 10**decimals), decimals)


def _rounded(value: Fraction) -> int:
    """Round to the nearest whole number, a half upwards."""
    return floor(value + Fraction(1, 2))


def _within(nominal: Fraction, low: Fraction, high: Fraction, needed: int) -> str:
    """Return the figure aimed at, rounded to the nearest that still lies in the band."""
    decimals = _decimals((nominal,), needed)
    while True:
        scale = 10**decimals
        for rounded in (_rounded(nominal * scale), ceil(nominal * scale), floor(nominal * scale)):
            if low * scale <= rounded <= high * scale:
                return _number(Fraction(rounded, scale), decimals)
        decimals += 1


def _ends(low: Fraction | None, high: Fraction | None, needed: int) -> tuple[str, str]:
    """Return both ends rounded inwards, with as many decimals as leave most of the band."""
    decimals = _decimals([end for end in (low, high) if end is not None], needed)
    while True:
        scale = 10**decimals
        up = None if low is None else Fraction(ceil(low * scale), scale)
        down = None if high is None else Fraction(floor(high * scale), scale)
        if low is None or high is None or up is None or down is None:
            break
        if down - up >= _KEPT * (high - low):
            break
        decimals += 1
    return (
        "" if up is None else _number(up, decimals),
        "" if down is None else _number(down, decimals),
    )


def _number(value: Fraction, decimals: int) -> str:
    """Write a number that is exact to so many decimals."""
    digits = str(abs(round(value * 10**decimals))).rjust(decimals + 1, "0")
    whole, rest = digits[: len(digits) - decimals], digits[len(digits) - decimals :]
    sign = "−" if value < 0 else ""
    return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"
