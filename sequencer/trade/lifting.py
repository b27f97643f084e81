"""Lifting by hand: the revised lifting equation of NIOSH Publication 94-110.

Metric and US constants are not exact conversions of each other, so a task is reckoned in one
system. Not for one hand, sitting or kneeling, unstable loads, carrying, or over eight hours.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal, TypeAlias

System: TypeAlias = Literal["metric", "US"]
Coupling: TypeAlias = Literal["good", "fair", "poor"]
Duration: TypeAlias = Literal["short", "moderate", "long"]

# The load constant: p 7 of the publication, as quoted in a secondary source.
LOAD_CONSTANT_KG = 23.0


@dataclass(frozen=True, slots=True)
class _Constants:
    """The constants of one system, lengths in cm or inches, load in kg or lb (pp 7 to 12)."""

    load: float
    near: float  # H below which the horizontal multiplier is 1, and its numerator
    far: float  # H above which nothing may be lifted
    knuckle: float  # V at which the vertical multiplier is 1
    vertical: float  # what it loses by each unit of height from there
    highest: float
    travel: float  # numerator of the distance multiplier
    shortest: float
    longest: float


_SYSTEMS: dict[System, _Constants] = {
    "metric": _Constants(LOAD_CONSTANT_KG, 25, 63, 75, 0.003, 175, 4.5, 25, 175),
    "US": _Constants(51, 10, 25, 30, 0.0075, 70, 1.8, 10, 70),
}
_DISTANCE_BASE = 0.82
_TWIST, _MOST_TWIST = 0.0032, 135.0

# Where the publication's tables of multipliers differ from their formulas, rounded: the
# horizontal one at 22 and 23 in, the distance one at 130 cm.
_TABLE_HORIZONTAL: dict[tuple[System, float], float] = {("US", 22): 0.46, ("US", 23): 0.44}
_TABLE_DISTANCE: dict[tuple[System, float], float] = {("metric", 130): 0.86}

# Lifts a minute, then the frequency multiplier for short, moderate and long duration, each below
# and from the height of 30 in (75 cm). Table 5, p 15, as quoted in a secondary source.
_FREQUENCY = """
0.2 1.0 1.0 0.95 0.95 0.85 0.85
0.5 0.97 0.97 0.92 0.92 0.81 0.81
1 0.94 0.94 0.88 0.88 0.75 0.75
2 0.91 0.91 0.84 0.84 0.65 0.65
3 0.88 0.88 0.79 0.79 0.55 0.55
4 0.84 0.84 0.72 0.72 0.45 0.45
5 0.8 0.8 0.6 0.6 0.35 0.35
6 0.75 0.75 0.5 0.5 0.27 0.27
7 0.7 0.7 0.42 0.42 0.22 0.22
8 0.6 0.6 0.35 0.35 0.18 0.18
9 0.52 0.52 0.3 0.3 0 0.15
10 0.45 0.45 0.26 0.26 0 0.13
11 0.41 0.41 0 0.23 0 0
12 0.37 0.37 0 0.21 0 0
13 0 0.34 0 0 0 0
14 0 0.31 0 0 0 0
15 0 0.28 0 0 0 0
"""
_FREQUENCY_ROWS = tuple(
    tuple(float(figure) for figure in line.split()) for line in _FREQUENCY.split("\n")[1:-1]
)
_COLUMNS: dict[Duration, int] = {"short": 1, "moderate": 3, "long": 5}

# Coupling multiplier below and from the same height. Table 7, p 18, as quoted likewise.
_COUPLING: dict[Coupling, tuple[float, float]] = {
    "good": (1.0, 1.0),
    "fair": (0.95, 1.0),
    "poor": (0.90, 0.90),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """A lifting task in one system: lengths in cm or inches.

    `reach` is H, `height` V, `travel` D, `twist_deg` A of the publication. What is not known is
    taken as favourable, so that a figure never warns of more than was said.
    """

    system: System = "metric"
    reach: float = 0.0
    height: float | None = None
    travel: float = 0.0
    twist_deg: float = 0.0
    per_minute: float = 0.0
    duration: Duration = "short"
    coupling: Coupling = "good"


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The six multipliers of the equation, each from 0 to 1."""

    horizontal: float
    vertical: float
    distance: float
    asymmetric: float
    frequency: float
    coupling: float


