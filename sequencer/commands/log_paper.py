"""Which paper an entry was typed from: its fingerprint, and what is wrong about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Problem

if TYPE_CHECKING:
    from sequencer.records.state import State

NO_PAPER = "none"
"""What stands in an entry for the paper where there is none."""

PAPER = "the paper"
TABLET = "the page on the tablet"
_FIXES = {
    PAPER: "look at the foot of the page again, or print the packet of this model",
    TABLET: "make the page of this model: `sequencer packet --html`; go on there",
}


def spelt(fingerprint: str) -> str:
    """Return a fingerprint as it is printed, however its dot was typed.

    Examples
    --------
    >>> spelt("7F3A.c91e"), spelt("7f3ac91e"), spelt("none")
    ('7f3a·c91e', '7f3a·c91e', 'none')
    """
    digits = "".join(letter for letter in fingerprint.casefold() if letter in "0123456789abcdef")
    if len(digits) == 8 and fingerprint.casefold() != NO_PAPER:  # noqa: PLR2004  # two times four
        return f"{digits[:4]}·{digits[4:]}"
    return fingerprint.strip()


def knows_sheet(state: State) -> bool:
    """Tell whether the paper in use was named since its model came into use."""
    since = 0
    for entry in state.entries:
        if entry.what is state.model:
            since = entry.number
    right = (state.model.fingerprint, NO_PAPER)
    return any(one.number > since and one.sheet in right for one in state.entries)


def wrong_sheet(state: State, sheet: str, what: str = PAPER) -> Problem:
    """Tell that what was worked from is of another model than the log follows."""
    earlier = next((e for e in state.entries if getattr(e.what, "fingerprint", "") == sheet), None)
    if earlier is not None:
        issue = getattr(earlier.what, "issue", "")
        which = f", which is issue {issue}, replaced since by issue {state.model.issue}"
    else:
        which = f", and this log follows model {state.model.fingerprint}, issue {state.model.issue}"
    return Problem(
        "wrong-sheet",
        "warning",
        f"{what} is of model {sheet}{which}",
        why="its steps may be numbered otherwise, and its figures may differ",
        fix=_FIXES[what],
    )


def no_sheet(state: State) -> Problem:
    """Tell that nobody said which paper it is."""
    return Problem(
        "no-sheet",
        "warning",
        "nothing says which paper this was ticked on",
        why="the paper may be of another issue, with other numbers and figures",
        fix=f"give --sheet {state.model.fingerprint}, as it stands at the foot of the page, "
        "or --sheet none where there is no paper",
    )
