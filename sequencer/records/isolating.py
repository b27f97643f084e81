"""What is signed for where energy is shut off, and as what a log holds such a signature."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

STAGES = ("locked", "proved dead", "restored")
"""What is signed for at each point, in turn."""


def isolation_role(number: int, tag: str, stage: str) -> str:
    """Return as what a stage of a point, numbered as listed, is signed for in a log.

    Examples
    --------
    >>> isolation_role(2, "C-2", "locked"), isolation_role(1, "", "restored")
    ('isolation 2 (C-2): locked', 'isolation 1: restored')
    """
    return f"isolation {number}{f' ({tag})' if tag else ''}: {stage}"


def isolation_roles(assembly: Assembly) -> frozenset[str]:
    """Return everything that can be signed for at the points of a model."""
    return frozenset(
        isolation_role(number, point.tag, stage)
        for number, point in enumerate(assembly.isolation, start=1)
        for stage in STAGES
    )
