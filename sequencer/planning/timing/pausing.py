"""What runs on while a part is awaited: beads that skin over, and times that pass."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from sequencer.planning.results import Times, Window


def paused(times: Times, now: Collection[str], part: str) -> Iterator[Problem]:
    """Yield a finding for each window that would run on while a part is awaited.

    Parameters
    ----------
    times : Times
        Of the whole order.
    now : collection of str
        The steps that are done before the part comes.
    part : str
        The part, which may be days away.

    Yields
    ------
    Problem
        Code `open-too-long` for a compound, else `too-late`; a warning.
    """
    for window in times.windows:
        if window.since in now and window.until not in now:
            yield _open(window, part) if window.compound else _late(window, part)


def _open(window: Window, part: str) -> Problem:
    since, until, compound = f"`{window.since}`", f"`{window.until}`", f"`{window.compound}`"
    return Problem(
        "open-too-long",
        "warning",
        f"{since} puts {compound} on, which stays open for {window.text}, and {until} closes it "
        f"only when `{part}` has come",
        step=window.since,
        path=window.path,
        facts=(
            Fact(f"{since} puts {compound} on", window.path),
            Fact(
                f"{compound} stays open for {window.text}", ("compounds", window.compound, "open")
            ),
            Fact(f"{until} closes it", ("steps", window.until, "closes")),
        ),
        why="by then it has a skin: all of it must be cleaned off and put on afresh",
        fix=f"leave {since} until `{part}` is there",
    )


def _late(window: Window, part: str) -> Problem:
    since, until = f"`{window.since}`", f"`{window.until}`"
    return Problem(
        "too-late",
        "warning",
        f"{until} is to begin within {window.text} of {since}, and can begin only when `{part}` "
        "has come",
        step=window.until,
        path=window.path,
        facts=(Fact(f"{until} begins within {window.text} of {since}", window.path, window.why),),
        why=f"what {since} has done does not last, and has to be done afresh",
        fix=f"leave {since} until `{part}` is there",
    )