def multipliers(lift: Lift, *, two_decimals: bool = False) -> Multipliers:
    """Return the multipliers of a task, in full or as the publication's tables print them.

    Raises
    ------
    ValueError
        If a figure is negative.
    """
    if min(lift.reach, lift.travel, lift.twist_deg, lift.per_minute, lift.height or 0) < 0:
        raise ValueError("reach, height, travel, twist and frequency are not negative")
    known = _SYSTEMS[lift.system]
    height = known.knuckle if lift.height is None else lift.height
    raw = Multipliers(
        _horizontal(lift.reach, known),
        0.0 if height > known.highest else 1 - known.vertical * abs(height - known.knuckle),
        _distance(lift.travel, known),
        0.0 if lift.twist_deg > _MOST_TWIST else 1 - _TWIST * lift.twist_deg,
        frequency_multiplier(lift.per_minute, lift.duration, low=height < known.knuckle),
        _COUPLING[lift.coupling][height >= known.knuckle],
    )
    return _as_printed(raw, lift) if two_decimals else raw


def _horizontal(reach: float, known: _Constants) -> float:
    return 0.0 if reach > known.far else known.near / max(reach, known.near)


def _distance(travel: float, known: _Constants) -> float:
    if travel > known.longest:
        return 0.0
    return _DISTANCE_BASE + known.travel / max(travel, known.shortest)


def _as_printed(raw: Multipliers, lift: Lift) -> Multipliers:
    return Multipliers(
        _TABLE_HORIZONTAL.get((lift.system, lift.reach), _half_up(raw.horizontal)),
        _half_up(raw.vertical),
        _TABLE_DISTANCE.get((lift.system, lift.travel), _half_up(raw.distance)),
        _half_up(raw.asymmetric),
        _half_up(raw.frequency),
        raw.coupling,
    )


def _half_up(value: float) -> float:
    """Round to two decimals, half up, as the tables show."""
    tidy = Decimal(repr(round(value, 9)))
    return float(tidy.quantize(Decimal("0.01"), ROUND_HALF_UP))


def frequency_multiplier(per_minute: float, duration: Duration, *, low: bool) -> float:
    """Return the frequency multiplier, straight between the rows of table 5.

    Parameters
    ----------
    per_minute : float
        Lifts a minute; below 0.2 counts as 0.2, above 15 gives nothing.
    duration : str
        ``short`` up to 1 h, ``moderate`` up to 2 h, ``long`` up to 8 h.
    low : bool
        Whether the hands are below 30 in (75 cm).
    """
    column = _COLUMNS[duration] + (not low)
    rate = max(per_minute, _FREQUENCY_ROWS[0][0])
    if rate > _FREQUENCY_ROWS[-1][0]:
        return 0.0
    after = next(index for index, row in enumerate(_FREQUENCY_ROWS) if row[0] >= rate)
    row = _FREQUENCY_ROWS[after]
    if row[0] == rate:
        return row[column]
    before = _FREQUENCY_ROWS[after - 1]
    share = (rate - before[0]) / (row[0] - before[0])
    return before[column] + share * (row[column] - before[column])


def recommended_limit(lift: Lift, *, two_decimals: bool = False) -> float:
    """Return the recommended weight limit LC·HM·VM·DM·AM·FM·CM, in kg or lb.

    With `two_decimals` the multipliers are as the publication's worksheets use them; it then
    prints the limit to one decimal.

    Raises
    ------
    ValueError
        As for `multipliers`.

    Examples
    --------
    >>> task = Lift(reach=25, height=55, travel=95, per_minute=3, coupling="fair")
    >>> round(recommended_limit(task, two_decimals=True), 1)
    15.7
    """
    found = multipliers(lift, two_decimals=two_decimals)
    return (
        _SYSTEMS[lift.system].load
        * found.horizontal
        * found.vertical
        * found.distance
        * found.asymmetric
        * found.frequency
        * found.coupling
    )


def averaged_frequency(per_minute: float, working_minutes: float) -> float:
    """Return the lifts a minute to use for a task that does not fill its quarter of an hour.

    Ten lifts a minute for 8 of 15 minutes are 5.33 a minute (p 16 of the publication).
    """
    return per_minute * working_minutes / 15


def one_may_lift(mass_kg: float) -> bool:
    """Tell whether a load is within what one person should lift, at the best of times.

    The model knows neither reach nor height, so that the limit is the load constant itself. It is
    meant for two hands: above it the caution asks for a second person or a hoist.
    """
    return mass_kg <= LOAD_CONSTANT_KG
