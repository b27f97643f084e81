"""The time of day, as it is typed and as it stands in a log."""

from __future__ import annotations

from datetime import UTC, datetime


def now() -> datetime:
    """Return the time of day, with the offset of this place."""
    return datetime.now(UTC).astimezone()


def stamp(moment: datetime) -> str:
    """Return a moment as it stands in the log."""
    return moment.isoformat(timespec="seconds")


def moment_of(text: str, today: datetime) -> datetime:
    """Return the moment that a person means by ``14:05`` or ``2031-05-02 14:05``.

    Raises
    ------
    ValueError
        If it is neither.
    """
    text = text.strip()
    if len(text) <= len("14:05:09"):
        text = f"{today.date().isoformat()} {text if text[1:2] != ':' else f'0{text}'}"
    moment = datetime.fromisoformat(text)
    return moment if moment.tzinfo else moment.replace(tzinfo=today.tzinfo)
