"""Moments as they stand in a log, and as people read them."""

from __future__ import annotations

from datetime import datetime, timedelta


def moment_in(text: str, beside: datetime | None = None) -> datetime | None:
    """Return a moment as it stands in a log; None where it cannot be read.

    One without an offset is taken in that of another moment, if there is one.
    """
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    if moment.tzinfo is None:
        return moment.replace(tzinfo=beside.tzinfo) if beside is not None else None
    return moment


def clock_text(moment: datetime, now: datetime | None) -> str:
    """Return a moment as people read it, with its day where that is not today's.

    Examples
    --------
    >>> at = datetime.fromisoformat("2031-05-02T18:30:00+02:00")
    >>> clock_text(at, at), clock_text(at, None)
    ('18:30', '2031-05-02 18:30')
    """
    is_today = now is not None and moment.date() == now.astimezone(moment.tzinfo).date()
    return moment.strftime("%H:%M" if is_today else "%Y-%m-%d %H:%M")


def to_the_minute(moment: datetime) -> datetime:
    """Return a moment in whole minutes, upwards."""
    whole = moment.replace(second=0, microsecond=0)
    return whole if whole == moment else whole + timedelta(minutes=1)
