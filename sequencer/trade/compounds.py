"""How long a compound takes: a figure, or a table by temperature that is never guessed beyond."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, TypeAlias

from sequencer.trade.basics import Unknown

if TYPE_CHECKING:
    from collections.abc import Mapping

TooHot: TypeAlias = Literal["too hot"]


@dataclass(frozen=True, slots=True)
class Cure:
    """A time in seconds, and the temperature in °C of the row it is from (None: one figure)."""

    seconds: float
    row_c: float | None = None


def cure_time(
    table: float | Mapping[float, float], at_c: float | None, hottest_c: float | None = None
) -> Cure | Unknown | TooHot:
    """Return how long a compound takes at a temperature.

    Between two rows the colder one's time holds, which is the longer. Below the coldest row, and
    above the hottest unless a highest temperature says that it is allowed, nobody knows: ask the
    maker. Compounds differ, so all figures come from the model with their source.

    Parameters
    ----------
    table : float or mapping of float to float
        Seconds; or seconds by temperature in °C, the longest time where a range is given.
    at_c : float, optional
        The temperature it cures at, in °C; None if not known.
    hottest_c : float, optional
        The highest temperature the compound bears, in °C.

    Returns
    -------
    Cure, Unknown or ``"too hot"``
        The time; or the words why there is none; or a refusal.

    Examples
    --------
    >>> hours = {24.0: 36 * 3600.0, 38.0: 3 * 3600.0}
    >>> cure_time(hours, 30.0, 49.0).seconds / 3600, cure_time(hours, 52.0, 49.0)
    (36.0, 'too hot')
    """
    if at_c is not None and hottest_c is not None and at_c > hottest_c:
        return "too hot"
    if isinstance(table, (int, float)):
        return Cure(float(table))
    if at_c is None:
        return Unknown("the cure time depends on the temperature, and none is given")
    row = max((row for row in table if row <= at_c), default=None)
    if row is None or (at_c > max(table) and hottest_c is None):
        return Unknown(f"no cure time is given for {at_c:g} °C: ask the maker")
    return Cure(table[row], row)
