"""Why a packet may not be worked from yet: with any reason, every page says DRAFT."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.choosing import choice_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.fastening import Torque
    from sequencer.problem import Problem

_NOT_CHOSEN = "not-chosen"


def why_draft(
    assembly: Assembly, findings: Sequence[Problem] = (), told: Sequence[str] = ()
) -> tuple[str, ...]:
    """Return why a packet is a draft; nothing if it is none.

    Parameters
    ----------
    assembly : Assembly
        The model; a torque that nobody has chosen makes a draft, whether it was found or not.
    findings : sequence of Problem
        Errors among them make a draft, and torques not chosen.
    told : sequence of str
        Reasons of the caller's.
    """
    left = [one for one in findings if one.severity == "error" or one.code == _NOT_CHOSEN]
    reasons = (*told, *(one.message for one in left))
    if all(one.code != _NOT_CHOSEN for one in left):
        reasons += tuple(_unchosen(assembly))
    return tuple(dict.fromkeys(reasons))


def _unchosen(assembly: Assembly) -> Iterator[str]:
    torques: list[tuple[str, Torque | None]] = [
        (f"joint `{joint.id}`", joint.torque) for joint in assembly.joints
    ]
    torques += [(f"step `{step.id}`", step.torque) for step in assembly.steps]
    for what, torque in torques:
        if torque is not None and choice_of(torque, assembly.defaults.source).taken is None:
            yield f"{what}: the sources give different torques, and none is chosen"
